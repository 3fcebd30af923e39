package store_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// The invented server and people of the tests.
const (
	saltmarsh = "server-saltmarsh"
	elsewhere = "server-elsewhere"
	wren      = "user-wren"
	tamsin    = "user-tamsin"
	odell     = "user-odell"
	coach     = "user-coach"
	rival     = "user-rival"
)

// A clock stands still until it is moved.
type clock struct{ at time.Time }

func (c *clock) now() time.Time      { return c.at }
func (c *clock) add(d time.Duration) { c.at = c.at.Add(d) }

func newClock() *clock { return &clock{time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)} }

// open is a database in a file of its own, gone when the test ends.
func open(tb testing.TB, opts ...store.Option) *store.DB {
	tb.Helper()
	db, err := store.Open(tb.Context(), store.NewPath(tb), opts...)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := db.Close(); err != nil {
			tb.Errorf("closing: %v", err)
		}
	})
	return db
}

func club(tb testing.TB, s string) analysis.Club {
	tb.Helper()
	c, err := analysis.ParseClub(s)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// shots are n balls of one club with every number of a full device.
func shots(tb testing.TB, r *rand.Rand, n int, with string) []analysis.Shot {
	c := club(tb, with)
	all := make([]analysis.Shot, n)
	for i := range all {
		s := analysis.Shot{N: i + 1, Row: i + 2, Club: c, Label: [...]string{"normal", "strong grip"}[i%2]}
		for _, number := range analysis.Numbers() {
			s = s.With(number, 1+0.1*r.NormFloat64())
		}
		all[i] = s
	}
	return all
}

// post hands over a session of n balls hit at a time; its file is unlike any
// other's.
func post(tb testing.TB, db *store.DB, r *rand.Rand, server, student string, at time.Time, n int) store.Session {
	tb.Helper()
	s, created, err := db.PostSession(tb.Context(), newSession(tb, r, server, student, at, n))
	if err != nil || !created {
		tb.Fatalf("PostSession = created %v, %v", created, err)
	}
	return s
}

func newSession(tb testing.TB, r *rand.Rand, server, student string, at time.Time, n int) store.NewSession {
	return store.NewSession{
		Server: server, Student: student, Name: "range.csv",
		Raw: fmt.Appendf(nil, "club,face\n7i,%d\n", r.Uint64()),
		Reading: store.Reading{
			Session:     analysis.Session{Ball: analysis.RangeBall, When: at, Shots: shots(tb, r, n, "7i")},
			Fingerprint: "club,face",
		},
	}
}

func seeded() *rand.Rand { return rand.New(rand.NewPCG(1, 2)) }

var background = context.Background()
