package flight

import "rangepost/analysis"

// Turf is how the ground takes a ball.
type Turf struct {
	Tilt        float64 // rad the contact plane leans toward the ball
	Restitution float64 // normal speed out over in
	Friction    float64 // most the tangential impulse can be of the normal one
	Rolling     float64 // rolling resistance over weight
}

// The turfs, fitted on 1023 bounces: Biber et al. (2023), Sports Engineering
// 26:50 [S]; rolling resistance from Penner (2002), Canadian Journal of
// Physics 80:931 [S].
var (
	NaturalTurf    = Turf{Tilt: 18.4 * analysis.Degree, Restitution: 0.147, Friction: 0.998, Rolling: 0.131}
	ArtificialTurf = Turf{Tilt: 12.9 * analysis.Degree, Restitution: 0.420, Friction: 0.852, Rolling: 0.131}
)
