package flight

import (
	"math"

	"rangepost/analysis"
)

// Wind blows level and steady, slower near the ground. The zero Wind is still
// air.
type Wind struct {
	Speed   float64 // m/s at 10 m above the ground
	From    float64 // rad clockwise from the target line: 0 is into the face
	Profile Profile
}

// A Profile is how wind grows with height.
type Profile uint8

// The profiles.
const (
	// LogProfile is the logarithmic law over mown grass, roughness length
	// z0 = 0.03 m, moved down by half a metre so that it has a value on the
	// ground: U(z) = U10 ln((z + 0.5)/z0) / ln(10.5/z0). From two metres up
	// that is within 5 % of the plain law.
	LogProfile Profile = iota
	// Uniform is the same wind at every height.
	Uniform
)

const (
	roughness = 0.03 // m, short grass
	shift     = 0.5  // m
)

var logAt10 = math.Log((10 + shift) / roughness)

// share is the wind at a height over that at 10 m. Below the ground, where
// only a step that is about to land looks, it goes on straight.
func (p Profile) share(z float64) float64 {
	if p == Uniform {
		return 1
	}
	if z < 0 {
		return (math.Log(shift/roughness) + z/shift) / logAt10
	}
	return math.Log((z+shift)/roughness) / logAt10
}

// WindOf is the wind of a session, still air when it is not known. A speed
// without a direction says nothing about a flight and counts as not known.
func WindOf(c analysis.Conditions) Wind {
	if c.WindSpeed == nil || c.WindFrom == nil {
		return Wind{}
	}
	return Wind{Speed: *c.WindSpeed, From: *c.WindFrom}
}
