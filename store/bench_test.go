package store_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// BenchmarkPost keeps a session of 60 balls with 23 numbers each, which waits for
// its coach, synced to disk.
func BenchmarkPost(b *testing.B) {
	c := newClock()
	db, r, at := open(b, store.WithClock(c.now)), seeded(), c.at
	bind(b, db, "thread", wren, coach)
	for b.Loop() {
		post(b, db, r, saltmarsh, wren, at, 60)
	}
}

// BenchmarkAccept takes on a request, synced to disk: the least a commit costs.
func BenchmarkAccept(b *testing.B) {
	db, n := open(b), 0
	for b.Loop() {
		n++
		if _, err := db.Accept(b.Context(), store.Intake{ID: time.Unix(int64(n), 0).String(), Body: make([]byte, 800)}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSession reads 60 balls back.
func BenchmarkSession(b *testing.B) {
	db, r := open(b), seeded()
	id := post(b, db, r, saltmarsh, wren, newClock().at, 60).ID
	for b.Loop() {
		if _, err := db.SessionWithBalls(b.Context(), saltmarsh, id); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTimeline reads one number of 30,000 balls over 500 sessions, alone
// in the database.
func BenchmarkTimeline(b *testing.B) {
	db := open(b)
	postSeason(b, db, seeded(), wren, 500)
	timeline(b, db)
}

// BenchmarkRoster reads the lines of 200 students with a brief and five
// sessions each.
func BenchmarkRoster(b *testing.B) {
	c := newClock()
	db, r := open(b, store.WithClock(c.now)), seeded()
	for i := range 200 {
		coached(b, db, c, number(i))
		postSeason(b, db, r, number(i), 5)
	}
	roster(b, db, 5)
}

// BenchmarkMillion does what BenchmarkPost, BenchmarkTimeline and
// BenchmarkRoster do among 1,000,200 shots: 500 sessions of one student, and 30
// of each of 539 others, 200 of them on the roster. It needs
// RANGEPOST_MILLION=FILE and fills the file, in a minute or two, if it is not
// there.
func BenchmarkMillion(b *testing.B) {
	path := os.Getenv("RANGEPOST_MILLION")
	if path == "" {
		b.Skip("RANGEPOST_MILLION names no file")
	}
	_, missing := os.Stat(path)
	c := newClock()
	db, err := store.Open(b.Context(), path, store.WithClock(c.now))
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	r := seeded()
	if missing != nil {
		postSeason(b, db, r, wren, 500)
		for i := range 539 {
			if i < 200 {
				coached(b, db, c, number(i))
			}
			postSeason(b, db, r, number(i), 30)
		}
	}
	timeline(b, db)
	roster(b, db, 30)
	b.Run("unread", func(b *testing.B) {
		for b.Loop() {
			if first, more, err := db.Unread(b.Context(), saltmarsh, coach, store.UnreadFilter{}); err != nil || first == nil || more == 0 {
				b.Fatalf("%v, %d more, %v", first, more, err)
			}
		}
	})
	b.Run("measured", func(b *testing.B) {
		for b.Loop() {
			if all, err := db.Measured(b.Context(), saltmarsh, wren); err != nil || len(all) != analysis.NumNumbers {
				b.Fatalf("%d numbers, %v", len(all), err)
			}
		}
	})
	b.Run("post", func(b *testing.B) {
		r := rand.New(rand.NewPCG(rand.Uint64(), 0)) // unlike the files of an earlier run
		for b.Loop() {
			post(b, db, r, saltmarsh, tamsin, newClock().at, 60)
		}
	})
	b.Run("health", func(b *testing.B) {
		for b.Loop() {
			if _, err := db.Health(b.Context()); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkEngines does what people wait for on either engine, in databases of ten
// thousand, a hundred thousand and, unless -short, a million balls, each synced as
// it is by default: a post of 60 balls, a number of 66 sessions, a roster of 200,
// the next post of a review, and what is offered while a session is typed.
func BenchmarkEngines(b *testing.B) {
	for _, size := range []struct {
		name            string
		members, theirs int // the first so many of the roster have so many sessions each
	}{{"1e4", 100, 1}, {"1e5", 200, 8}, {"1e6", 200, 83}} {
		b.Run(size.name, func(b *testing.B) {
			if testing.Short() && size.theirs > 50 {
				b.Skip("filling it takes minutes")
			}
			c := newClock()
			db, err := store.Open(b.Context(), store.NewSyncedPath(b), store.WithClock(c.now))
			if err != nil {
				b.Fatal(err)
			}
			defer db.Close()
			r := seeded()
			postSeason(b, db, r, wren, 66)
			bind(b, db, "thread of "+tamsin, tamsin, rival)
			for i := range 200 {
				coached(b, db, c, number(i))
				if i < size.members {
					postSeason(b, db, r, number(i), size.theirs)
				}
			}
			for _, job := range []struct {
				name string
				do   func() error
			}{
				{"post", func() error { post(b, db, r, saltmarsh, tamsin, newClock().at, 60); return nil }},
				{"timeline", func() error {
					_, err := db.Values(b.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face})
					return err
				}},
				{"roster", func() error { _, err := db.Roster(b.Context(), saltmarsh, coach); return err }},
				{"review", func() error {
					_, _, err := db.Unread(b.Context(), saltmarsh, coach, store.UnreadFilter{})
					return err
				}},
				{"completion", func() error {
					_, err := db.Sessions(b.Context(), saltmarsh, wren, store.SessionFilter{Limit: 25})
					return err
				}},
			} {
				b.Run(job.name, func(b *testing.B) {
					for b.Loop() {
						if err := job.do(); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		})
	}
}

func number(i int) string { return fmt.Sprintf("user-%03d", i) }

// postSeason posts sessions of 60 balls, one a day.
func postSeason(b *testing.B, db *store.DB, r *rand.Rand, student string, sessions int) {
	b.Helper()
	for i := range sessions {
		post(b, db, r, saltmarsh, student, newClock().at.AddDate(0, 0, -i), 60)
	}
}

// coached binds a student to the coach, with a lesson and a brief of four days
// ago: the five latest sessions are progress with it, and unread.
func coached(b *testing.B, db *store.DB, c *clock, student string) {
	b.Helper()
	c.add(-4 * 24 * time.Hour)
	defer c.add(4 * 24 * time.Hour)
	bind(b, db, "thread-"+student, student, coach)
	if _, err := db.AddLesson(b.Context(), store.Lesson{Server: saltmarsh, Student: student, Coach: coach, Lesson: analysis.Lesson{At: newClock().at.AddDate(0, 0, -3)}}); err != nil {
		b.Fatal(err)
	}
	if _, err := db.SetBrief(b.Context(), store.Brief{Server: saltmarsh, Student: student, Coach: coach, Brief: analysis.Brief{Number: analysis.FaceToPath}}); err != nil {
		b.Fatal(err)
	}
}

func timeline(b *testing.B, db *store.DB) {
	for _, means := range []bool{false, true} {
		b.Run(map[bool]string{false: "timeline", true: "timeline means"}[means], func(b *testing.B) {
			for b.Loop() {
				got, err := db.Values(b.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face, MeansOnly: means})
				if err != nil || len(got) != 500 {
					b.Fatalf("%d sessions, %v", len(got), err)
				}
			}
		})
	}
}

func roster(b *testing.B, db *store.DB, sessions int) {
	b.Run("roster", func(b *testing.B) {
		for b.Loop() {
			lines, err := db.Roster(b.Context(), saltmarsh, coach)
			if err != nil || len(lines) != 200 || len(lines[199].Values) != sessions || lines[199].Progress.Sessions != 5 {
				b.Fatalf("%d lines, %v", len(lines), err)
			}
		}
	})
}
