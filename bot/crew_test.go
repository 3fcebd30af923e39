package bot

import (
	"testing"

	"rangepost/store"
)

// What one process changes of what all know by heart, another knows with its next
// look.
func TestCrewKnows(t *testing.T) {
	ctx := t.Context()
	db, err := store.Open(ctx, "", store.Sharing())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	other, err := New(ctx, Config{DB: db})
	if err != nil {
		t.Fatal(err)
	}
	m, err := other.Join(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Leave(ctx)
	house, err := db.Clubhouse(ctx, "saltmarsh")
	if err != nil {
		t.Fatal(err)
	}
	house.CoachRole = "coaches"
	if err := db.SetClubhouse(ctx, house); err != nil {
		t.Fatal(err)
	}
	if err := db.SetJunior(ctx, "saltmarsh", "odell", true); err != nil {
		t.Fatal(err)
	}
	b, err := db.AskConsent(ctx, "saltmarsh", "thread", "wren", "coach")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.GiveConsent(ctx, "saltmarsh", b.ID, "wren"); err != nil {
		t.Fatal(err)
	}
	knows := func(bound bool) {
		t.Helper()
		if _, err := m.Look(ctx, nil); err != nil {
			t.Fatal(err)
		}
		if _, is := other.known.thread("thread"); is != bound || other.known.coachRole("saltmarsh") != "coaches" || !other.known.junior("saltmarsh", "odell") {
			t.Errorf("thread known %v, want %v; role %q, junior %v", is, bound, other.known.coachRole("saltmarsh"), other.known.junior("saltmarsh", "odell"))
		}
	}
	knows(true)
	if _, err := db.EndBinding(ctx, "saltmarsh", b.ID, "wren"); err != nil {
		t.Fatal(err)
	}
	knows(false)
}
