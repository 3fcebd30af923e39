package trial

import "rangepost/analysis"

// PracticalZero is the smallest difference of a number that a golfer would
// care about, SI: common practice, no source. mean is the baseline's mean of
// the number and carry its mean carry, 0 if unknown. It is 0 for a number that
// has none.
func PracticalZero(n analysis.Number, mean, carry float64) float64 {
	switch n {
	case analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Direction:
		return 1 * analysis.Degree
	case analysis.Attack, analysis.DynamicLoft, analysis.SpinLoft, analysis.LaunchAngle:
		return 1.5 * analysis.Degree
	case analysis.ClubSpeed, analysis.BallSpeed:
		return 0.02 * max(mean, 0)
	case analysis.Carry, analysis.Total:
		return 0.03 * max(mean, 0)
	case analysis.Lateral, analysis.LateralTotal:
		if carry > 0 {
			return 0.02 * carry
		}
		return 3 * analysis.Yard
	}
	return 0
}

func (c Config) zero(n analysis.Number, mean, carry float64) float64 {
	if z, ok := c.Zeros[n]; ok {
		return z
	}
	return PracticalZero(n, mean, carry)
}
