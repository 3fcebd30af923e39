package store_test

import (
	"errors"
	"path/filepath"
	"testing"
	"time"

	"rangepost/store"
)

func day(t testing.TB, text string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func unbanded(*float64) int { return store.NoBand }

// season opens one of June with two challenges in it, of the 1st and the 8th.
func season(t testing.TB, db *store.DB, server string) (store.Season, []store.Scheduled) {
	t.Helper()
	s, err := db.OpenSeason(t.Context(), store.Season{Server: server, Name: "June", Club: "Saltmarsh Links", Channel: "challenges",
		First: day(t, "2026-06-01"), Last: day(t, "2026-06-30"), Terms: []byte("{}")}, unbanded)
	if err != nil {
		t.Fatal(err)
	}
	all := []store.Scheduled{
		{Season: s.ID, Day: day(t, "2026-06-01"), Name: "Wedges", Days: 7, Terms: []byte("{}")},
		{Season: s.ID, Day: day(t, "2026-06-08"), Name: "Wedges", Days: 7, Terms: []byte("{}")},
	}
	if n, err := db.Schedule(t.Context(), server, s.ID, all, 3); err != nil || n != 2 {
		t.Fatal(n, err)
	}
	return s, all
}

func revision(t testing.TB, db *store.DB, server, id string) int {
	t.Helper()
	s, err := db.Season(t.Context(), server, id)
	if err != nil {
		t.Fatal(err)
	}
	return s.Revision
}

// A challenge opens once, however often it is tried, and a schedule is what was
// put there once.
func TestScheduled(t *testing.T) {
	ctx, c := t.Context(), newClock()
	path := filepath.Join(t.TempDir(), "rangepost.db")
	db, err := store.Open(ctx, path, store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	s, all := season(t, db, saltmarsh)
	if n, err := db.Schedule(ctx, saltmarsh, s.ID, all, 3); err != nil || n != 0 {
		t.Errorf("the same again: %d, %v", n, err)
	}
	more := []store.Scheduled{{Day: day(t, "2026-06-15"), Name: "Wedges", Days: 7}, {Day: day(t, "2026-06-22"), Name: "Wedges", Days: 7}}
	if _, err := db.Schedule(ctx, saltmarsh, s.ID, more, 3); !errors.Is(err, store.ErrTaken) {
		t.Errorf("more than there may be: %v", err)
	}
	due, err := db.DueScheduled(ctx, day(t, "2026-06-07"))
	if err != nil || len(due) != 1 || !due[0].Day.Equal(all[0].Day) {
		t.Fatalf("due by the 7th: %+v, %v", due, err)
	}
	opened, err := db.OpenScheduled(ctx, due[0], store.Challenge{Opened: c.at, Server: saltmarsh, Name: "Wedges, 1 June", Channel: "challenges", Terms: []byte("{}")})
	if err != nil {
		t.Fatal(err)
	}
	// The process ends, and what it was about to say it says later.
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if db, err = store.Open(ctx, path, store.WithClock(c.now)); err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.OpenScheduled(ctx, due[0], store.Challenge{Opened: c.at, Server: saltmarsh, Name: "again", Channel: "challenges"}); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("opened again: %v", err)
	}
	if open, err := db.Challenges(ctx, saltmarsh, true, 0); err != nil || len(open) != 1 || open[0].ID != opened.ID {
		t.Errorf("open: %+v, %v", open, err)
	}
	if behind, err := db.DueChallenges(ctx); err != nil || len(behind) != 1 {
		t.Errorf("to be posted: %+v, %v", behind, err)
	}
	for _, change := range []func(d store.Scheduled) error{
		func(d store.Scheduled) error { return db.Unschedule(ctx, d) }, func(d store.Scheduled) error { return db.Miss(ctx, d) },
	} {
		if err := change(all[0]); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("one that is open: %v", err)
		}
	}
	if err := db.Miss(ctx, all[1]); err != nil {
		t.Error(err)
	}
	if due, err := db.DueScheduled(ctx, day(t, "2026-07-01")); err != nil || len(due) != 0 {
		t.Errorf("still due: %+v, %v", due, err)
	}
	if err := db.CloseSeason(ctx, saltmarsh, s.ID); !errors.Is(err, store.ErrChanged) {
		t.Errorf("closed with a challenge open: %v", err)
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, opened.ID, nil); err != nil {
		t.Fatal(err)
	}
	if err := db.CloseSeason(ctx, saltmarsh, s.ID); err != nil {
		t.Error(err)
	}
	if err := db.CloseSeason(ctx, saltmarsh, s.ID); !errors.Is(err, store.ErrExpired) {
		t.Errorf("closed twice: %v", err)
	}
	if _, err := db.Schedule(ctx, saltmarsh, s.ID, more[:1], 9); !errors.Is(err, store.ErrExpired) {
		t.Errorf("put into one that has ended: %v", err)
	}
}

