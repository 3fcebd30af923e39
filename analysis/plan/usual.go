package plan

import "rangepost/analysis"

// usually is the scatter of a middling golfer with a club (common practice, no
// source): a plan is made from it only until the golfer's own balls are known,
// and what it is wrong by costs balls, not truth.
func usually(club analysis.Club, n analysis.Number) scatter {
	const degree = analysis.Degree
	speed, carry := usualFlight(club)
	switch n {
	case analysis.Lateral:
		return scatter{0, 0.07 * carry, 0}
	case analysis.Carry:
		return scatter{carry, 0.06 * carry, 0}
	case analysis.ClubSpeed:
		return scatter{speed, 0.025 * speed, 0}
	case analysis.FaceToPath:
		return scatter{0, 2.4 * degree, 0}
	case analysis.Attack:
		return scatter{-3 * degree, 1.4 * degree, 0}
	case analysis.DynamicLoft:
		return scatter{25 * degree, 1.8 * degree, 0}
	}
	return scatter{0, 2 * degree, 0} // face and path
}

// usualFlight is a middling golfer's club speed, m/s, and carry, m, with a club:
// straight lines in its loft (common practice, no source).
func usualFlight(club analysis.Club) (speed, carry float64) {
	loft, ok := club.Loft()
	if !ok {
		loft = 30 * analysis.Degree
	}
	loft /= analysis.Degree
	return 44 - 0.25*loft, max(30, 220-2.6*loft)
}
