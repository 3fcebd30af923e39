package challenge_test

import (
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// A file without a column that is scored is refused with its name and what to do;
// the same balls exported anew count, and nobody has to look at them.
func TestBareFileThenTheWhole(t *testing.T) {
	terms := challenge.Terms{Rule: challenge.Narrow, Club: iron, Balls: 10, Ball: analysis.RangeBall}.Fairly(1)
	whole := session(12, func(_ int, s analysis.Shot) analysis.Shot { return s })
	side := session(12, func(_ int, s analysis.Shot) analysis.Shot { return s.With(analysis.Carry, math.NaN()) })
	_, err := terms.Take(0, side)
	if err == nil || !strings.Contains(err.Error(), "12 balls with the 7-iron, and no carry of any of them") {
		t.Fatalf("no carry: %v", err)
	}
	got, err := terms.Take(0, side, whole)
	if err != nil || got.Bare != 0 || len(got.Doubts()) > 0 {
		t.Errorf("exported anew: %d bare, %v, %v", got.Bare, got.Doubts(), err)
	}
	other := session(12, func(_ int, s analysis.Shot) analysis.Shot {
		v, _ := s.Value(analysis.Lateral)
		return s.With(analysis.Lateral, 3-v)
	})
	if got, err := terms.Take(0, side, other); err != nil || got.Bare != 1 {
		t.Errorf("other balls after a session without carry: %d bare, %v", got.Bare, err)
	}
	inferred := session(12, func(_ int, s analysis.Shot) analysis.Shot {
		v, _ := s.Value(analysis.Carry)
		return s.With(analysis.Carry, math.NaN()).WithInferred(analysis.Carry, v)
	})
	if _, err := terms.Take(0, inferred); err == nil || !strings.Contains(err.Error(), "carry was worked back") {
		t.Errorf("inferred: %v", err)
	}
}
