package plan

import (
	"math/rand/v2"

	"rangepost/analysis/stat"
)

// bounds are what the number of interest of one set is judged by. They follow
// from the plan alone, so they are fixed before a ball is hit.
type bounds struct {
	moved, held         stat.AnytimeT
	alphaMoved, alphaIn float64   // the share of alpha of either evidence
	half, inside        []float64 // for n blocks, where each is enough, in roots of Squares/n
}

// found is how large a change is looked for first, in changes that matter: what
// is worth a plan lies between one and two of them. It costs the smallest of them
// next to nothing and finds twice that sooner [C].
const found = 1.5

// newBounds is for a change that matters of d standard deviations of a block's
// difference, over as many as n blocks, with so many sets beside the usual one.
func newBounds(d float64, n, others int) bounds {
	b := bounds{
		moved: mixture(found * d), held: mixture(d),
		alphaMoved: alphaPrimary(others), alphaIn: alpha / float64(others),
		half: make([]float64, n+1), inside: make([]float64, n+1),
	}
	for k := range b.half {
		b.half[k] = b.moved.Half(k, b.alphaMoved)
		b.inside[k] = b.held.HalfSided(k, b.alphaIn)
	}
	return b
}

// mixture looks for a difference of d of its standard deviations.
func mixture(d float64) stat.AnytimeT {
	const least = 0.05 // a hundred blocks would not show less
	d = max(d, least)
	return stat.AnytimeT{Precision: 1 / (d * d)}
}

// chanceToShow is the chance that a true difference of d standard deviations of
// a block's is called moved within n blocks, looked at after each. It is counted
// on a few thousand plans from a seed of its own: the same plan has the same
// chance, within 0.02 of the true one.
func chanceToShow(d float64, n, others int) float64 {
	const plans = 2000
	a, level := mixture(found*d), alphaPrimary(others)
	rng := rand.New(rand.NewPCG(0x706f, 0x7765_72))
	enough := make([]float64, n+1)
	for k := range enough {
		half := a.Half(k, level)
		enough[k] = half * half
	}
	shown := 0
	for range plans {
		var s stat.Sequence
		for k := 1; k <= n; k++ {
			if s = s.And(d + rng.NormFloat64()); s.Mean*s.Mean*float64(k) >= enough[k]*s.Squares {
				shown++
				break
			}
		}
	}
	return float64(shown) / plans
}
