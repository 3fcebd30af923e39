package pattern

import (
	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Codes of the warnings a pattern carries.
const (
	FewBalls    = "few_balls"    // under 5 used balls with a landing place: no regions; Count is how many
	NoSpread    = "no_spread"    // the balls lie on a spot or a line: no regions
	NoLateral   = "no_lateral"   // Count used balls without a lateral
	NoCarry     = "no_carry"     // Count used balls without a carry
	Flown       = "flown"        // Count used balls whose landing place was flown from their launch, not measured
	ManyMishits = "many_mishits" // a quarter of the balls or more
	TwoPatterns = "two_patterns" // the balls are of two patterns, told apart by Number; Count is the smaller's
	Streaks     = "streaks"      // balls resemble the ones before, so that they count for Count
)

// least is the number of balls under which no region is drawn: at 4 the region
// of the next ball reaches 8 standard deviations.
const least = 5

// Of describes where the balls of a set finished, as two statements: the
// centre with its limits, and the scatter. Shots set aside are shown among the
// points and left out of every figure but WithMishits. Flag the mishits first
// (Mishits). Where the balls are of two patterns, each is described by itself as
// well.
func Of(set analysis.Set) Pattern {
	p := one(set)
	if parts, by := apart(set); parts != nil {
		p.Warnings = append(p.Warnings, analysis.Warning{Code: TwoPatterns, Count: min(len(parts[0].Shots), len(parts[1].Shots)), Number: by})
		for _, part := range parts {
			p.Parts = append(p.Parts, Part{Set: part, Pattern: one(part)})
		}
	}
	return p
}

// one describes a set as one pattern.
func one(set analysis.Set) Pattern {
	var p Pattern
	var laterals, carries, allLaterals, allCarries []float64 // each as far as known
	var xs, ys []float64                                     // of balls with both
	used, flown := 0, 0
	for _, s := range set.Shots {
		y, hasY := s.Value(analysis.Lateral)
		x, hasX := s.Value(analysis.Carry)
		if hasX && hasY {
			p.Balls++
			p.Points = append(p.Points, Point{N: s.N, X: x, Y: y, Aside: s.Aside})
		}
		if s.Aside == analysis.Mishit {
			p.Mishits = append(p.Mishits, s.N)
		}
		if s.Aside == analysis.Used || s.Aside == analysis.Mishit {
			if hasY {
				allLaterals = append(allLaterals, y)
			}
			if hasX {
				allCarries = append(allCarries, x)
			}
		}
		if s.Aside != analysis.Used {
			continue
		}
		used++
		if hasY {
			laterals = append(laterals, y)
		}
		if hasX {
			carries = append(carries, x)
		}
		if hasX && hasY {
			p.Used++
			xs, ys = append(xs, x), append(ys, y)
			if s.Inferred(analysis.Lateral) || s.Inferred(analysis.Carry) {
				flown++
			}
		}
	}
	p.Streak = Streak(set.Used())
	p.Lateral, p.Carry = mean(p.Streak, laterals), mean(p.Streak, carries)
	p.WithMishits.Lateral, p.WithMishits.Carry = mean(p.Streak, allLaterals), mean(p.Streak, allCarries)
	p.Width80, p.Width80OK = width80(laterals)

	if p.Used < least {
		p.warn(FewBalls, p.Used)
	} else if m, _ := stat.MomentsOf(xs, ys); m.Singular() {
		p.warn(NoSpread, p.Used)
	} else {
		centre, _ := stat.CentreRadius2(m.N, 0.95)
		next, _ := stat.NextRadius2(m.N, 0.80)
		p.Centre, p.Ellipse80 = ellipse(m, centre), ellipse(m, next)
	}
	if n, worth := fewer(p.Streak); worth && len(laterals) > 0 {
		p.warn(Streaks, n)
	}
	if n := used - len(laterals); n > 0 {
		p.warn(NoLateral, n)
	}
	if n := used - len(carries); n > 0 {
		p.warn(NoCarry, n)
	}
	if flown > 0 {
		p.warn(Flown, flown)
	}
	if n := len(p.Mishits); n > 0 && 4*n >= used+n {
		p.warn(ManyMishits, n)
	}
	return p
}

// mean allows for streaks, and for the long tail of what balls off the middle of
// the face lose.
func mean(streak stat.Streak, values []float64) analysis.Estimate {
	return stat.Skewed(streak.Mean(values), values)
}

func (p *Pattern) warn(code string, count int) {
	p.Warnings = append(p.Warnings, analysis.Warning{Code: code, Count: count, Number: analysis.Lateral})
}

func ellipse(m stat.Moments, r2 float64) *Ellipse {
	major, minor, angle := m.Axes(r2)
	return &Ellipse{X: m.X, Y: m.Y, Major: major, Minor: minor, Angle: angle}
}

// enoughForOrder is the number of balls from which the width is read off the
// balls in order, with no curve presumed. Shot patterns have heavier tails
// than the normal curve (Ko 2012, Columbia University thesis [S]). With fewer,
// the ends are single balls and the normal curve is the steadier.
const enoughForOrder = 20

// width80 is the width across the target line that the next ball falls in four
// times of five, the same chance left over on either side.
func width80(lateral []float64) (width float64, ok bool) {
	if len(lateral) >= enoughForOrder {
		low, high, ok := stat.HoldingInterval(lateral, 0.80)
		return high - low, ok
	}
	if len(lateral) < least {
		return 0, false
	}
	low, high, ok := stat.NextValue(lateral, 0.80)
	return high - low, ok
}
