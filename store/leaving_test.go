package store_test

import (
	"errors"
	"testing"
	"time"

	"rangepost/store"
)

// An announcement stays as it was made; where it may be made again, that is once it is
// old enough and was made fewer times than the most, and not once something was entered.
// Whoever takes it back has left, and has made as many.
func TestAnnouncements(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	tamsins, wrens := furnish(t, db, c, saltmarsh, tamsin, "zqtamsin"), furnish(t, db, c, saltmarsh, wren, "zqwren")
	ctx, ch := t.Context(), contest(t, db, c)
	const again = 20 * time.Hour
	announce := func(what, player string, seed uint64, most int, want store.Announcement) {
		t.Helper()
		got, err := db.Announce(ctx, saltmarsh, ch.ID, player, seed, again, most)
		if err != nil || got != want {
			t.Errorf("%s: %+v, %v, want %+v", what, got, err, want)
		}
		if kept, err := db.Announced(ctx, ch.ID, player); err != nil || kept != want {
			t.Errorf("%s: kept %+v, %v, want %+v", what, kept, err, want)
		}
	}
	if a, err := db.Announced(ctx, ch.ID, wren); err != nil || a != (store.Announcement{}) {
		t.Errorf("nobody announced: %+v, %v", a, err)
	}
	const large = 1<<63 + 5 // a seed is any number
	first := store.Announcement{At: c.at, Seed: large, Times: 1}
	announce("first", wren, large, 2, first)
	announce("first", tamsin, 9, 2, store.Announcement{At: c.at, Seed: 9, Times: 1})
	c.add(again - time.Second)
	announce("too soon", wren, 2, 2, first)
	c.add(time.Second)
	announce("said once", wren, 3, 1, first)
	second := store.Announcement{At: c.at, Seed: 4, Times: 2}
	announce("again", wren, 4, 2, second)
	c.add(again)
	announce("a third time", wren, 8, 2, second)
	if _, err := db.Enter(ctx, entry(ch, tamsin, tamsins[0]), anything); err != nil {
		t.Fatal(err)
	}
	if a, err := db.Announce(ctx, saltmarsh, ch.ID, tamsin, 5, again, 2); !errors.Is(err, store.ErrTaken) {
		t.Errorf("announced after entering: %+v, %v", a, err)
	}

	if _, err := db.LeaveChallenges(ctx, saltmarsh, wren, true); err != nil {
		t.Fatal(err)
	}
	if a, err := db.Announce(ctx, saltmarsh, ch.ID, wren, 7, again, 2); !errors.Is(err, store.ErrSpent) {
		t.Errorf("taken back, and announced a third time: %+v, %v", a, err)
	}
	announce("of as many as one likes", wren, 6, 3, store.Announcement{At: c.at, Seed: 6, Times: 3})
	left := false
	if _, err := db.Enter(ctx, entry(ch, wren, wrens[0]), func(_ []store.Entry, has bool) ([]byte, error) {
		left = has
		return nil, nil
	}); err != nil || !left {
		t.Errorf("entered after taking an announcement back: left %v, %v", left, err)
	}
}
