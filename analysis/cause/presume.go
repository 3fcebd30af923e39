package cause

import (
	"rangepost/analysis"
	"rangepost/analysis/impact"
)

// upShare is how far up the launch angle lies from attack to loft: single
// shots of driver, 7-iron and wedge had 0.83, 0.81 and 0.72 of the way
// (Henrikson et al. 2020 [S]).
const upShare = 0.8

// presumed completes a delivery for the flight model where a number that
// hardly bears on the split is missing: club speed from ball speed, attack as
// usual for the club, loft from the launch angle or as usual. Face and path
// are as measured or inferred. ok is false without a speed of any kind.
func presumed(s analysis.Shot, h impact.Head) (d analysis.Delivery, ok bool) {
	d, missing := s.Delivery()
	usual := h.Usual.Delivery()
	for _, n := range missing {
		switch n {
		case analysis.ClubSpeed:
			v, _ := s.Value(analysis.BallSpeed)
			smash := h.Strike(usual).Speed / usual.ClubSpeed
			d.ClubSpeed = v / smash
		case analysis.Attack:
			d.Attack = usual.Attack
		}
	}
	if !s.Has(analysis.DynamicLoft) {
		d.DynamicLoft = usual.DynamicLoft
		if a, has := s.Value(analysis.LaunchAngle); has {
			d.DynamicLoft = (a - (1-upShare)*d.Attack) / upShare
		}
	}
	return d, d.ClubSpeed > 0
}
