package bot

import (
	"testing"

	"rangepost/store"
)

// How long sessions are kept is asked before it deletes anything.
func TestKeep(t *testing.T) {
	d := newDesktop(t)
	d.session(student, 10, 0)
	d.days(100)
	d.session(student, 10, 0)
	contained(t, "none is old", d.ask(manager, "clubhouse keep", "days", "730").Text, "None is that old yet.")
	asked := d.ask(manager, "clubhouse keep", "days", "90")
	contained(t, "asked", asked.Text, "posted more than 90 days ago", "Now that is 1 of 2.", "cannot be undone")
	kept := func() int {
		t.Helper()
		if _, err := d.db.Prune(t.Context()); err != nil {
			t.Fatal(err)
		}
		all, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{})
		if err != nil {
			t.Fatal(err)
		}
		return len(all)
	}
	if n := kept(); n != 2 {
		t.Errorf("asked and not answered: %d sessions", n)
	}
	contained(t, "not theirs", d.press(coach, "keep", "90").Text, "Only server managers can")
	contained(t, "forged", d.press(manager, "keep", "1").Text, "not among the choices")
	if n := kept(); n != 2 {
		t.Errorf("refused: %d sessions", n)
	}
	contained(t, "pressed", d.Handle(t.Context(), as(manager, Request{Kind: PressRequest, Path: asked.Rows[0].Buttons[0].Path})).Text, "Posted sessions are kept: 90 days.")
	if n := kept(); n != 1 {
		t.Errorf("kept for 90 days: %d sessions", n)
	}
	contained(t, "for ever", d.ask(manager, "clubhouse keep", "days", "0").Text, "Posted sessions are kept: for ever.")
	d.days(1000)
	if n := kept(); n != 1 {
		t.Errorf("kept for ever: %d sessions", n)
	}
}
