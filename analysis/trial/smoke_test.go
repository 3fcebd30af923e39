package trial

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

func player(rng *rand.Rand, label string, n, first int, face, path float64) analysis.Set {
	s := analysis.Set{Club: analysis.Club{Family: analysis.Iron, Number: 7}, Label: label}
	for i := range n {
		f := face*analysis.Degree + 2*analysis.Degree*rng.NormFloat64()
		p := path*analysis.Degree + 1.5*analysis.Degree*rng.NormFloat64()
		shot := analysis.Shot{N: first + i, Club: s.Club, Label: label}.
			With(analysis.Face, f).With(analysis.Path, p).
			With(analysis.Attack, (-4+rng.NormFloat64())*analysis.Degree).
			With(analysis.DynamicLoft, (24+1.5*rng.NormFloat64())*analysis.Degree).
			With(analysis.ClubSpeed, 38+0.6*rng.NormFloat64()).
			With(analysis.Carry, 145+5*rng.NormFloat64()).
			With(analysis.Lateral, 240*f-95*p+4*rng.NormFloat64()).Derived()
		s.Shots = append(s.Shots, shot)
	}
	return s
}

func TestSmoke(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	sets := []analysis.Set{player(rng, "normal", 20, 1, 0, 0), player(rng, "strong grip", 20, 21, -3, -4), player(rng, "ball back", 5, 41, 0, 1.5)}
	r, err := Of(sets, 0, Config{FaceWorth: 240, PathWorth: -95})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range r.Rows {
		k := row.Number.JSONScale()
		t.Logf("%d %-14s %6.2f [%6.2f %6.2f] p %.4f adj %.4f %s finds %.2f more %d/%d for %s zero %.2f eff %v shuf %v", row.Set, row.Number, row.Difference/k, row.Low/k, row.High/k, row.P, row.PAdjusted, row.Verdict, row.Finds/k, row.MoreBase, row.MoreSet, row.MoreFor, row.Zero/k, row.Effect, row.Shuffled)
	}
	t.Logf("%+v", r.Compensations)
	t.Logf("%+v %+v", r.Warnings, r.Sets)
}

func BenchmarkOf(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	var sets []analysis.Set
	for i := range 6 {
		sets = append(sets, player(rng, string(rune('a'+i)), 20, 1+20*i, float64(i), 0))
	}
	for b.Loop() {
		if _, err := Of(sets, 0, Config{FaceWorth: 240, PathWorth: -95}); err != nil {
			b.Fatal(err)
		}
	}
}