// A season is behind once a challenge of it is over, and whenever that changes;
// what goes on in an open one does not touch it.
func TestSeasonIsBehind(t *testing.T) {
	ctx, c := t.Context(), newClock()
	db := open(t, store.WithClock(c.now))
	s, all := season(t, db, saltmarsh)
	opened, err := db.OpenScheduled(ctx, all[0], store.Challenge{Opened: c.at, Server: saltmarsh, Name: "Wedges", Channel: "challenges"})
	if err != nil {
		t.Fatal(err)
	}
	before := revision(t, db, saltmarsh, s.ID)
	entry, err := db.Enter(ctx, store.Entry{Challenge: opened.ID, Server: saltmarsh, Player: wren, SHA256: "x", Session: post(t, db, seeded(), saltmarsh, wren, c.at, 10).ID}, func([]store.Entry, bool) ([]byte, error) { return nil, nil })
	if err != nil {
		t.Fatal(err)
	}
	if after := revision(t, db, saltmarsh, s.ID); after != before {
		t.Errorf("an entry moves a season from %d to %d", before, after)
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, opened.ID, map[string][]byte{entry.ID: []byte("{}")}); err != nil {
		t.Fatal(err)
	}
	closed := revision(t, db, saltmarsh, s.ID)
	if closed == before {
		t.Error("a challenge that ends leaves its season as it was")
	}
	if err := db.SetJunior(ctx, saltmarsh, wren, true); err != nil {
		t.Fatal(err)
	}
	if revision(t, db, saltmarsh, s.ID) == closed {
		t.Error("a junior leaves the table as it was")
	}
}

