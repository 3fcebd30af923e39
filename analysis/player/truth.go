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

// Truth strikes balls without mishits and puts each right on paper: face at
// its reference, path at its reference, both; shared out over the two orders.
func (p Player) Truth(balls int, rng *rand.Rand) Truth {
	p.Spread.Mishits = 0
	var t Truth
	square := 0.0
	n := float64(balls)
	for range balls {
		s := p.Strike(rng)
		face, path := s.Delivery.Face, s.Delivery.Path
		both, neither := s.Landing.Lateral, s.lateral(0, 0, false)
		facePut, pathPut := s.lateral(0, path, false), s.lateral(face, 0, false)
		t.Miss += both / n
		t.Face += (both - facePut + pathPut - neither) / 2 / n
		t.Path += (both - pathPut + facePut - neither) / 2 / n
		t.Strike += (both - s.lateral(face, path, true)) / n
		t.Carry += s.Landing.Carry / n
		square += both * both / n
	}
	t.Rest = t.Miss - t.Face - t.Path
	t.Deviation = math.Sqrt(max(0, square-t.Miss*t.Miss))
	return t
}
