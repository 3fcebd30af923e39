package player

import (
	"math"
	"math/rand/v2"
)

// Truth is whose the player's sideways miss truly is, in the long run: m,
// positive right, by the player's own club and air.
type Truth struct {
	Miss, Face, Path, Rest float64
	Strike                 float64 // of Rest: what the strike off the centre does
	Carry                  float64
	Deviation              float64 // of one ball's lateral
}

// Truth strikes balls without mishits and puts each right on paper: face on
// the target line, path on it, both; shared out over the two orders. Balls
// come in pairs that stray the same amount to either side, which leaves little
// of the sampling error.
func (p Player) Truth(balls int, rng *rand.Rand) Truth {
	var t Truth
	square := 0.0
	pairs := (balls + 1) / 2
	n := float64(2 * pairs)
	for range pairs {
		stray := p.stray(rng)
		for _, by := range [2]float64{1, -1} {
			b := p.hit(stray, by)
			face, path := b.Delivery.Face, b.Delivery.Path
			both, neither := b.Landing.Lateral, b.lateral(0, 0, false)
			facePut, pathPut := b.lateral(0, path, false), b.lateral(face, 0, false)
			t.Miss += both / n
			t.Face += (both - facePut + pathPut - neither) / 2 / n
			t.Path += (both - pathPut + facePut - neither) / 2 / n
			t.Strike += (both - b.lateral(face, path, true)) / n
			t.Carry += b.Landing.Carry / n
			square += both * both / n
		}
	}
	t.Rest = t.Miss - t.Face - t.Path
	t.Deviation = math.Sqrt(max(0, square-t.Miss*t.Miss))
	return t
}
