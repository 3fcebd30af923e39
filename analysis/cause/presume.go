package cause

import (
	"rangepost/analysis"
)

// typicalAttack is the attack presumed where none was measured, rad (common
// practice, no source).
func typicalAttack(f analysis.Family) float64 {
	switch f {
	case analysis.Driver:
		return 0
	case analysis.Wood, analysis.Hybrid:
		return -2 * analysis.Degree
	case analysis.Wedge:
		return -5 * analysis.Degree
	}
	return -4 * analysis.Degree
}

// typicalSmash is ball speed over club speed presumed where one of them is
// missing (common practice, no source).
func typicalSmash(f analysis.Family) float64 {
	switch f {
	case analysis.Driver:
		return 1.46
	case analysis.Wood, analysis.Hybrid:
		return 1.42
	case analysis.Wedge:
		return 1.18
	}
	return 1.34
}

// presumed completes a delivery for the flight model where a number that
// hardly bears on the split is missing: speed from ball speed, attack and loft
// from the launch angle or the club. Face and path are as measured, or zero.
// ok is false without a speed of any kind, or without any idea of the loft.
func presumed(s analysis.Shot) (d analysis.Delivery, ok bool) {
	d, missing := s.Delivery()
	f := s.Club.Family
	for _, n := range missing {
		switch n {
		case analysis.ClubSpeed:
			v, _ := s.Value(analysis.BallSpeed)
			d.ClubSpeed = v / typicalSmash(f)
		case analysis.Attack:
			d.Attack = typicalAttack(f)
		}
	}
	// The launch angle lies between attack and loft much as the start line
	// lies between path and face (Henrikson et al. 2020 [S]: 0.72 to 0.83).
	const loftShare = 0.8
	if !s.Has(analysis.DynamicLoft) {
		if a, has := s.Value(analysis.LaunchAngle); has {
			d.DynamicLoft = (a - (1-loftShare)*d.Attack) / loftShare
		} else if loft, has := s.Club.Loft(); has {
			d.DynamicLoft = loft
		} else {
			return d, false
		}
	}
	return d, d.ClubSpeed > 0
}
