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
}

// The ball of the rules, as in package flight: USGA and R&A, Equipment Rules,
// part 4. [P]
const (
	ballMass   = 0.04593     // kg
	ballRadius = 0.04267 / 2 // m
)

const gramCentimetre2 = 1e-7 // kg m^2

// HeadOf is the head of a club of this kind, right-handed. A club that was
// never named is taken for a mid-iron.
//
// Restitution: the rules allow a driver 0.830 [M]; the others, the head
// masses, inertias and depths are our middle-of-the-road choices (common
// practice, no source), except that the rules stop at 5900 g cm^2 [S].
func HeadOf(c analysis.Club) Head {
	h := Head{Friction: 0.40, GearScale: 0.6}
	switch c.Family {
	case analysis.Driver:
		h.Mass, h.Restitution, h.SpinScale = 0.200, 0.83, 0.74
		h.InertiaAcross, h.InertiaUp = 4500*gramCentimetre2, 2800*gramCentimetre2
		h.Depth, h.Bulge, h.Roll = 0.033, 0.305, 0.305
	case analysis.Wood:
		h.Mass, h.Restitution, h.SpinScale = 0.212, 0.82, 0.85
		h.InertiaAcross, h.InertiaUp = 2600*gramCentimetre2, 1500*gramCentimetre2
		h.Depth, h.Bulge, h.Roll = 0.022, 0.254, 0.254
	case analysis.Hybrid:
		h.Mass, h.Restitution, h.SpinScale = 0.232, 0.80, 0.92
		h.InertiaAcross, h.InertiaUp = 2600*gramCentimetre2, 1100*gramCentimetre2
		h.Depth, h.Bulge, h.Roll = 0.015, 0.330, 0
	case analysis.Wedge:
		h.Mass, h.Restitution, h.SpinScale = 0.290, 0.76, 1
		h.InertiaAcross, h.InertiaUp = 2900*gramCentimetre2, 900*gramCentimetre2
		h.Depth = 0.004
	case analysis.Putter:
		h.Mass, h.Restitution, h.SpinScale = 0.350, 0.78, 1
		h.InertiaAcross, h.InertiaUp = 4500*gramCentimetre2, 1500*gramCentimetre2
		h.Depth = 0.015
	default:
		h.Mass, h.Restitution, h.SpinScale = 0.270, 0.78, 1
		h.InertiaAcross, h.InertiaUp = 2600*gramCentimetre2, 700*gramCentimetre2
		h.Depth = 0.004
	}
	return h
}
