package bot

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

const tenBalls = `Club,Carry (yd),Lateral (yd),Face to Path (deg),Club Path (deg)
7i,150.1,3.0 R,1.2 R,0.4 L
7i,143.2,8.0 R,2.5 R,0.2 R
7i,147.9,1.5 L,0.6 L,0.8 R
7i,152.4,5.2 R,1.9 R,0.3 L
7i,139.5,9.9 R,3.1 R,0.1 R
7i,146.6,2.4 R,1.0 R,0.6 L
7i,148.8,4.4 L,1.4 L,0.5 R
7i,151.0,6.1 R,2.2 R,0.7 L
7i,144.7,7.3 R,2.8 R,0.9 R
7i,145.3,0.8 R,0.3 R,0.2 L
`

// The same ten balls are one session in whatever dress, and ten balls of a
// brief; with one ball hit anew they are another.
func TestSameBallsInAnotherFile(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(tenBalls), "\n")
	turned := []string{lines[0]}
	for i := len(lines) - 1; i > 0; i-- {
		turned = append(turned, lines[i])
	}
	metres := strings.NewReplacer("(yd)", "(m)",
		"150.1,3.0", "137.3,2.7", "143.2,8.0", "130.9,7.3", "147.9,1.5", "135.2,1.4", "152.4,5.2", "139.4,4.8", "139.5,9.9", "127.6,9.1",
		"146.6,2.4", "134.1,2.2", "148.8,4.4", "136.1,4.0", "151.0,6.1", "138.1,5.6", "144.7,7.3", "132.3,6.7", "145.3,0.8", "132.9,0.7").Replace(tenBalls)
	d := newClocked(t)
	d.bind(student, coach)
	d.ask(coach, "brief", "student", student, "text", "face to path within 2, 7-iron, 40 balls")
	d.at("2026-06-10 12:00")
	first := d.hand(student, tenBalls)
	for name, file := range map[string]string{
		"a blank line more": tenBalls + "\n", "blank lines between": strings.ReplaceAll(tenBalls, "\n7i,151", "\n\n7i,151"), "turned round": strings.Join(turned, "\n"),
		"in metres": metres, "more decimals": strings.ReplaceAll(tenBalls, " R", "00 R"), "semicolons": strings.ReplaceAll(tenBalls, ",", ";"),
		"another name": strings.ReplaceAll(tenBalls, "7i", "7 iron"), "another club": strings.ReplaceAll(tenBalls, "7i", "8i"),
	} {
		again := d.hand(student, file)
		contained(t, name, again.Text, "I have had these balls since 10 June 2026; they stay one session.")
		if again.Picture == nil || first.Picture == nil {
			t.Errorf("%s: no picture", name)
		}
		if n := d.counted(student); n != 10 {
			t.Errorf("%s: %d balls of the brief", name, n)
		}
	}
	other := d.hand(student, strings.Replace(tenBalls, "144.7,7.3", "141.7,5.3", 1))
	if strings.Contains(other.Text, "I have had") || d.counted(student) != 20 {
		t.Errorf("one ball hit anew: %q", other.Text)
	}
	// Whoever else hits the same balls has a session of their own.
	if reply := d.hand("tamsin", tenBalls); strings.Contains(reply.Text, "I have had") {
		t.Errorf("another golfer's: %q", reply.Text)
	}
}

// Calling the club by another name takes no session out of a brief or of a
// challenge, and the reply says so; the timelines follow the name.
func TestRenamedClub(t *testing.T) {
	unnamed := strings.ReplaceAll(strings.ReplaceAll(tenBalls, "Club,Carry", "Carry"), "7i,", "")
	d := newClocked(t)
	d.bind(student, coach)
	d.ask(coach, "brief", "student", student, "text", "face to path within 2, 7-iron, 10 balls")
	opened, err := d.db.OpenChallenge(t.Context(), store.Challenge{
		Server: "saltmarsh", Name: "Straightest", Channel: "c", Terms: []byte(`{"rule":"narrow","club":"7i","balls":10,"ball":"new"}`),
	})
	if err != nil {
		t.Fatal(err)
	}
	d.at("2026-06-10 12:00")
	d.hand(student, unnamed, "club", "7i")
	before, err := d.records.LastBrief(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	reply := d.hand(student, unnamed, "club", "8i")
	contained(t, "renamed", reply.Text, "Posted as 7-iron and renamed since: a brief or challenge that counted it as that still does.")
	after, err := d.records.LastBrief(t.Context(), "saltmarsh", student)
	if err != nil || after.Kept.Of != 10 || after.Kept.Inside != before.Kept.Inside {
		t.Errorf("the brief: %d inside of %d, %v; before %d of %d", after.Kept.Inside, after.Kept.Of, err, before.Kept.Inside, before.Kept.Of)
	}
	iron, err := analysis.ParseClub("8i")
	if err != nil {
		t.Fatal(err)
	}
	all, err := d.records.Timelines(t.Context(), "saltmarsh", student, record.Query{Numbers: []analysis.Number{analysis.FaceToPath}})
	if err != nil || len(all) != 1 || all[0].Club != iron {
		t.Errorf("the timeline: %v, %v", all, err)
	}
	d.at("2026-06-10 13:00")
	// A better one does not take its place in the challenge.
	better := d.hand(student, strings.NewReplacer("8.0 R", "1.0 R", "9.9 R", "0.9 R", "7.3 R", "0.3 R").Replace(tenBalls))
	if strings.Contains(better.Text, "I have had") {
		t.Fatal(better.Text)
	}
	entered := d.ask(student, "challenge enter", "challenge", opened.ID)
	contained(t, "entered", entered.Text, "You are in")
	entries, err := d.db.Entries(t.Context(), opened.ID)
	if err != nil || len(entries) != 1 {
		t.Fatal(entries, err)
	}
	sessions, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{})
	if err != nil || len(sessions) != 2 || entries[0].Session != sessions[1].ID {
		t.Errorf("entered %s of %v, want the first posted", entries[0].Session, sessions)
	}
	// Called what it was again, there is nothing to say.
	if back := d.hand(student, unnamed, "club", "7i"); strings.Contains(back.Text, "renamed") {
		t.Errorf("renamed back: %q", back.Text)
	}
}
