package record

import (
	"flag"
	"fmt"
	"log/slog"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/months"
	"rangepost/store"
	"rangepost/store/pgtest"
)

var rosters = flag.Int("rosters", 2, "rosters of thirty for each load; 12 for figures to quote")

// A desk is the records of a club at a time of the test's own.
type desk struct {
	t   *testing.T
	db  *store.DB
	rs  *Records
	now time.Time
}

const club, coach = "saltmarsh", "tamsin"

func newDesk(t *testing.T, path string, now time.Time) *desk {
	d := &desk{t: t, now: now}
	if path == "" {
		path = pgtest.Path(t, "")
	}
	d.open(path)
	return d
}

func (d *desk) open(path string) {
	d.t.Helper()
	clock := func() time.Time { return d.now }
	db, err := store.Open(d.t.Context(), path, store.WithClock(clock))
	d.must(err)
	d.db, d.rs = db, New(db, clock, slog.New(slog.DiscardHandler))
}

func (d *desk) must(err error) {
	d.t.Helper()
	if err != nil {
		d.t.Fatal(err)
	}
}

// bind makes somebody a student of the coach.
func (d *desk) bind(name string) store.Binding {
	d.t.Helper()
	b, err := d.db.AskConsent(d.t.Context(), club, "thread of "+name, name, coach)
	d.must(err)
	b, err = d.db.GiveConsent(d.t.Context(), club, b.ID, name)
	d.must(err)
	return b
}

// post keeps balls of face-to-path, rad, hit now.
func (d *desk) post(name string, values []float64) store.Session {
	d.t.Helper()
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for i, v := range values {
		shots = append(shots, analysis.Shot{N: i + 1, Row: i + 2, Club: iron}.With(analysis.FaceToPath, v))
	}
	s, _, err := d.db.PostSession(d.t.Context(), store.NewSession{
		Server: club, Student: name, Name: "s.csv", Raw: fmt.Append(nil, name, d.now),
		Reading: store.Reading{Session: analysis.Session{When: d.now, Dated: analysis.ByInstant, Ball: analysis.RangeBall, Shots: shots}},
	})
	d.must(err)
	return s
}

// season lives through what a simulated student did.
func (d *desk) season(r months.Rostered, now time.Time) {
	d.now = r.Sessions[0].At.AddDate(0, 0, -1)
	d.bind(r.Name)
	for _, v := range r.Sessions {
		if r.Brief != nil && !r.Set.IsZero() && r.Set.Before(v.At) {
			d.now = r.Set
			_, _, err := d.rs.SetBrief(d.t.Context(), store.Brief{Server: club, Student: r.Name, Coach: coach, Brief: *r.Brief})
			d.must(err)
			r.Set = time.Time{}
		}
		d.now = v.At
		if s := d.post(r.Name, v.Values); !v.Unread {
			d.must(d.db.LookedAt(d.t.Context(), club, coach, s.ID))
		}
	}
	if r.Lesson != nil {
		d.now = r.Lesson.At
		_, err := d.db.AddLesson(d.t.Context(), store.Lesson{Server: club, Student: r.Name, Lesson: *r.Lesson})
		d.must(err)
	}
	d.now = now
}

// Of thirty students of another hand the three in need are the first three, in
// ten of twelve rosters at least, however many ordinary posts wait.
func TestThreeInNeedAreFirst(t *testing.T) {
	now := time.Date(2026, time.June, 15, 9, 0, 0, 0, time.UTC)
	for _, unread := range []int{0, 1, 6} {
		right := 0
		for seed := range *rosters {
			d := newDesk(t, "", now)
			need := map[string]months.Need{}
			for _, r := range months.Roster(unread, now, uint64(seed)) {
				d.season(r, now)
				need[r.Name] = r.Need
			}
			lines, err := d.rs.Roster(t.Context(), club, coach)
			d.must(err)
			d.must(d.db.Close())
			first := 0
			for i, l := range lines {
				switch {
				case i < 3 && need[l.Student.ID] != months.None:
					first++
				case i < 3 || need[l.Student.ID] != months.None:
					t.Logf("%d unread, roster %d: place %d has need %d and is shown %v", unread, seed, i+1, need[l.Student.ID], l.Findings)
				}
			}
			if first == 3 {
				right++
			}
		}
		t.Logf("%d unread: the three in need are first in %d of %d", unread, right, *rosters)
		if 12*right < 10**rosters {
			t.Errorf("%d unread: the three in need are first in %d of %d", unread, right, *rosters)
		}
	}
}
