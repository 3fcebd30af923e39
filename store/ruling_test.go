package store_test

import (
	"errors"
	"testing"
	"time"

	"rangepost/store"
)

// An entry that waits counts once a host accepts it; one taken out never does,
// and neither is looked for at the end.
func TestRulings(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	wrens, tamsins := furnish(t, db, c, saltmarsh, wren, "zqwren"), furnish(t, db, c, saltmarsh, tamsin, "zqtamsin")
	ctx, ch := t.Context(), contest(t, db, c)
	enter := func(player string, s store.Session, why []byte) store.Entry {
		t.Helper()
		e, err := db.Enter(ctx, entry(ch, player, s), func([]store.Entry, bool) ([]byte, error) { return why, nil })
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	first, second := enter(wren, wrens[0], []byte(`["odd"]`)), enter(tamsin, tamsins[1], nil)
	if first.InPlay() || !second.InPlay() {
		t.Errorf("in play: %v and %v, want the second alone", first.InPlay(), second.InPlay())
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, ch.ID, map[string][]byte{first.ID: []byte("1"), second.ID: []byte("2")}); !errors.Is(err, store.ErrChanged) {
		t.Errorf("closed with the end of one that waits: %v", err)
	}
	if err := db.AcceptEntry(ctx, elsewhere, first.ID, "host"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("accepted from another server: %v", err)
	}
	if err := db.AcceptEntry(ctx, saltmarsh, first.ID, "host"); err != nil {
		t.Fatal(err)
	}
	if err := db.AcceptEntry(ctx, saltmarsh, first.ID, "host"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("accepted twice: %v", err)
	}
	if err := db.TakeOutEntry(ctx, saltmarsh, second.ID, "host", "not yours"); err != nil {
		t.Fatal(err)
	}
	kept, err := db.Entries(ctx, ch.ID)
	if err != nil || !kept[0].InPlay() || kept[1].Removed != "not yours" {
		t.Errorf("%+v, %v", kept, err)
	}
	if _, err := db.Enter(ctx, entry(ch, tamsin, tamsins[0]), anything); !errors.Is(err, store.ErrTaken) {
		t.Errorf("entered again after being taken out: %v", err)
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, ch.ID, map[string][]byte{first.ID: []byte("1")}); err != nil {
		t.Fatal(err)
	}
	if err := db.TakeOutEntry(ctx, saltmarsh, first.ID, "host", "late"); !errors.Is(err, store.ErrExpired) {
		t.Errorf("taken out after the end: %v", err)
	}
	if err := db.VoidChallenge(ctx, saltmarsh, ch.ID, "host", "wrong rule"); err != nil {
		t.Fatal(err)
	}
	if err := db.VoidChallenge(ctx, saltmarsh, ch.ID, "host", "again"); !errors.Is(err, store.ErrExpired) {
		t.Errorf("called off twice: %v", err)
	}
	rulings, err := db.Rulings(ctx, ch.ID)
	if err != nil || len(rulings) != 3 || rulings[0].What != store.Accepted || rulings[1].Reason != "not yours" || rulings[2].What != store.Voided {
		t.Errorf("rulings %+v, %v", rulings, err)
	}
	// Who leaves takes the reason along.
	if _, err := db.LeaveChallenges(ctx, saltmarsh, tamsin, false); err != nil {
		t.Fatal(err)
	}
	rulings, err = db.Rulings(ctx, ch.ID)
	if kept, _ := db.Entries(ctx, ch.ID); err != nil || len(kept) != 1 || rulings[1].Reason != "" || rulings[1].Entry != "" {
		t.Errorf("after leaving: %+v, %+v, %v", kept, rulings, err)
	}
}

// Whoever leaves and enters anew is known to have left, and so is whoever
// deletes a session, until the challenge ends.
func TestLeavingIsKnown(t *testing.T) {
	for name, leave := range map[string]func(db *store.DB, s store.Session) error{
		"leaves": func(db *store.DB, _ store.Session) error {
			_, err := db.LeaveChallenges(t.Context(), saltmarsh, wren, false)
			return err
		},
		"deletes the session": func(db *store.DB, s store.Session) error { return db.RemoveSession(t.Context(), saltmarsh, wren, s.ID) },
		"is forgotten":        func(db *store.DB, _ store.Session) error { return db.ForgetStudent(t.Context(), saltmarsh, wren) },
	} {
		c := newClock()
		db := open(t, store.WithClock(c.now))
		furnish(t, db, c, saltmarsh, wren, "zqwren")
		c.add(time.Minute)
		ch := contest(t, db, c)
		post := func(what string) store.Session {
			s, _, err := db.PostSession(t.Context(), store.NewSession{Server: saltmarsh, Student: wren, Name: what, Raw: []byte(what)})
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		bad := post("bad")
		if _, err := db.Enter(t.Context(), entry(ch, wren, bad), func(_ []store.Entry, left bool) ([]byte, error) {
			if left {
				t.Errorf("%s: left before anything", name)
			}
			return nil, nil
		}); err != nil {
			t.Fatal(err)
		}
		if err := leave(db, bad); err != nil {
			t.Fatal(err)
		}
		known := false
		if _, err := db.Enter(t.Context(), entry(ch, wren, post("better")), func(_ []store.Entry, left bool) ([]byte, error) {
			known = left
			return nil, nil
		}); err != nil {
			t.Fatal(err)
		}
		if !known {
			t.Errorf("%s: nobody knows", name)
		}
	}
}

// A play-off is opened once.
func TestOnePlayOff(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	first := contest(t, db, c)
	for i, want := range []error{nil, store.ErrTaken} {
		if _, err := db.OpenChallenge(t.Context(), store.Challenge{Server: saltmarsh, Name: "Again", After: first.ID}); !errors.Is(err, want) {
			t.Errorf("play-off %d: %v, want %v", i+1, err, want)
		}
	}
}

func TestRunningIsSeen(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	if last, err := db.Running(t.Context()); err != nil || !last.IsZero() {
		t.Errorf("a new database ran at %v, %v", last, err)
	}
	for range 2 {
		c.add(time.Minute)
		if err := db.KeepRunning(t.Context()); err != nil {
			t.Fatal(err)
		}
		if last, err := db.Running(t.Context()); err != nil || !last.Equal(c.at) {
			t.Errorf("it ran at %v, %v, want %v", last, err, c.at)
		}
	}
}
