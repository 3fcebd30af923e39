package store_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"rangepost/store"
)

func join(t *testing.T, db *store.DB) (*store.Life, context.Context) {
	t.Helper()
	l, err := db.Join(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return l, store.WithLife(t.Context(), l)
}

// A life ends for its process before it ends for the others, and no renewal that
// comes late brings it back.
func TestLifeEnds(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now), store.Sharing())
	l, ctx := join(t, db)
	for range 5 {
		c.add(store.LifeLasts - 3*time.Second)
		if err := db.Renew(t.Context(), l); err != nil || !l.Alive() {
			t.Fatalf("renewed in time: %v, alive %v", err, l.Alive())
		}
	}
	c.add(store.LifeLasts - time.Second)
	crew, err := db.Crew(t.Context())
	if err != nil || len(crew.Lives) != 1 {
		t.Errorf("the others see %v, %v; want it alive still", crew.Lives, err)
	}
	if l.Alive() {
		t.Error("it takes itself for alive in its last second")
	}
	if err := db.Renew(t.Context(), l); !errors.Is(err, store.ErrLapsed) {
		t.Errorf("renewed late: %v, want ErrLapsed", err)
	}
	if _, err := db.Accept(ctx, store.Intake{ID: "1"}); !errors.Is(err, store.ErrLapsed) {
		t.Errorf("wrote in a life that is over: %v, want ErrLapsed", err)
	}
	c.add(-time.Minute) // a clock that is set back makes nobody live again
	if l.Alive() {
		t.Error("it lives again")
	}
}

// Whatever a stopped process had begun to write is not written once its life is
// over.
func TestLifeEndsInMidTransaction(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now), store.Sharing())
	_, ctx := join(t, db)
	err := db.Handed(ctx, wren, c.at, func([]time.Time) error { c.add(time.Minute); return nil })
	if !errors.Is(err, store.ErrLapsed) {
		t.Errorf("%v, want ErrLapsed", err)
	}
	if err := db.Handed(t.Context(), wren, c.at, func(times []time.Time) error {
		if len(times) != 0 {
			t.Errorf("it was written all the same: %v", times)
		}
		return nil
	}); err != nil {
		t.Error(err)
	}
}

// One life at a time holds a lease. Its fence grows with every hand it goes
// through, and what is kept under an old one is refused.
func TestLease(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now), store.Sharing())
	_, first := join(t, db)
	second, ctx := join(t, db)
	old, err := db.Take(first, "shard 0 of 2")
	if err != nil || old.Fence != 1 {
		t.Fatalf("%+v, %v", old, err)
	}
	if err := db.KeepPlace(first, old, store.Place{Session: "s", Address: "wss://gateway", Seq: 7}); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Take(ctx, "shard 0 of 2"); !errors.Is(err, store.ErrTaken) {
		t.Errorf("taken twice: %v", err)
	}
	c.add(store.LifeLasts - 3*time.Second)
	if err := db.Renew(t.Context(), second); err != nil {
		t.Fatal(err)
	}
	c.add(3 * time.Second)
	got, err := db.Take(ctx, "shard 0 of 2")
	if want := (store.Place{Session: "s", Address: "wss://gateway", Seq: 7}); err != nil || got.Fence != 2 || got.Place != want {
		t.Fatalf("%+v, %v, want fence 2 and %+v", got, err, want)
	}
	// By the database alone: the stopped process may not even know the time.
	if err := db.KeepPlace(t.Context(), old, store.Place{Seq: 99}); !errors.Is(err, store.ErrTaken) {
		t.Errorf("kept under an old fence: %v", err)
	}
	if err := db.GiveBack(t.Context(), old, store.Place{Seq: 99}); !errors.Is(err, store.ErrTaken) {
		t.Errorf("given back under an old fence: %v", err)
	}
	if err := db.GiveBack(ctx, got, store.Place{Session: "s", Seq: 9}); err != nil {
		t.Fatal(err)
	}
	again, err := db.Take(ctx, "shard 0 of 2")
	if err != nil || again.Fence != 3 || again.Place.Seq != 9 {
		t.Errorf("%+v, %v, want fence 3 at 9", again, err)
	}
}

// A life that is over by the database's clock takes nothing, whatever its process
// thinks.
func TestOverTakesNothing(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now), store.Sharing())
	gone, ctx := join(t, db)
	if err := db.Leave(t.Context(), gone); err != nil {
		t.Fatal(err)
	}
	for what, try := range map[string]func() error{
		"a lease":  func() error { _, err := db.Take(ctx, "chores"); return err },
		"requests": func() error { _, err := db.TakeOver(ctx, 10); return err },
	} {
		if err := try(); !errors.Is(err, store.ErrLapsed) {
			t.Errorf("%s: %v, want ErrLapsed", what, err)
		}
	}
}

