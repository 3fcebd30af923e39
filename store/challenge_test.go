package store_test

import (
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"rangepost/store"
)

func anything([]store.Entry, bool) ([]byte, error) { return nil, nil }

// contest opens a challenge that ends after a week.
func contest(t *testing.T, db *store.DB, c *clock) store.Challenge {
	t.Helper()
	open, err := db.OpenChallenge(t.Context(), store.Challenge{
		Server: saltmarsh, Name: "Straightest", Channel: "challenges", Until: c.at.Add(7 * 24 * time.Hour), Terms: []byte("terms"),
	})
	if err != nil {
		t.Fatal(err)
	}
	return open
}

func entry(c store.Challenge, player string, s store.Session) store.Entry {
	return store.Entry{Challenge: c.ID, Server: saltmarsh, Player: player, Session: s.ID, SHA256: s.SHA256, Stretch: []byte("balls")}
}

func TestEnterOnce(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	sessions := furnish(t, db, c, saltmarsh, wren, "zqwren")
	challenge := contest(t, db, c)
	if _, err := db.Enter(t.Context(), entry(challenge, wren, sessions[0]), anything); err != nil {
		t.Fatal(err)
	}
	for name, e := range map[string]store.Entry{
		"the same again": entry(challenge, wren, sessions[0]), "the player with another file": entry(challenge, wren, sessions[1]),
		"the file by another player": entry(challenge, tamsin, sessions[0]),
	} {
		if _, err := db.Enter(t.Context(), e, anything); !errors.Is(err, store.ErrTaken) {
			t.Errorf("%s: %v, want ErrTaken", name, err)
		}
	}
	refuse := errors.New("the same balls")
	if _, err := db.Enter(t.Context(), entry(challenge, tamsin, sessions[1]), func(others []store.Entry, _ bool) ([]byte, error) {
		if len(others) != 1 || others[0].Player != wren || string(others[0].Stretch) != "balls" {
			t.Errorf("fits is given %+v", others)
		}
		return nil, refuse
	}); !errors.Is(err, refuse) {
		t.Errorf("an entry that does not fit: %v", err)
	}
	c.add(8 * 24 * time.Hour)
	if _, err := db.Enter(t.Context(), entry(challenge, tamsin, sessions[1]), anything); !errors.Is(err, store.ErrExpired) {
		t.Errorf("after its time, though nobody closed it: %v, want ErrExpired", err)
	}
}

// Of many at once with one file, one gets in.
func TestEnterInTheSameInstant(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	sessions := furnish(t, db, c, saltmarsh, wren, "zqwren")
	challenge := contest(t, db, c)
	var wg sync.WaitGroup
	got := make([]error, 8)
	for i := range got {
		wg.Go(func() {
			_, got[i] = db.Enter(t.Context(), entry(challenge, fmt.Sprint("user-", i), sessions[0]), anything)
		})
	}
	wg.Wait()
	in := 0
	for _, err := range got {
		if err == nil {
			in++
		} else if !errors.Is(err, store.ErrTaken) {
			t.Error(err)
		}
	}
	if kept, err := db.Entries(t.Context(), challenge.ID); err != nil || in != 1 || len(kept) != 1 {
		t.Errorf("%d got in, %d are kept, %v", in, len(kept), err)
	}
}

