package panel

import (
	"math"
	"math/rand/v2"
)

// Wind is a session's mean wind at 10 m: m/s, and where it comes from, rad
// clockwise from the target line, 0 into the face.
type Wind struct{ Speed, From float64 }

// Across is how fast it blows to the right, m/s.
func (w Wind) Across() float64 { return -w.Speed * math.Sin(w.From) }

// toward is the way it blows, times its strength of the moment.
func (w Wind) toward(strength float64) vec {
	if w.Speed == 0 {
		return vec{}
	}
	return vec{-math.Cos(w.From), -math.Sin(w.From), 0}.scale(w.Speed * max(0, strength))
}

// crosswind blows toward side with a little along the target line.
func crosswind(side, across, along float64) Wind {
	// Toward (along, side x across) is from the opposite way.
	return Wind{Speed: math.Hypot(across, along), From: math.Atan2(-side*across, -along)}
}

// breeze is the wind a world always has: light, its strength exponential.
type breeze float64

func (b breeze) draw(rng *rand.Rand) Wind {
	from, strength := 2*math.Pi*rng.Float64()-math.Pi, rng.ExpFloat64()
	if b == 0 {
		return Wind{}
	}
	return Wind{Speed: float64(b) * min(strength, 2.5), From: from}
}
