package store_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

// pooled is a coach's six students with a trial each, wren among them, and figures
// over all of them.
func pooled(t *testing.T, db *store.DB, c *clock) (p store.Pool, ids map[string]string) {
	t.Helper()
	ids = map[string]string{}
	p = store.Pool{
		Server: saltmarsh, Coach: coach, Club: club(t, "7i"), Tool: analysis.StrongerGrip, Sessions: map[string][]string{},
		Figures: []analysis.Pooled{{Club: club(t, "7i"), Tool: analysis.StrongerGrip, Number: analysis.Face, Golfers: 6, Trials: 6,
			Mean: -0.03, Low: -0.05, High: -0.01, Between: 0.02, Within: 0.01, NewLow: -0.08, NewHigh: 0.02}},
		Without: map[string][]analysis.Pooled{},
	}
	for i := range 6 {
		student := fmt.Sprint("student-", i)
		if i == 0 {
			student = wren
		}
		bind(t, db, "thread-of-"+student, student, coach)
		n := full(t)
		n.Student, n.Raw = student, []byte(student)
		n.Reading.Taught = []analysis.Observation{{Club: p.Club, Tool: p.Tool, Number: analysis.Face, Difference: -0.03, SE: 0.01, Balls: 12}}
		s, _, err := db.PostSession(t.Context(), n)
		if err != nil {
			t.Fatal(err)
		}
		ids[student] = s.ID
		p.Sessions[student] = []string{s.ID}
		without := p.Figures[0]
		without.Golfers, without.Mean = 5, -0.03+float64(i+1)/1000
		p.Without[student] = []analysis.Pooled{without}
		c.add(time.Minute)
	}
	if err := db.KeepPool(t.Context(), p, ""); err != nil {
		t.Fatal(err)
	}
	return p, ids
}

func TestPool(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	p, _ := pooled(t, db, c)
	told := func(student string, want []analysis.Pooled) {
		t.Helper()
		got, err := db.Pooled(t.Context(), saltmarsh, coach, student)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("told for %q (-want +got):\n%s", student, d)
		}
	}
	told("", p.Figures)
	told("somebody else", p.Figures)
	told(wren, p.Without[wren])
	if got, err := db.Pooled(t.Context(), saltmarsh, rival, ""); err != nil || got != nil {
		t.Errorf("told another coach: %+v, %v", got, err)
	}
	if err := db.KeepPool(t.Context(), p, ""); !errors.Is(err, store.ErrTaken) {
		t.Errorf("made beside what was made: %v, want ErrTaken", err)
	}
	trials, err := db.PooledTrials(t.Context(), saltmarsh, coach)
	if err != nil || len(trials) != 6 || trials[0].Hand != analysis.RightHanded || trials[0].Number != analysis.Face {
		t.Errorf("trials: %+v, %v", trials, err)
	}

	// A later making takes the place of the first.
	made, err := db.Pools(t.Context(), saltmarsh, coach)
	if err != nil || len(made) != 1 || made[0].Students != 6 || len(made[0].Sessions) != 6 {
		t.Fatalf("made: %+v, %v", made, err)
	}
	c.add(time.Minute)
	p.Figures[0].Mean = -0.02
	if err := db.KeepPool(t.Context(), p, made[0].ID); err != nil {
		t.Fatal(err)
	}
	told("", p.Figures)
	if made, err := db.Pools(t.Context(), saltmarsh, coach); err != nil || len(made) != 2 {
		t.Errorf("made twice: %+v, %v", made, err)
	}
}

// Whichever way one of the students is gone, nothing is told any more; what comes
// back untouched is told again, and of what was deleted no figure is left.
func TestPoolHeldBack(t *testing.T) {
	for _, way := range []struct {
		name    string
		gone    func(db *store.DB, id string) error
		deleted bool
	}{
		{"forgets", func(db *store.DB, _ string) error { return db.ForgetStudent(t.Context(), saltmarsh, wren) }, true},
		{"removes the session", func(db *store.DB, id string) error { return db.RemoveSession(t.Context(), saltmarsh, wren, id) }, true},
		{"is a junior", func(db *store.DB, _ string) error { return db.SetJunior(t.Context(), saltmarsh, wren, true) }, false},
		{"takes consent back", func(db *store.DB, _ string) error {
			b, err := db.StudentBinding(t.Context(), saltmarsh, wren)
			if err == nil {
				_, err = db.EndBinding(t.Context(), saltmarsh, b.ID, wren)
			}
			return err
		}, false},
		{"goes to another coach", func(db *store.DB, _ string) error {
			b, err := db.AskConsent(t.Context(), saltmarsh, "thread-r", wren, rival)
			if err == nil {
				_, err = db.GiveConsent(t.Context(), saltmarsh, b.ID, wren)
			}
			return err
		}, false},
		{"labels the sets otherwise", func(db *store.DB, id string) error {
			s, err := db.SessionWithBalls(t.Context(), saltmarsh, id)
			if err == nil {
				s.Reading.Taught = nil
				_, err = db.ReplaceReading(t.Context(), saltmarsh, id, s.Reading, s.Said)
			}
			return err
		}, false},
	} {
		t.Run(way.name, func(t *testing.T) {
			c := newClock()
			db := open(t, store.WithClock(c.now))
			_, ids := pooled(t, db, c)
			if err := way.gone(db, ids[wren]); err != nil {
				t.Fatal(err)
			}
			for _, who := range []string{"", wren, "student-1"} {
				if got, err := db.Pooled(t.Context(), saltmarsh, coach, who); err != nil || got != nil {
					t.Errorf("still told for %q: %+v, %v", who, got, err)
				}
			}
			trials, err := db.PooledTrials(t.Context(), saltmarsh, coach)
			if err != nil || len(trials) != 5 {
				t.Errorf("%d trials still count, %v, want 5", len(trials), err)
			}
			made, err := db.Pools(t.Context(), saltmarsh, coach)
			if err != nil || len(made) != 1 || made[0].Students != 6 {
				t.Fatalf("made: %+v, %v", made, err)
			}
			if way.deleted {
				if rows := store.RowsNaming(t, db, saltmarsh, "student-1"); slices.Contains(rows, "pool_figures.without") {
					t.Error("figures are left over a session that is deleted")
				}
				if way.name == "forgets" {
					if rows := store.RowsNaming(t, db, saltmarsh, wren); len(rows) > 0 {
						t.Errorf("%v still name the student", rows)
					}
				}
			} else if way.name == "is a junior" {
				if err := db.SetJunior(t.Context(), saltmarsh, wren, false); err != nil {
					t.Fatal(err)
				}
				if got, err := db.Pooled(t.Context(), saltmarsh, coach, ""); err != nil || len(got) != 1 {
					t.Errorf("no junior after all, and told: %+v, %v", got, err)
				}
			}
		})
	}
}
