package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

// One session goes with everything of it; its entry in an open challenge goes,
// in a closed one it stays; that it was is known, to its student's export too.
func TestRemoveSession(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	r := seeded()
	ctx := t.Context()
	wrong, right := post(t, db, r, saltmarsh, wren, c.at, 12), post(t, db, r, saltmarsh, wren, c.at.Add(time.Hour), 10)
	enter := func(name string) string {
		ch, err := db.OpenChallenge(ctx, store.Challenge{Server: saltmarsh, Name: name, Channel: "challenges"})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Enter(ctx, store.Entry{Challenge: ch.ID, Server: saltmarsh, Player: wren, Session: wrong.ID}, func([]store.Entry, bool) ([]byte, error) { return nil, nil }); err != nil {
			t.Fatal(err)
		}
		return ch.ID
	}
	closed, still := enter("closed"), enter("still open")
	entries, err := db.Entries(ctx, closed)
	if err != nil || len(entries) != 1 {
		t.Fatal(entries, err)
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, closed, map[string][]byte{entries[0].ID: []byte("first")}); err != nil {
		t.Fatal(err)
	}

	if err := db.RemoveSession(ctx, saltmarsh, odell, wrong.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("somebody else's session: %v", err)
	}
	c.add(time.Minute)
	if err := db.RemoveSession(ctx, saltmarsh, wren, wrong.ID); err != nil {
		t.Fatal(err)
	}
	if err := db.RemoveSession(ctx, saltmarsh, wren, wrong.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("twice: %v", err)
	}
	if _, err := db.Session(ctx, saltmarsh, wrong.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("it is still there: %v", err)
	}
	if _, err := db.Session(ctx, saltmarsh, right.ID); err != nil {
		t.Errorf("the other one: %v", err)
	}
	want := []store.Removed{{Hit: wrong.At, Balls: 12, At: c.at}}
	if got, err := db.RemovedSince(ctx, saltmarsh, wren, c.at.Add(-time.Second)); err != nil || !cmp.Equal(got, want) {
		t.Errorf("removed %+v, %v, want %+v", got, err, want)
	}
	if got, err := db.RemovedSince(ctx, saltmarsh, wren, c.at); err != nil || len(got) != 0 {
		t.Errorf("removed since: %+v, %v", got, err)
	}
	for id, n := range map[string]int{closed: 1, still: 0} {
		if entries, err := db.Entries(ctx, id); err != nil || len(entries) != n {
			t.Errorf("%d entries, %v, want %d", len(entries), err, n)
		}
	}
	e, err := db.ExportStudent(ctx, saltmarsh, wren, func(store.Session, []byte) error { return nil })
	if err != nil || !cmp.Equal(e.Removed, want) {
		t.Errorf("export: %+v, %v", e.Removed, err)
	}
	if err := db.ForgetStudent(ctx, saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	if got, err := db.RemovedSince(ctx, saltmarsh, wren, time.Time{}); err != nil || len(got) != 0 {
		t.Errorf("after forgetting: %+v, %v", got, err)
	}
}
