package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

// unread is what a coach has not looked at, by id, and how many there are after
// the first.
func unread(t *testing.T, db *store.DB, coach string, f store.UnreadFilter) (ids []string, more int) {
	t.Helper()
	for {
		next, after, err := db.Unread(t.Context(), saltmarsh, coach, f)
		if err != nil {
			t.Fatal(err)
		}
		if next == nil {
			return ids, more
		}
		if ids = append(ids, next.ID); len(ids) == 1 {
			more = after
		}
		f.After = next.ID
	}
}

func TestUnread(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	post := func(student string) string {
		t.Helper()
		c.add(time.Hour)
		return post(t, db, r, saltmarsh, student, c.at, 3).ID
	}
	check := func(name, coach string, f store.UnreadFilter, wantMore int, want ...string) {
		t.Helper()
		got, more := unread(t, db, coach, f)
		if d := cmp.Diff(want, got); d != "" || more != wantMore {
			t.Errorf("%s: %d more, want %d (-want +got):\n%s", name, more, wantMore, d)
		}
	}
	post(wren) // before consent: history
	c.add(time.Hour)
	bound := bind(t, db, "thread-1", wren, coach)
	bind(t, db, "thread-2", tamsin, coach)
	bind(t, db, "thread-3", odell, rival)
	w1, t1, _, w2 := post(wren), post(tamsin), post(odell), post(wren)
	check("all", coach, store.UnreadFilter{}, 2, w1, t1, w2)
	check("of one", coach, store.UnreadFilter{Student: wren}, 1, w1, w2)
	check("after one", coach, store.UnreadFilter{After: w1}, 1, t1, w2)
	check("after a deleted one", coach, store.UnreadFilter{After: "gone"}, 2, w1, t1, w2)
	check("of another's student", coach, store.UnreadFilter{Student: odell}, 0)

	for range 2 {
		if err := db.LookedAt(t.Context(), saltmarsh, coach, w1); err != nil {
			t.Fatal(err)
		}
	}
	check("once looked at", coach, store.UnreadFilter{}, 1, t1, w2)
	for student, want := range map[string]time.Time{wren: c.at, tamsin: {}} {
		if at, err := db.LastLooked(t.Context(), saltmarsh, coach, student); err != nil || !at.Equal(want) {
			t.Errorf("looked at %s: %v, %v, want %v", student, at, err, want)
		}
	}
	if err := db.LookedAt(t.Context(), elsewhere, coach, w2); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("looked at from another server: %v, want ErrNotFound", err)
	}
	if err := db.LookedAt(t.Context(), saltmarsh, rival, t1); err != nil {
		t.Fatal(err)
	}
	check("once another coach looked", coach, store.UnreadFilter{}, 1, t1, w2)

	// Caught up with what was shown, not with what came while it was read.
	shown := c.at
	w3 := post(wren)
	if err := db.CaughtUp(t.Context(), bound, shown); err != nil {
		t.Fatal(err)
	}
	check("caught up with one", coach, store.UnreadFilter{}, 1, t1, w3)
	if at, err := db.LastLook(t.Context(), saltmarsh, coach, "thread-1"); err != nil || !at.Equal(shown) {
		t.Errorf("looked at %v, %v, want %v", at, err, shown)
	}
	for name, of := range map[string][2]string{"another coach": {rival, "thread-1"}, "another thread": {coach, "thread-2"}} {
		if at, err := db.LastLook(t.Context(), saltmarsh, of[0], of[1]); err != nil || !at.IsZero() {
			t.Errorf("%s looked at %v, %v", name, at, err)
		}
	}
	if err := db.CaughtUp(t.Context(), bound, shown.Add(-time.Hour)); err != nil { // an old button
		t.Fatal(err)
	}
	if at, err := db.LastLook(t.Context(), saltmarsh, coach, "thread-1"); err != nil || !at.Equal(shown) {
		t.Errorf("an old button moved the look to %v, %v", at, err)
	}
	if _, err := db.EndBinding(t.Context(), saltmarsh, bound.ID, wren); err != nil {
		t.Fatal(err)
	}
	check("after consent was taken back", coach, store.UnreadFilter{}, 0, t1)
}

