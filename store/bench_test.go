package store_test

import (
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// BenchmarkPost keeps a session of 60 balls with 23 numbers each, synced to
// disk.
func BenchmarkPost(b *testing.B) {
	db, r, at := open(b), seeded(), newClock().at
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
		if _, err := db.Session(b.Context(), saltmarsh, id); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTimeline reads one number of 30,000 balls over 500 sessions.
func BenchmarkTimeline(b *testing.B) {
	db, r, at := open(b), seeded(), newClock().at
	for i := range 500 {
		post(b, db, r, saltmarsh, wren, at.AddDate(0, 0, i), 60)
	}
	timeline(b, db)
}

func timeline(b *testing.B, db *store.DB) {
	for _, means := range []bool{false, true} {
		b.Run(map[bool]string{false: "values", true: "means"}[means], func(b *testing.B) {
			for b.Loop() {
				got, err := db.Values(b.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face, MeansOnly: means})
				if err != nil || len(got) != 500 {
					b.Fatalf("%d sessions, %v", len(got), err)
				}
			}
		})
	}
}