// What changes a challenge makes it due until it is shown; so does its end.
func TestDueChallenges(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	sessions := furnish(t, db, c, saltmarsh, wren, "zqwren")
	settle := func() {
		t.Helper()
		due, err := db.DueChallenges(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range due {
			d.Message, d.Winners = "message", "winners"
			if err := db.ChallengeShown(t.Context(), d); err != nil {
				t.Fatal(err)
			}
		}
	}
	due := func(why string, want int) {
		t.Helper()
		got, err := db.DueChallenges(t.Context())
		if err != nil || len(got) != want {
			t.Errorf("%s: %d due, %v, want %d", why, len(got), err, want)
		}
	}
	settle()
	challenge := contest(t, db, c)
	due("just opened", 1)
	settle()
	due("shown", 0)
	if _, err := db.Enter(t.Context(), entry(challenge, wren, sessions[1]), anything); err != nil {
		t.Fatal(err)
	}
	due("entered", 1)
	settle()
	if _, err := db.ReplaceReading(t.Context(), saltmarsh, sessions[1].ID, sessions[1].Reading, sessions[1].Said); err != nil {
		t.Fatal(err)
	}
	due("its file read again", 1)
	if kept, err := db.Entries(t.Context(), challenge.ID); err != nil || !kept[0].Reread {
		t.Errorf("the entry is not marked: %+v, %v", kept, err)
	} else if err := db.Rescore(t.Context(), kept[0], nil); err != nil {
		t.Fatal(err)
	}
	settle()
	due("nothing new", 0)
	c.add(8 * 24 * time.Hour)
	due("its time has come", 1)
	kept, err := db.Entries(t.Context(), challenge.ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, finals := range []map[string][]byte{{}, {"nobody": []byte("first")}, {kept[0].ID: []byte("first"), "nobody": []byte("second")}} {
		if _, err := db.CloseChallenge(t.Context(), saltmarsh, challenge.ID, finals); !errors.Is(err, store.ErrChanged) {
			t.Errorf("with the ends of other entries: %v, want ErrChanged", err)
		}
	}
	closed, err := db.CloseChallenge(t.Context(), saltmarsh, challenge.ID, map[string][]byte{kept[0].ID: []byte("first")})
	if err != nil || !closed.Closed.Equal(challenge.Until) {
		t.Errorf("closed late at %v, %v; it was to close at %v", closed.Closed, err, challenge.Until)
	}
	if _, err := db.CloseChallenge(t.Context(), saltmarsh, challenge.ID, nil); !errors.Is(err, store.ErrExpired) {
		t.Errorf("closed twice: %v, want ErrExpired", err)
	}
	due("closed and not shown", 1)
	settle()
	due("over", 0)
	if c, err := db.Challenge(t.Context(), saltmarsh, challenge.ID); err != nil || c.Message != "message" || c.Winners != "winners" || c.Shown != c.Revision {
		t.Errorf("shown, it is %+v, %v", c, err)
	}
}

// Whoever leaves is out of what is open, and nameless in what is closed.
// Who becomes a junior, and whether juniors are named, changes standings that
// have juniors, and no others.
func TestJuniorsChangeStandings(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	sessions := furnish(t, db, c, saltmarsh, wren, "zqwren")
	hers := contest(t, db, c)
	empty := contest(t, db, c)
	if _, err := db.Enter(t.Context(), entry(hers, wren, sessions[0]), anything); err != nil {
		t.Fatal(err)
	}
	revision := func(id string) int {
		t.Helper()
		found, err := db.Challenge(t.Context(), saltmarsh, id)
		if err != nil {
			t.Fatal(err)
		}
		return found.Revision
	}
	house, err := db.Clubhouse(t.Context(), saltmarsh)
	if err != nil {
		t.Fatal(err)
	}
	names := func(private bool) error {
		house.JuniorsPrivate = private
		return db.SetClubhouse(t.Context(), house)
	}
	for _, step := range []struct {
		what    string
		do      func() error
		changes bool
	}{
		{"juniors are named, and there are none", func() error { return names(false) }, false},
		{"wren is a junior", func() error { return db.SetJunior(t.Context(), saltmarsh, wren, true) }, true},
		{"juniors are not named", func() error { return names(true) }, true},
		{"nothing changes", func() error { return names(true) }, false},
	} {
		before, others := revision(hers.ID), revision(empty.ID)
		if err := step.do(); err != nil {
			t.Fatal(err)
		}
		if changed := revision(hers.ID) != before; changed != step.changes || revision(empty.ID) != others {
			t.Errorf("%s: her standings change: %v, want %v; others: %v", step.what, changed, step.changes, revision(empty.ID) != others)
		}
	}
}

func TestLeaveChallenges(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	furnish(t, db, c, saltmarsh, wren, "zqwren") // one open, one closed
	furnish(t, db, c, saltmarsh, tamsin, "zqtamsin")
	if n, err := db.Entered(t.Context(), saltmarsh, wren); err != nil || n != 2 {
		t.Errorf("in %d challenges, %v, want 2", n, err)
	}
	if n, err := db.LeaveChallenges(t.Context(), saltmarsh, wren, false); err != nil || n != 2 {
		t.Errorf("left %d, %v, want 2", n, err)
	}
	all, err := db.Challenges(t.Context(), saltmarsh, false, 0)
	if err != nil {
		t.Fatal(err)
	}
	open, nameless, others := 0, 0, 0
	for _, challenge := range all {
		kept, err := db.Entries(t.Context(), challenge.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range kept {
			switch {
			case e.Player == tamsin:
				others++
			case challenge.Closed.IsZero():
				open++
			case e.Player == "" && e.Session == "" && e.SHA256 == "" && len(e.Stretch)+len(e.Past) == 0 && string(e.Final) == "first":
				nameless++
			}
		}
	}
	if open != 0 || nameless != 1 || others != 2 {
		t.Errorf("%d left in open ones, %d nameless, %d of others; want 0, 1, 2", open, nameless, others)
	}
}

func TestTallyGoesOnForAWhile(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	start := func(key string) store.Tally {
		t.Helper()
		got, err := db.StartTally(t.Context(), saltmarsh, wren, club(t, key), 9, time.Hour)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	first := start("7i")
	if other := start("driver"); other.ID == first.ID {
		t.Error("two clubs share a tally")
	}
	c.add(50 * time.Minute)
	if _, err := db.ChangeTally(t.Context(), saltmarsh, first.ID, func(t *store.Tally) error { t.Flights[4]++; t.Last = 4; return nil }); err != nil {
		t.Fatal(err)
	}
	c.add(50 * time.Minute)
	if again := start("7i"); again.ID != first.ID || again.Flights[4] != 1 || again.Last != 4 {
		t.Errorf("within the hour of the last count it is %+v", again)
	}
	c.add(2 * time.Hour)
	if later := start("7i"); later.ID == first.ID {
		t.Error("a tally goes on for ever")
	}
	if _, err := db.ChangeTally(t.Context(), elsewhere, first.ID, func(*store.Tally) error { return nil }); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("from another server: %v, want ErrNotFound", err)
	}
}
