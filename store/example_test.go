package store_test

import (
	"context"
	"fmt"
	"log"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// A session is posted, and its numbers are read back; the coach sees them once
// the student consents.
func Example() {
	ctx := context.Background()
	db, err := store.Open(ctx, "") // a temporary database
	if err != nil {
		log.Fatal(err)
	}
	defer db.Close()

	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for n, face := range []float64{1.5, 2.5, 2} {
		shots = append(shots, analysis.Shot{N: n + 1, Club: iron}.With(analysis.Face, face*analysis.Degree))
	}
	_, created, err := db.PostSession(ctx, store.NewSession{
		Server: "saltmarsh", Student: "wren", Name: "tuesday.csv", Raw: []byte("face\n1.5\n2.5\n2\n"),
		Reading: store.Reading{Session: analysis.Session{
			When: time.Date(2026, 4, 7, 18, 0, 0, 0, time.UTC), Shots: shots,
		}},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("created:", created)

	sessions, err := db.Values(ctx, "saltmarsh", "wren", store.ValuesFilter{Number: analysis.Face, Club: iron})
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range sessions {
		fmt.Printf("%s: %d balls, face %.1f deg right\n", s.At.Format(time.DateOnly), len(s.Values), s.Mean/analysis.Degree)
	}

	asked, err := db.AskConsent(ctx, "saltmarsh", "lesson-thread", "wren", "coach")
	if err != nil {
		log.Fatal(err)
	}
	before, _ := db.MaySee(ctx, "saltmarsh", "coach", "wren")
	if _, err := db.GiveConsent(ctx, "saltmarsh", asked.ID, "wren"); err != nil {
		log.Fatal(err)
	}
	after, _ := db.MaySee(ctx, "saltmarsh", "coach", "wren")
	fmt.Println("coach sees:", before, "then", after)
	// Output:
	// created: true
	// 2026-04-07: 3 balls, face 2.0 deg right
	// coach sees: false then true
}
