package store_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

// What trials taught comes back by club, oldest session first; another reading
// of the session teaches anew, and a deleted session teaches nothing.
func TestTaught(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	iron, driver := club(t, "7i"), club(t, "driver")
	grip := analysis.Observation{Club: iron, Tool: "stronger grip", Number: analysis.Face, Difference: -0.05, SE: 0.01, Balls: 12}
	forward := analysis.Observation{Club: driver, Tool: "ball forward", Number: analysis.Attack, Difference: 0.02, SE: 0.008, Balls: 9}
	n := full(t)
	n.Reading.Taught = []analysis.Observation{grip, forward}
	s, _, err := db.PostSession(t.Context(), n)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(n.Reading.Taught, s.Reading.Taught); d != "" {
		t.Errorf("kept (-want +got):\n%s", d)
	}
	want := func(club analysis.Club, want ...analysis.Observation) {
		t.Helper()
		got, err := db.Taught(t.Context(), saltmarsh, wren, club)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("taught with the %v (-want +got):\n%s", club, d)
		}
	}
	want(iron, grip)
	want(analysis.Club{}, grip, forward)

	weaker := grip
	weaker.Tool, weaker.Difference = "weaker grip", 0.04
	s.Reading.Taught = []analysis.Observation{weaker}
	if _, err := db.ReplaceReading(t.Context(), saltmarsh, s.ID, s.Reading, s.Said); err != nil {
		t.Fatal(err)
	}
	want(analysis.Club{}, weaker)

	if err := db.ForgetStudent(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	want(analysis.Club{})
}
