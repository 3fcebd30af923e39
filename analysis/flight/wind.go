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
	// z0 = 0.03 m: U(z) = U10 ln(1 + z/z0) / ln(1 + 10/z0). The 1 keeps it at
	// rest on the ground and changes nothing higher up.
	LogProfile Profile = iota
	// Uniform is the same wind at every height.
	Uniform
)

const roughness = 0.03 // m, short grass

// logAt10 is ln(1 + 10/z0).
var logAt10 = math.Log1p(10 / roughness)

// WindOf is the wind of a session, still air when it is not known. A speed
// without a direction says nothing about a flight and counts as not known.
func WindOf(c analysis.Conditions) Wind {
	if c.WindSpeed == nil || c.WindFrom == nil {
		return Wind{}
	}
	return Wind{Speed: *c.WindSpeed, From: *c.WindFrom}
}
