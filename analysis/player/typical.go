package player

import "rangepost/analysis"

// Typical is a delivery square to the target with a club, by a middling
// golfer (common practice, no source).
func Typical(c analysis.Club) analysis.Delivery {
	const degree = analysis.Degree
	switch c.Family {
	case analysis.Driver:
		return analysis.Delivery{ClubSpeed: 44, Attack: 0, DynamicLoft: 13.5 * degree}
	case analysis.Wood, analysis.Hybrid:
		return analysis.Delivery{ClubSpeed: 41, Attack: -2 * degree, DynamicLoft: 17 * degree}
	case analysis.Wedge:
		return analysis.Delivery{ClubSpeed: 34, Attack: -5 * degree, DynamicLoft: 38 * degree}
	}
	return analysis.Delivery{ClubSpeed: 37.5, Attack: -4 * degree, DynamicLoft: 25 * degree}
}

// TypicalSpread is the scatter of a golfer at a skill: 1 is a steady single
// figure handicap, 2 a wild one (common practice, no source).
func TypicalSpread(skill float64) Spread {
	const degree, mm = analysis.Degree, analysis.Millimetre
	return Spread{
		ClubSpeed: 0.6 * skill, Attack: 0.9 * degree * skill, DynamicLoft: 1.1 * degree * skill,
		Face: 1.4 * degree * skill, Path: 1.4 * degree * skill, FacePath: 0.3,
		StrikeToe: 5 * mm * skill, StrikeUp: 4 * mm * skill,
		Tails: 6,
	}
}