func TestProgress(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	session := func(hit time.Time, dated analysis.Dating, shots ...analysis.Shot) {
		t.Helper()
		n := newSession(t, seeded(), saltmarsh, wren, hit, 0)
		n.Raw, n.Reading.Session.Shots, n.Reading.Session.Dated = []byte(hit.String()+c.at.String()), shots, dated
		if _, _, err := db.PostSession(t.Context(), n); err != nil {
			t.Fatal(err)
		}
		c.add(time.Minute)
	}
	ball := func(with string, face float64, aside analysis.Aside) analysis.Shot {
		s := analysis.Shot{N: 1, Club: club(t, with), Aside: aside}
		if face != 99 {
			s = s.With(analysis.Face, face)
		}
		return s
	}
	today := c.at.Truncate(24 * time.Hour)
	session(today, analysis.ByDay, ball("7i", 0, "")) // posted before the brief
	brief, err := db.SetBrief(t.Context(), store.Brief{Server: saltmarsh, Student: wren, Coach: coach, Brief: analysis.Brief{Number: analysis.Face, Low: ptr(-0.1), High: ptr(0.1), Club: club(t, "7i"), Until: today.AddDate(0, 0, 3)}})
	if err != nil {
		t.Fatal(err)
	}
	c.add(time.Minute)
	session(today.AddDate(0, 0, -1), analysis.ByDay, ball("7i", 0, ""))           // hit before it
	session(brief.At.Add(-time.Millisecond), analysis.ByClock, ball("7i", 0, "")) // likewise, by the hour
	session(today, analysis.ByDay,                                                // the day is known, the hour is not
		ball("7i", 0.1, ""), ball("7i", 0.2, ""), ball("7i", 0, analysis.Mishit),
		ball("7i", 0, analysis.Impossible), ball("7i", 99, ""), ball("driver", 0, ""))
	session(today.AddDate(0, 0, 2), analysis.ByClock, ball("7i", -0.1, ""))
	session(today.AddDate(0, 0, 4), analysis.ByClock, ball("7i", 0, "")) // too late
	want := store.Progress{Balls: [][]bool{{true, false, true}, {true}}, Inside: 3, Of: 4, Sessions: 2, Last: today.AddDate(0, 0, 2)}
	if got, err := db.Progress(t.Context(), brief); err != nil || !cmp.Equal(got, want) {
		t.Errorf("progress %+v, %v, want %+v", got, err, want)
	}
	open := brief
	open.High = nil
	want.Inside, want.Balls[0][1] = 4, true
	if got, err := db.Progress(t.Context(), open); err != nil || !cmp.Equal(got, want) {
		t.Errorf("open above: %+v, %v, want %+v", got, err, want)
	}
	ended := brief
	ended.Ended = brief.At.Add(time.Second)
	if got, err := db.Progress(t.Context(), ended); err != nil || !cmp.Equal(got, store.Progress{}) {
		t.Errorf("after it ended: %+v, %v", got, err)
	}
	if got, err := db.LastBrief(t.Context(), saltmarsh, wren); err != nil || got.ID != brief.ID {
		t.Errorf("last brief: %+v, %v", got, err)
	}
	c.add(10 * 24 * time.Hour)
	if got, err := db.LastBrief(t.Context(), saltmarsh, wren); err != nil || got.ID != brief.ID {
		t.Errorf("last brief after its date: %+v, %v", got, err)
	}
	first := store.Settled{Standing: "kept", Inside: 3, Of: 4, Counted: 3.5}
	if got, err := db.SettleBrief(t.Context(), brief.ID, first); err != nil || got.Standing != "kept" || got.At.IsZero() {
		t.Errorf("settled: %+v, %v", got, err)
	}
	if got, err := db.SettleBrief(t.Context(), brief.ID, store.Settled{Standing: "missed", Of: 9, Counted: 9}); err != nil || got.Standing != "kept" || got.Of != 4 {
		t.Errorf("settled again: %+v, %v, want it as it was", got, err)
	}
	if got, err := db.LastBrief(t.Context(), saltmarsh, wren); err != nil || got.Settled == nil || got.Settled.Counted != 3.5 {
		t.Errorf("read again: %+v, %v", got, err)
	}
	if err := db.EndBrief(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	if _, err := db.LastBrief(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("last brief after it was ended: %v, want ErrNotFound", err)
	}
}

func TestDigests(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	if _, err := db.Digest(t.Context(), saltmarsh, coach); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("before it is set: %v, want ErrNotFound", err)
	}
	set := store.Digest{Server: saltmarsh, Coach: coach, Weekday: time.Monday, Hour: 7, TimeZone: "Europe/Berlin"}
	check := func(name string) {
		t.Helper()
		got, err := db.Digest(t.Context(), saltmarsh, coach)
		if err != nil || got != set {
			t.Errorf("%s: %+v, %v, want %+v", name, got, err, set)
		}
	}
	put := func() {
		t.Helper()
		if err := db.SetDigest(t.Context(), set); err != nil {
			t.Fatal(err)
		}
	}
	put()
	set.UpTo = c.at
	check("set")
	c.add(time.Hour)
	if err := db.DigestRefused(t.Context(), saltmarsh, coach); err != nil {
		t.Fatal(err)
	}
	set.Refused = c.at
	check("refused")
	set.Hour, set.Refused = 8, time.Time{}
	put() // with nothing told meanwhile, nothing is lost
	check("set again")
	brief, err := db.SetBrief(t.Context(), store.Brief{Server: saltmarsh, Student: wren, Coach: coach, Brief: analysis.Brief{Number: analysis.Face}})
	if err != nil {
		t.Fatal(err)
	}
	bind(t, db, "thread-1", wren, coach)
	if err := db.DigestSent(t.Context(), store.Telling{Server: saltmarsh, Coach: coach, UpTo: c.at, Told: []store.Told{{Brief: brief.ID, Standing: "missed"}, {Brief: "gone", Standing: "kept"}}}); err != nil {
		t.Fatal(err)
	}
	set.UpTo = c.at
	check("sent")
	if lines, err := db.Roster(t.Context(), saltmarsh, coach); err != nil || len(lines) != 1 || lines[0].Told != "missed" {
		t.Errorf("the roster does not know what was told: %+v, %v", lines, err)
	}
	if err := db.Tell(t.Context(), store.Told{Brief: brief.ID, Standing: "kept"}); err != nil {
		t.Fatal(err)
	}
	if lines, err := db.Roster(t.Context(), saltmarsh, coach); err != nil || len(lines) != 1 || lines[0].Told != "kept" {
		t.Errorf("the roster does not know what was told last: %+v, %v", lines, err)
	}
	if all, err := db.Digests(t.Context()); err != nil || len(all) != 1 || all[0] != set {
		t.Errorf("all: %+v, %v", all, err)
	}
	if err := db.EndDigest(t.Context(), saltmarsh, coach); err != nil {
		t.Fatal(err)
	}
	if err := db.EndDigest(t.Context(), saltmarsh, coach); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("ended twice: %v, want ErrNotFound", err)
	}
}
