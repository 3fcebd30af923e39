package bot

import (
	"strings"
	"testing"
	"time"
)

// Every student is in the picture of a roster, with or without a brief, in the
// order of the lines.
func TestRosterPictureHasEverybody(t *testing.T) {
	d := newDesktop(t)
	pupils := []string{"missed", "running", "unasked"}
	for _, who := range pupils {
		d.bind(who, coach)
		if err := d.db.SetName(t.Context(), "saltmarsh", who, who); err != nil {
			t.Fatal(err)
		}
	}
	d.ask(coach, "brief", "student", "missed", "text", "face within 1, 10 balls by 3 June")
	d.ask(coach, "brief", "student", "running", "text", "face within 1, 40 balls by 30 June")
	d.now = d.now.Add(time.Hour)
	for _, who := range pupils {
		d.session(who, 10, 5)
	}
	d.days(7)
	lines, err := d.records.Roster(t.Context(), "saltmarsh", coach)
	if err != nil {
		t.Fatal(err)
	}
	in, drawn := rosterBars(lines)
	var got []string
	for _, r := range in.Rows {
		got = append(got, r.Name+": "+r.Says)
	}
	want := "missed: 0 of 10, missed; running: 0 of 10 so far; unasked: no brief"
	if s := strings.Join(got, "; "); s != want || drawn != 2 || !in.Share {
		t.Errorf("%s; %d drawn, share %v; want %s", s, drawn, in.Share, want)
	}
	reply := d.ask(coach, "roster")
	if reply.Picture == nil || !strings.Contains(reply.Picture.Alt, "unasked no brief") {
		t.Errorf("the picture says %+v", reply.Picture)
	}
}
