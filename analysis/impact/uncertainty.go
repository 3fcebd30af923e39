package impact

import (
	"math"

	"rangepost/analysis"
)

// Usual is how a kind of club is delivered, by golfers at large: what the
// inverse falls back on for numbers that no measurement bears on.
type Usual struct {
	ClubSpeed            float64 // m/s
	Attack, AttackSD     float64 // rad
	SpinLoft, SpinLoftSD float64 // rad, dynamic loft less attack

	// Where a golfer's strikes centre, and how one ball scatters about there:
	// standard deviations, m, the same toward the toe and up.
	StrikeBias, StrikeSpread float64
}

// Delivery is the usual delivery, square and centred.
func (u Usual) Delivery() analysis.Delivery {
	return analysis.Delivery{ClubSpeed: u.ClubSpeed, Attack: u.Attack, DynamicLoft: u.Attack + u.SpinLoft}
}

// Uncertainty is how well the model knows a head: standard deviations, the
// same for every ball struck with it. The zero Uncertainty is a head known
// exactly.
type Uncertainty struct {
	FaceShare   float64 // of the face's share of the start direction
	SpinScale   float64 // as a fraction
	Restitution float64
	Friction    float64 // as a fraction
	GearScale   float64 // as a fraction
}

// Off is the head with its uncertain constants off by so many standard
// deviations each.
func (h Head) Off(share, spin, restitution, friction, gear float64) Head {
	u := h.Uncertainty
	return h.moved(deviation{
		share:       u.FaceShare * share,
		spin:        u.SpinScale * spin,
		restitution: u.Restitution * restitution,
		friction:    u.Friction * friction,
		gear:        u.GearScale * gear,
	}, h.usualShare())
}

// deviation is how far a head's constants are off: share and restitution by a
// difference, spin and friction by a logarithm, gear by a fraction.
type deviation struct{ share, spin, restitution, friction, gear float64 }

// The face has at least a third of the start direction and never all of it.
const minShare, maxShare = 0.33, 0.97

// usualShare is the face's share of the start line of a usual delivery.
func (h *Head) usualShare() float64 { return h.FaceShare(h.Usual.Delivery()) }

// moved is the head, whose usual share is this, with its constants off by this much.
func (h Head) moved(by deviation, share float64) Head {
	h.Restitution += by.restitution
	h.Friction *= math.Exp(by.friction)
	h.GearScale *= 1 + by.gear
	h.SpinScale *= math.Exp(by.spin)
	h.Sideways *= (1 - min(maxShare, max(minShare, share+by.share))) / (1 - share)
	return h
}

// perShare is the slope of Sideways over how far the share is off.
func (h *Head) perShare(by, share float64) float64 {
	if share+by < minShare || share+by > maxShare {
		return 0
	}
	return -h.Sideways / (1 - share)
}
