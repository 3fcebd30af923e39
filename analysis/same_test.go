package analysis_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rangepost/analysis"
)

// written is shots as a file has them: each number to so many decimals of a
// unit.
func written(shots []analysis.Shot, numbers []analysis.Number, unit func(analysis.Number) float64, decimals int) []analysis.Shot {
	step := math.Pow(10, -float64(decimals))
	out := slices.Clone(shots)
	for i := range out {
		for _, n := range numbers {
			v, _ := out[i].Value(n)
			out[i] = out[i].With(n, math.Round(v/unit(n)/step)*step*unit(n))
		}
	}
	return out
}

// Any session is itself in yards or metres, whole or with decimals, in any
// order, under any club; no other session of the same golfer is, and none with
// one ball struck anew.
func TestSameBallsHoweverDressed(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 17))
	all := []analysis.Number{analysis.Carry, analysis.Lateral, analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.Face, analysis.Path}
	scale := map[analysis.Number][2]float64{ // mean and scatter, in SI
		analysis.Carry: {140, 6}, analysis.Lateral: {3, 8}, analysis.BallSpeed: {50, 1}, analysis.LaunchAngle: {.3, .03},
		analysis.Direction: {.01, .03}, analysis.Spin: {600, 40}, analysis.Face: {.02, .04}, analysis.Path: {0, .04},
	}
	imperial := func(n analysis.Number) float64 {
		return analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}.Scale(n.Info().Kind)
	}
	metric := func(n analysis.Number) float64 {
		return analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}.Scale(n.Info().Kind)
	}
	coincidences, tries := 0, 0
	for range 400 {
		numbers := slices.Clone(all[:1+r.IntN(len(all))])
		balls := 10 + r.IntN(30)
		hit := func() []analysis.Shot {
			shots := make([]analysis.Shot, balls)
			for i := range shots {
				for _, n := range numbers {
					shots[i] = shots[i].With(n, scale[n][0]+scale[n][1]*r.NormFloat64())
				}
			}
			return shots
		}
		shots := hit()
		first := written(shots, numbers, imperial, 1)
		dressed := map[string][]analysis.Shot{
			"more decimals":       written(shots, numbers, imperial, 3),
			"metric":              written(shots, numbers, metric, 1),
			"metric, of the file": written(first, numbers, metric, 2),
			"whole":               written(shots, numbers, imperial, 0),
		}
		other := slices.Clone(first)
		r.Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
		for i := range other {
			other[i].Club, other[i].Label, other[i].N = analysis.Club{Family: analysis.Iron, Number: 8}, "dressed", i+1
		}
		dressed["another order and club"] = other
		for name, d := range dressed {
			if !analysis.SameBalls(first, d) || !analysis.SameBalls(d, first) {
				t.Fatalf("%d balls with %d numbers, %s: not the same", balls, len(numbers), name)
			}
		}
		tries++
		if analysis.SameBalls(first, written(hit(), numbers, metric, 1)) {
			coincidences++
		}
		again := slices.Clone(first)
		for _, n := range numbers {
			v, _ := again[0].Value(n)
			again[0] = again[0].With(n, v+1.5*analysis.CoarseStep(n))
		}
		if analysis.SameBalls(first, written(again, numbers, imperial, 1)) {
			t.Fatalf("%d balls with %d numbers: the same with a ball hit anew", balls, len(numbers))
		}
		if analysis.SameBalls(first, first[1:]) {
			t.Fatal("the same without a ball")
		}
	}
	if coincidences > 0 {
		t.Errorf("%d of %d other sessions are taken for the same", coincidences, tries)
	}
	few := written([]analysis.Shot{analysis.Shot{}.With(analysis.Carry, 140), analysis.Shot{}.With(analysis.Carry, 150)}, all[:1], imperial, 0)
	if analysis.SameBalls(few, few) {
		t.Error("two carries may be two sessions'")
	}
}
