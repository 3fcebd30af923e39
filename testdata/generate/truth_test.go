package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/player"
)

// truth is whose the miss of a visit's first set truly is, by the golfer's own
// club and air.
func (v visit) truth(t *testing.T) player.Truth {
	t.Helper()
	club, err := analysis.ParseClub(v.parts[0].club)
	if err != nil {
		t.Fatal(err)
	}
	return v.player(v.parts[0], club).Truth(1000, rand.New(rand.NewPCG(1, 0)))
}

// TestStoryIsTrue: each golfer was made so that the story holds in their own
// world, whatever the analysis makes of it.
func TestStoryIsTrue(t *testing.T) {
	const yard = analysis.Yard
	for _, v := range story {
		truth := v.truth(t)
		t.Logf("%-26s miss %5.1f = face %5.1f + path %5.1f + rest %5.1f yd (strike %.1f), carry %.0f, one ball %.1f", v.file,
			truth.Miss/yard, truth.Face/yard, truth.Path/yard, truth.Rest/yard, truth.Strike/yard, truth.Carry/yard, truth.Deviation/yard)
		zero := max(3*yard, 0.02*truth.Carry)
		switch v.verdict {
		case cause.Centred:
			if math.Abs(truth.Miss) > zero/2 {
				t.Errorf("%s: the true miss is %.1f yd, want it well inside %.1f", v.file, truth.Miss/yard, zero/yard)
			}
		case cause.Face:
			if math.Abs(truth.Miss) < 2*zero || truth.Face/truth.Miss < 0.8 {
				t.Errorf("%s: the face truly owns %.0f %% of %.1f yd", v.file, 100*truth.Face/truth.Miss, truth.Miss/yard)
			}
		case cause.Path:
			if math.Abs(truth.Miss) < 2*zero || truth.Path/truth.Miss < 0.8 {
				t.Errorf("%s: the path truly owns %.0f %% of %.1f yd", v.file, 100*truth.Path/truth.Miss, truth.Miss/yard)
			}
		}
	}
}
