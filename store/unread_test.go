package store_test

import (
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/store"
)

// Whatever is done, in whatever order, the posts that wait are those since a consent
// that stands which its coach has not looked at.
func TestUnreadFollows(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), rand.New(rand.NewPCG(22, 13))
	students, coaches := []string{wren, tamsin, odell}, []string{coach, rival}
	var posted []store.SessionInfo
	bound := map[string]store.Binding{}
	done, most := map[string]int{}, 0
	for range 300 {
		student, by := students[r.IntN(len(students))], coaches[r.IntN(len(coaches))]
		what, err := "nothing", error(nil)
		if r.IntN(3) > 0 { // else in the same millisecond
			c.add(time.Second)
		}
		switch n := r.IntN(100); {
		case n < 45:
			what = "post"
			posted = append(posted, post(t, db, r, saltmarsh, student, c.at, 3).SessionInfo)
		case n < 60 && len(posted) > 0:
			what = "look"
			err = db.LookedAt(t.Context(), saltmarsh, by, posted[r.IntN(len(posted))].ID)
		case n < 65 && bound[student].ID != "":
			what = "catch up"
			err = db.CaughtUp(t.Context(), bound[student], c.at.Add(-time.Duration(r.IntN(5))*time.Second))
		case n < 83: // the other coach's consent ends with it
			what = "consent"
			var b store.Binding
			if b, err = db.AskConsent(t.Context(), saltmarsh, "thread-"+student+by, student, by); err == nil {
				bound[student], err = db.GiveConsent(t.Context(), saltmarsh, b.ID, student)
			}
		case n < 89 && bound[student].ID != "":
			what = "end"
			_, err = db.EndBinding(t.Context(), saltmarsh, bound[student].ID, student)
		case n < 95 && len(posted) > 0:
			what = "remove"
			s := posted[r.IntN(len(posted))]
			err = db.RemoveSession(t.Context(), saltmarsh, s.Student, s.ID)
		case n < 97:
			what = "forget"
			err = db.ForgetStudent(t.Context(), saltmarsh, student)
			delete(bound, student)
		case n < 98:
			what = "from direct messages"
			post(t, db, r, "", student+"'s friend", c.at, 3)
			err = db.SetName(t.Context(), saltmarsh, student+"'s friend", "Priya")
		}
		if err != nil && !errors.Is(err, store.ErrNotFound) { // of what is gone
			t.Fatalf("%s: %v", what, err)
		}
		done[what]++
		most = max(most, store.Unread(t, db))
		if t.Failed() {
			t.Fatalf("after: %s", what)
		}
	}
	if most < 5 || len(done) < 9 {
		t.Errorf("at most %d posts waited, of what was done %v", most, done)
	}
}

// A database of before has its posts in place when it is brought up to date, and
// one that goes back to it as well.
func TestUnreadOfBefore(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	first := post(t, db, r, saltmarsh, wren, c.at, 3)
	c.add(time.Hour)
	bind(t, db, "thread-1", wren, coach)
	second, third := post(t, db, r, saltmarsh, wren, c.at, 3), post(t, db, r, saltmarsh, wren, c.at, 3)
	store.Before(t, db, 12, func() {
		// What a program of then does, beside this one or alone.
		if err := db.LookedAt(t.Context(), saltmarsh, coach, first.ID, third.ID); err != nil {
			t.Fatal(err)
		}
		post(t, db, r, saltmarsh, wren, c.at, 3)
	})
	if n := store.Unread(t, db); n != 2 {
		t.Errorf("%d wait, want %s and the one posted before", n, second.ID)
	}
}