// Who leaves stays in what is over, as they chose: with their name, or without
// it and still one row.
func TestLeavingASeason(t *testing.T) {
	ctx, c := t.Context(), newClock()
	db := open(t, store.WithClock(c.now))
	s, all := season(t, db, saltmarsh)
	third := store.Scheduled{Season: s.ID, Day: day(t, "2026-06-15"), Name: "Wedges", Days: 7}
	if _, err := db.Schedule(ctx, saltmarsh, s.ID, []store.Scheduled{third}, 3); err != nil {
		t.Fatal(err)
	}
	if err := db.SetHandicaps(ctx, saltmarsh, s.ID, []store.Handicap{{Student: wren, Handicap: ptr(12.4), Band: 1}, {Student: tamsin, Handicap: ptr(-2.0)}}); err != nil {
		t.Fatal(err)
	}
	session := post(t, db, seeded(), saltmarsh, wren, c.at, 10)
	var entered []store.Entry
	for i, d := range append(all, third) {
		opened, err := db.OpenScheduled(ctx, d, store.Challenge{Opened: c.at, Server: saltmarsh, Name: "Wedges", Channel: "challenges"})
		if err != nil {
			t.Fatal(err)
		}
		e, err := db.Enter(ctx, store.Entry{Challenge: opened.ID, Server: saltmarsh, Player: wren, SHA256: session.SHA256, Session: session.ID}, func([]store.Entry, bool) ([]byte, error) { return nil, nil })
		if err != nil {
			t.Fatal(err)
		}
		entered = append(entered, e)
		if i < 2 {
			if _, err := db.CloseChallenge(ctx, saltmarsh, opened.ID, map[string][]byte{e.ID: []byte("{}")}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if n, err := db.LeaveChallenges(ctx, saltmarsh, wren, true); err != nil || n != 1 {
		t.Errorf("the open one: %d, %v", n, err)
	}
	if n, err := db.Entered(ctx, saltmarsh, wren); err != nil || n != 2 {
		t.Errorf("still named in %d, %v", n, err)
	}
	if err := db.ForgetStudent(ctx, saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	who, err := db.FormerMembers(ctx, s.ID)
	if err != nil || len(who) != 2 || who[entered[0].ID].Who == "" || who[entered[0].ID].Band != 1 || who[entered[0].ID].Junior || who[entered[0].ID] != who[entered[1].ID] {
		t.Errorf("one former member: %v, %v", who, err)
	}
	left, err := db.Handicaps(ctx, s.ID)
	if err != nil || len(left) != 1 || left[0].Student != tamsin || *left[0].Handicap != -2 {
		t.Errorf("handicaps left: %+v, %v", left, err)
	}
	// The next season begins with the handicaps there are.
	next, err := db.OpenSeason(ctx, store.Season{Server: saltmarsh, Name: "July", First: day(t, "2026-07-01"), Last: day(t, "2026-07-31")}, func(*float64) int { return 3 })
	if err != nil {
		t.Fatal(err)
	}
	if kept, err := db.Handicaps(ctx, next.ID); err != nil || len(kept) != 1 || *kept[0].Handicap != -2 || kept[0].Band != 3 {
		t.Errorf("handicaps that went along: %+v, %v", kept, err)
	}
}

// A junior of a season stays one in it.
func TestJuniorsOfASeason(t *testing.T) {
	ctx, c := t.Context(), newClock()
	db := open(t, store.WithClock(c.now))
	s, all := season(t, db, saltmarsh)
	opened, err := db.OpenScheduled(ctx, all[0], store.Challenge{Opened: c.at, Server: saltmarsh, Name: "Wedges", Channel: "challenges"})
	if err != nil {
		t.Fatal(err)
	}
	e, err := db.Enter(ctx, store.Entry{Challenge: opened.ID, Server: saltmarsh, Player: wren, SHA256: "x", Session: post(t, db, seeded(), saltmarsh, wren, c.at, 10).ID}, func([]store.Entry, bool) ([]byte, error) { return nil, nil })
	if err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{
		db.SetHandicaps(ctx, saltmarsh, s.ID, []store.Handicap{{Student: wren, Handicap: ptr(30.0), Band: 2}}),
		db.SetJunior(ctx, saltmarsh, wren, true),
		db.EndSeason(ctx, saltmarsh, s.ID, day(t, "2026-06-05")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if left, err := db.ScheduledOf(ctx, s.ID); err != nil || len(left) != 1 {
		t.Errorf("after its end was called: %+v, %v", left, err)
	}
	for last, want := range map[string]string{"2026-05-31": "2026-06-01", "2026-06-01": "2026-06-01", "2026-06-04": "2026-06-04"} {
		if s := (store.Season{First: day(t, "2026-06-01"), Last: day(t, last)}); !s.LastDay().Equal(day(t, want)) {
			t.Errorf("a season from 1 June whose last day is %s ends on %s", last, s.LastDay())
		}
	}
	if _, err := db.CloseChallenge(ctx, saltmarsh, opened.ID, map[string][]byte{e.ID: []byte("{}")}); err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{db.CloseSeason(ctx, saltmarsh, s.ID), db.SetJunior(ctx, saltmarsh, wren, false)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if kept, err := db.Handicaps(ctx, s.ID); err != nil || len(kept) != 1 || !kept[0].Junior || kept[0].Band != 2 {
		t.Errorf("juniors: %+v, %v", kept, err)
	}
}

func TestTemplates(t *testing.T) {
	ctx := t.Context()
	db := open(t)
	for _, name := range []string{"Wedges", "Irons", "Wedges"} {
		if err := db.KeepTemplate(ctx, store.Template{Server: saltmarsh, Name: name, Terms: []byte(name)}, 2); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.KeepTemplate(ctx, store.Template{Server: saltmarsh, Name: "Drivers"}, 2); !errors.Is(err, store.ErrTaken) {
		t.Errorf("a third of two: %v", err)
	}
	if all, err := db.Templates(ctx, saltmarsh); err != nil || len(all) != 2 || all[0].Name != "Irons" {
		t.Errorf("%+v, %v", all, err)
	}
	for _, want := range []error{nil, store.ErrNotFound} {
		if err := db.DropTemplate(ctx, saltmarsh, "Irons"); !errors.Is(err, want) {
			t.Errorf("dropped: %v, want %v", err, want)
		}
	}
	if err := db.DropTemplate(ctx, "elsewhere", "Wedges"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("another server's: %v", err)
	}
	if all, err := db.Templates(ctx, saltmarsh); err != nil || len(all) != 1 || all[0].Name != "Wedges" {
		t.Errorf("after one is dropped: %+v, %v", all, err)
	}
}
