package bot

import (
	"strings"
	"testing"
)

// A session is deleted by the one who hit it, asked once more, and by nobody
// else.
func TestRemoveIsOnesOwn(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.Handle(t.Context(), as(student, posting("wren-1-first.csv")))
	session := d.latest(student)
	asked := d.ask(student, "mine remove", "session", session)
	if len(asked.Rows) != 1 {
		t.Fatal(asked.Text)
	}
	press := Request{Kind: PressRequest, Path: asked.Rows[0].Buttons[0].Path, Channel: "practice"}
	for _, who := range []string{coach, other, manager} {
		if reply := d.Handle(t.Context(), as(who, press)); !strings.Contains(reply.Text, "not yours to see") {
			t.Errorf("%s is told %q", who, reply.Text)
		}
		if got := d.latest(student); got != session {
			t.Fatalf("%s deleted it", who)
		}
	}
	contained(t, "pressed", d.Handle(t.Context(), as(student, press)).Text, "is deleted")
	if got := d.latest(student); got != "" {
		t.Errorf("session %s is still there", got)
	}
	contained(t, "the coach", d.ask(coach, "catch-up", "student", student).Text, "They deleted a session of 1 June, 20 balls")
	contained(t, "pressed again", d.Handle(t.Context(), as(student, press)).Text, "it was deleted")
}

// latest is the id of a student's latest session, "" for none.
func (d *desktop) latest(who string) string {
	s, err := d.db.LatestSession(d.t.Context(), "saltmarsh", who)
	if err != nil {
		return ""
	}
	return s.ID
}
