package trial_test

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
)

// scattered are n face angles with mean 0 and standard deviation sd exactly.
func scattered(n int, mean, sd float64) []float64 {
	deg := make([]float64, n)
	for i := range deg {
		deg[i] = float64(i) - float64(n-1)/2
	}
	have := math.Sqrt(stat.SampleOf(deg).Variance)
	for i := range deg {
		deg[i] = mean + deg[i]*sd/have
	}
	return deg
}

// More balls are as few as will do: with them a difference of twice the
// practical zero shows four times in five, with one less in any set it does
// not. The smaller set is filled up first.
func TestMoreBalls(t *testing.T) {
	const sd = 2.0 // deg
	for _, c := range []struct{ base, set int }{{6, 6}, {10, 4}, {4, 10}, {30, 8}, {2, 25}} {
		r := of(t, []analysis.Set{faces("normal", scattered(c.base, 0, sd)...), faces("tried", scattered(c.set, 0.9, sd)...)}, trial.Config{})
		got := row(t, r, 1, analysis.Face)
		if got.MoreFor != trial.Moved || math.Abs(got.Look-2*analysis.Degree) > 1e-12 {
			t.Errorf("%v: for %q of %v, want moved, 2 deg", c, got.MoreFor, got.Look)
			continue
		}
		power := func(base, set int) float64 {
			return stat.NewBehrensFisherPower(base, set, 0.05).Of(2 / sd)
		}
		base, set := c.base+got.MoreBase, c.set+got.MoreSet
		if p := power(base, set); p < 0.8 {
			t.Errorf("%v: with %d and %d balls the power is %.3f, want 0.8", c, base, set, p)
		}
		if got.MoreBase > 0 && power(base-1, set) >= 0.8 || got.MoreSet > 0 && power(base, set-1) >= 0.8 {
			t.Errorf("%v: %d and %d balls are more than needed", c, base, set)
		}
		if got.MoreBase > 0 && got.MoreSet > 0 && base != set {
			t.Errorf("%v: %d and %d balls, want both alike once the smaller is filled up", c, base, set)
		}
		if found := stat.NewBehrensFisherPower(c.base, c.set, 0.05).Of(got.Finds / analysis.Degree / sd); math.Abs(found-0.8) > 1e-6 {
			t.Errorf("%v: Finds %v has power %.4f, want 0.8", c, got.Finds, found)
		}
	}
}

// The figure every coach should know: a difference of one spread takes about
// 17 balls a set (16.7 for the pooled t test: Cohen 1988, table 2.4.1).
func TestSeventeenBalls(t *testing.T) {
	r := of(t, []analysis.Set{faces("normal", scattered(5, 0, 2)...), faces("tried", scattered(5, 0, 2)...)}, trial.Config{})
	got := row(t, r, 1, analysis.Face)
	if n := 5 + got.MoreSet; n < 17 || n > 18 || got.MoreBase != got.MoreSet {
		t.Errorf("%d and %d balls, want 17 or 18 each", 5+got.MoreBase, n)
	}
}

// Enough balls to have shown a move, and none shown: what is wanting now is
// balls to call it held: 70 a set for a margin of half a standard deviation, by
// the exact integral in R [C].
func TestMoreBallsForHeld(t *testing.T) {
	r := of(t, []analysis.Set{faces("normal", scattered(25, 0, 2)...), faces("tried", scattered(25, 0.5, 2)...)}, trial.Config{})
	got := row(t, r, 1, analysis.Face)
	if got.Verdict != trial.CannotTell || got.MoreFor != trial.Held || got.MoreBase == 0 {
		t.Fatalf("%q, %d more for %q; want cannot tell, some, held", got.Verdict, got.MoreBase, got.MoreFor)
	}
	if want := 70 - 25; got.MoreBase != want || got.MoreSet != want {
		t.Errorf("%d and %d more, want %d each", got.MoreBase, got.MoreSet, want)
	}
}

// The more rows a trial has, the more balls each needs.
func TestMoreRowsMoreBalls(t *testing.T) {
	two := of(t, []analysis.Set{faces("normal", scattered(8, 0, 2)...), faces("a", scattered(8, 0, 2)...)}, trial.Config{})
	var sets []analysis.Set
	for _, label := range []string{"normal", "a", "b", "c", "d", "e"} {
		sets = append(sets, faces(label, scattered(8, 0, 2)...))
	}
	six := of(t, sets, trial.Config{})
	if a, b := row(t, two, 1, analysis.Face).MoreSet, row(t, six, 1, analysis.Face).MoreSet; a >= b {
		t.Errorf("%d more with one set, %d with five", a, b)
	}
}
