package cause_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

func smoke(n int, face, path float64) analysis.Set {
	rng := rand.New(rand.NewPCG(1, 2))
	set := analysis.Set{Club: analysis.Club{Family: analysis.Iron, Number: 7}}
	m := ball.Of(set.Club, 0, analysis.Conditions{})
	for i := range n {
		d := analysis.Delivery{ClubSpeed: 38, Attack: -4 * analysis.Degree, DynamicLoft: 24 * analysis.Degree,
			Face: (face + 1.5*rng.NormFloat64()) * analysis.Degree, Path: (path + 1.5*rng.NormFloat64()) * analysis.Degree}
		l := m.Land(d, ball.Departure{})
		s := analysis.Shot{N: i + 1, Club: set.Club}.With(analysis.ClubSpeed, d.ClubSpeed).With(analysis.Attack, d.Attack).With(analysis.DynamicLoft, d.DynamicLoft).
			With(analysis.Face, d.Face).With(analysis.Path, d.Path).With(analysis.Lateral, l.Lateral+rng.NormFloat64()).With(analysis.Carry, l.Carry)
		set.Shots = append(set.Shots, s)
	}
	return set
}

func TestSmoke(t *testing.T) {
	for _, n := range []int{3, 8, 20} {
		set := pattern.Mishits(smoke(n, 3, 0))
		p := pattern.Of(set)
		r := cause.Of(set, p, cause.Config{})
		fmt.Printf("%+v\n%+v\n%+v %+v\n", r.Verdict, r.Confidence, r.Miss, r.Face)
		fmt.Printf("%+v %+v %v %+v\n", r.Path, r.Rest, r.MoreBalls, r.WorkBack)
		fmt.Println(r.Corridor.OK, len(r.Corridor.Edges), r.FaceWorth*analysis.Degree/analysis.Yard, r.PathWorth*analysis.Degree/analysis.Yard, r.Warnings)
	}
}

func BenchmarkOf60(b *testing.B) {
	set := smoke(60, 3, 0)
	p := pattern.Of(set)
	for b.Loop() {
		cause.Of(set, p, cause.Config{})
	}
}
