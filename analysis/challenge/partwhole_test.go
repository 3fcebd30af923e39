package challenge_test

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// A part of a file and then the whole of it are each ball once.
func TestPartThenWhole(t *testing.T) {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var whole analysis.Session
	whole.Ball = analysis.RangeBall
	for i := range 12 {
		whole.Shots = append(whole.Shots, analysis.Shot{N: i + 1, Row: i + 2, Club: iron}.With(analysis.Carry, 130+float64(i*7%11)).With(analysis.Lateral, float64(i*5%13)-6))
	}
	part := whole
	part.Shots = whole.Shots[:6]
	terms := challenge.Terms{Rule: challenge.Narrow, Club: iron, Balls: 10, Ball: analysis.RangeBall}.Fairly(1)
	stretch, err := terms.Take(0, part, whole)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range stretch.Balls {
		if b.N != i+1 || b.Session != i/6 {
			t.Errorf("ball %d is number %d of session %d", i+1, b.N, b.Session)
		}
	}
	if _, err := terms.Take(0, part, part); err == nil {
		t.Error("six balls twice are taken for twelve")
	}
}
