package impact

import "rangepost/analysis"

// A Head is a club head as the ball meets it. Start from HeadOf; a field may
// be changed where more is known of the club.
type Head struct {
	Hand analysis.Hand // whose toe is which way

	Mass        float64 // kg
	Restitution float64 // normal relative speed out over in
	Tangential  float64 // the same along the face; 0 is rolling
	Friction    float64 // most the tangential impulse can be of the normal one

	// SpinScale is measured spin over that of the rigid gripping contact,
	// which spins too much.
	SpinScale float64

	InertiaAcross float64 // kg m^2 about the vertical, resists a toe or heel strike
	InertiaUp     float64 // kg m^2 about the toe-heel axis, resists a high or low strike
	Depth         float64 // m from the face back to the centre of gravity
	GearScale     float64 // gear-effect spin over that of the rigid formula
	Bulge, Roll   float64 // m, radius of the face across and up; 0 is flat

	Usual       Usual       // how such a club is delivered
	Uncertainty Uncertainty // how well the model knows it
}

// The ball of the rules, as in package flight: USGA and R&A, Equipment Rules,
// part 4. [P]
const (
	ballMass   = 0.04593     // kg
	ballRadius = 0.04267 / 2 // m
)

const gramCentimetre2 = 1e-7 // kg m^2

// kind is what the clubs of one family have in common.
type kind struct {
	mass, restitution, spinScale float64
	inertiaAcross, inertiaUp     float64 // g cm^2
	depth, bulge, roll           float64 // mm
	lean                         float64 // dynamic loft over static loft
	attack, attackSD, spinLoftSD float64 // deg
	speed                        float64 // m/s
	shareSD                      float64
}

// The families. Restitution: the rules allow a driver 0.830 [M] and stop at
// 5900 g cm^2 [S]; the rest, and how each is usually delivered, are our
// middle-of-the-road figures (common practice, no source). The spread of the
// face share is published for driver, 7-iron and pitching wedge: Henrikson et
// al. (2020), Proceedings 49(1):27 [S]; woods and hybrids are put in between.
var kinds = map[analysis.Family]kind{
	analysis.Driver: {0.200, 0.83, 0.74, 4500, 2800, 33, 305, 305, 1.15, 0, 3.5, 2.2, 43, 0.08},
	analysis.Wood:   {0.212, 0.82, 0.85, 2600, 1500, 22, 254, 254, 0.95, -2, 2.5, 2.5, 41, 0.07},
	analysis.Hybrid: {0.232, 0.80, 0.92, 2600, 1100, 15, 330, 0, 0.90, -3, 2.5, 3, 40, 0.06},
	analysis.Iron:   {0.270, 0.78, 1, 2600, 700, 4, 0, 0, 0.80, -4, 2.5, 3.5, 36, 0.05},
	analysis.Wedge:  {0.290, 0.76, 1, 2900, 900, 4, 0, 0, 0.82, -5, 3, 4.5, 32, 0.06},
	analysis.Putter: {0.350, 0.78, 1, 4500, 1500, 15, 0, 0, 1, 1, 2, 2, 2, 0.05},
}

// HeadOf is the head of a club of this kind, right-handed. A club that was
// never named is taken for a mid-iron.
func HeadOf(c analysis.Club) Head {
	k, ok := kinds[c.Family]
	if !ok {
		c = analysis.Club{Family: analysis.Iron, Number: 7}
		k = kinds[c.Family]
	}
	loft, ok := c.Loft()
	if !ok {
		loft = 33 * analysis.Degree
	}
	return Head{
		Mass:          k.mass,
		Restitution:   k.restitution,
		Friction:      0.40, // Henrikson et al. (2020) [S]
		SpinScale:     k.spinScale,
		InertiaAcross: k.inertiaAcross * gramCentimetre2,
		InertiaUp:     k.inertiaUp * gramCentimetre2,
		Depth:         k.depth * analysis.Millimetre,
		GearScale:     0.6,
		Bulge:         k.bulge * analysis.Millimetre,
		Roll:          k.roll * analysis.Millimetre,
		Usual: Usual{
			ClubSpeed:  k.speed,
			Attack:     k.attack * analysis.Degree,
			AttackSD:   k.attackSD * analysis.Degree,
			SpinLoft:   k.lean*loft - k.attack*analysis.Degree,
			SpinLoftSD: k.spinLoftSD * analysis.Degree,

			StrikeBias:   4 * analysis.Millimetre,
			StrikeSpread: 8 * analysis.Millimetre,
		},
		Uncertainty: Uncertainty{
			FaceShare:   k.shareSD,
			SpinScale:   0.10,
			Restitution: 0.02,
			Friction:    0.15,
			GearScale:   0.25,
		},
	}
}
