package flight

import (
	"math"

	"rangepost/analysis"
)

// The ball of the rules: as heavy and as small as they allow. USGA and R&A,
// Equipment Rules, part 4. [P]
const (
	Mass     = 0.04593 // kg, the most allowed
	Diameter = 0.04267 // m, the least allowed

	radius = Diameter / 2
	area   = math.Pi * radius * radius

	gravity = 9.80665 // m/s^2, standard
)

// A Model is what decides a flight besides the launch. Its zero value is not
// ready; start from Standard or Of.
type Model struct {
	Coefficients Coefficients
	Air          Air
	Wind         Wind

	// SpinDecay is lambda in d(omega)/dt = -lambda V omega / r, at sea level;
	// it falls in proportion to air density. 0 is no decay.
	SpinDecay float64

	Turf Turf // where it lands
}

// spinDecay is the middle of three: Smits and Smith (1994), which Penner (2001)
// eq. 16 and the 2006 report eq. 5 took over [S]; about half of it, measured of a
// modern ball in US 8,529,373 B2, table 6B [S]; and 4 % a second by Aoki et al.
// (2010), as used by Lyu et al. (2018) [S], which for a drive is 2.2e-5 [C].
// Their geometric mean is 1.6e-5; the difference is worth a yard of carry.
const spinDecay = 2.0e-5

// DecaySpread is the standard deviation between the three of the logarithm of
// SpinDecay.
const DecaySpread = 0.4

// standardDensity is the air density at sea level that SpinDecay refers to.
const standardDensity = 1.225

// Standard is the default model: the mean of the published coefficients, standard air at sea
// level, no wind, natural turf.
func Standard() Model {
	return Model{
		Coefficients: Evidence{},
		Air:          StandardAir(0),
		SpinDecay:    spinDecay,
		Turf:         NaturalTurf,
	}
}

// Of is Standard in the air and wind of a session.
func Of(c analysis.Conditions) Model {
	m := Standard()
	m.Air = AirOf(c)
	m.Wind = WindOf(c)
	return m
}

// Landing is the ball as it comes back to the level it left.
type Landing struct {
	Carry   float64 // m along the target line
	Lateral float64 // m right of the target line
	Apex    float64 // m above the ground
	Time    float64 // s in the air
	Speed   float64 // m/s, over the ground
	Descent float64 // rad below the horizontal
	Heading float64 // rad right of the target line, which way it is going
	Spin    float64 // rad/s

	// axis is the spin axis in space, zero for plain backspin along Heading.
	axis vec
}