// What a process that died had taken in goes to another when its life has ended,
// to one alone, and the dead one can settle nothing any more.
func TestTakeOver(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now), store.Sharing())
	_, dead := join(t, db)
	for i := range 3 {
		if fresh, err := db.Accept(dead, store.Intake{ID: fmt.Sprint(i), Body: []byte("x")}); err != nil || !fresh {
			t.Fatal(fresh, err)
		}
	}
	if err := db.Answered(dead, "0"); err != nil {
		t.Fatal(err)
	}
	other, ctx := join(t, db)
	if all, err := db.TakeOver(ctx, 10); err != nil || len(all) != 0 {
		t.Errorf("took %d over while they are worked on, %v", len(all), err)
	}
	c.add(store.LifeLasts - 3*time.Second)
	if err := db.Renew(t.Context(), other); err != nil {
		t.Fatal(err)
	}
	c.add(3 * time.Second)
	if crew, err := db.Crew(t.Context()); err != nil || crew.Orphans != 2 {
		t.Errorf("%d orphans, %v, want 2", crew.Orphans, err)
	}
	_, third := join(t, db)
	mine, err := db.TakeOver(ctx, 1)
	if err != nil || len(mine) != 1 || mine[0].ID != "1" {
		t.Fatalf("%+v, %v, want the oldest", mine, err)
	}
	rest, err := db.TakeOver(third, 10)
	if err != nil || len(rest) != 1 || rest[0].ID != "2" {
		t.Fatalf("%+v, %v, want the other one", rest, err)
	}
	// The event comes to another process by a resume.
	if fresh, err := db.Accept(third, store.Intake{ID: "1"}); err != nil || fresh {
		t.Errorf("accepted again: %v, %v", fresh, err)
	}
	if err := db.Rewrite(third, "1", nil); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("rewrote another's: %v", err)
	}
	if _, err := db.Begin(third, "1"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("began another's: %v", err)
	}
	if err := db.Answered(third, "1"); err != nil {
		t.Fatal(err)
	}
	if open, err := db.Unfinished(t.Context()); err != nil || len(open) != 2 {
		t.Errorf("%d unfinished, %v: another's was settled", len(open), err)
	}
	if err := db.Release(ctx, "1"); err != nil {
		t.Fatal(err)
	}
	if all, err := db.TakeOver(third, 10); err != nil || len(all) != 1 {
		t.Errorf("%d were given back, %v, want 1", len(all), err)
	}
}

// Leaving gives everything back at once.
func TestLeave(t *testing.T) {
	db := open(t, store.Sharing())
	l, ctx := join(t, db)
	_, other := join(t, db)
	if _, err := db.Take(ctx, "chores"); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Accept(ctx, store.Intake{ID: "1"}); err != nil {
		t.Fatal(err)
	}
	if err := db.Leave(ctx, l); err != nil {
		t.Fatal(err)
	}
	if got, err := db.Take(other, "chores"); err != nil || got.Fence != 2 {
		t.Errorf("%+v, %v", got, err)
	}
	if all, err := db.TakeOver(other, 10); err != nil || len(all) != 1 {
		t.Errorf("%d requests, %v, want 1", len(all), err)
	}
	if crew, err := db.Crew(t.Context()); err != nil || len(crew.Lives) != 1 {
		t.Errorf("%v, %v, want the other one alone", crew.Lives, err)
	}
}

// Turns are taken one after the other, whoever takes them.
func TestTurns(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	every := func(turn store.Turn, at time.Time) store.Turn {
		return store.Turn{Free: at.Add(5 * time.Second), Since: turn.Since, Count: turn.Count + 1}
	}
	for i := range 3 {
		wait, err := db.TakeTurn(t.Context(), "identify 0", every)
		if want := time.Duration(i) * 5 * time.Second; err != nil || wait != want {
			t.Errorf("waits %v, %v, want %v", wait, err, want)
		}
	}
	if wait, err := db.TakeTurn(t.Context(), "identify 1", every); err != nil || wait != 0 {
		t.Errorf("another group waits %v, %v", wait, err)
	}
	c.add(time.Minute)
	if wait, err := db.TakeTurn(t.Context(), "identify 0", every); err != nil || wait != 0 {
		t.Errorf("waits %v a minute later, %v", wait, err)
	}
}

// What processes know by heart is told to the others; where one serves, nothing is
// written for it.
func TestRevised(t *testing.T) {
	t.Run("shared", func(t *testing.T) { testRevised(t, 1, store.Sharing()) })
	t.Run("alone", func(t *testing.T) {
		store.OnSQLite(t)
		testRevised(t, 0)
	})
}

func testRevised(t *testing.T, each int, opts ...store.Option) {
	c := newClock()
	db := open(t, append(opts, store.WithClock(c.now))...)
	want := 0
	for what, change := range map[string]func() error{
		"a clubhouse": func() error {
			house, err := db.Clubhouse(t.Context(), saltmarsh)
			if err != nil {
				return err
			}
			return db.SetClubhouse(t.Context(), house)
		},
		"a junior":  func() error { return db.SetJunior(t.Context(), saltmarsh, odell, true) },
		"a student": func() error { return db.ForgetStudent(t.Context(), saltmarsh, tamsin) },
		"a binding": func() error {
			b, err := db.AskConsent(t.Context(), saltmarsh, "t", wren, coach)
			if err != nil {
				return err
			}
			_, err = db.GiveConsent(t.Context(), saltmarsh, b.ID, wren)
			return err
		},
	} {
		if err := change(); err != nil {
			t.Fatal(err)
		}
		want += each
		if counts, err := db.Revised(t.Context(), time.Minute); err != nil || counts[saltmarsh] != want {
			t.Errorf("%s: %v, %v, want %d", what, counts, err, want)
		}
	}
	c.add(2 * time.Minute)
	if counts, err := db.Revised(t.Context(), time.Minute); err != nil || len(counts) != 0 {
		t.Errorf("still %v, %v", counts, err)
	}
}

// What holds requests holds them for everybody until the latest that was said.
func TestHoldRequests(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	held := func(want time.Duration) {
		t.Helper()
		if crew, err := db.Crew(t.Context()); err != nil || crew.Wait != want {
			t.Errorf("held for %v, %v, want %v", crew.Wait, err, want)
		}
	}
	held(0)
	for _, long := range []time.Duration{20 * time.Second, 5 * time.Second} {
		if err := db.HoldRequests(t.Context(), long); err != nil {
			t.Fatal(err)
		}
		held(20 * time.Second)
	}
	c.add(15 * time.Second)
	held(5 * time.Second)
	c.add(time.Minute)
	held(0)
}
