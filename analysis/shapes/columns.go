package shapes

import (
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
)

// column is a column's truth with what is needed to write it.
type column struct {
	Column
	noise    *noise
	backSpin bool
	spelt    string // the unit as written
	words    [2]string
	lettered int  // how: 0 "R 3.2", 1 "3.2 R", 2 "3.2R", 3 "R3.2"
	tight    bool // "154yd"
}

var (
	clubNumbers = []analysis.Number{
		analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft,
	}
	fineNumbers = []analysis.Number{analysis.SpinLoft, analysis.Lie, analysis.StrikeToe, analysis.StrikeUp}
	ballNumbers = []analysis.Number{
		analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis,
	}
	flightNumbers = []analysis.Number{
		analysis.Carry, analysis.Total, analysis.Lateral, analysis.LateralTotal, analysis.Apex, analysis.Descent, analysis.FlightTime,
	}
)

// measured is which numbers the device of a file gives, in its order.
func measured(r *rand.Rand) []analysis.Number {
	var all []analysis.Number
	drop := 0
	switch p := r.Float64(); {
	case p < 0.15: // a cheap device by the mat
		all = []analysis.Number{analysis.ClubSpeed, analysis.BallSpeed, analysis.Smash, analysis.Carry, analysis.Total}
		if chance(r, 0.5) {
			all = append(all, analysis.LaunchAngle)
		}
		if chance(r, 0.5) {
			all = append(all, analysis.Lateral)
		}
	case p < 0.4: // sees the ball only
		all = slices.Concat(ballNumbers, flightNumbers)
		drop = 1 + r.IntN(4)
	case p < 0.8: // club and ball
		all = slices.Concat(clubNumbers, ballNumbers, []analysis.Number{analysis.Smash}, flightNumbers)
		drop = r.IntN(6)
	default: // everything
		all = slices.Concat(clubNumbers, fineNumbers, ballNumbers, []analysis.Number{analysis.Smash}, flightNumbers)
		drop = r.IntN(3)
	}
	for ; drop > 0; drop-- {
		i := r.IntN(len(all))
		if all[i] != analysis.BallSpeed && all[i] != analysis.Carry {
			all = slices.Delete(all, i, i+1)
		}
	}
	switch p := r.Float64(); {
	case p < 0.15:
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	case p < 0.4: // the ball before the club
		slices.SortStableFunc(all, func(a, b analysis.Number) int { return rank(a) - rank(b) })
	case p < 0.5: // where it finished first
		slices.SortStableFunc(all, func(a, b analysis.Number) int { return rank(b)%3 - rank(a)%3 })
	}
	return all
}

func rank(n analysis.Number) int {
	switch {
	case n.Info().Club:
		return 2
	case slices.Contains(flightNumbers, n):
		return 1
	}
	return 0
}

// decimals is how many a file usually gives.
func decimals(r *rand.Rand, n analysis.Number, unit string) int {
	switch n.Info().Kind {
	case analysis.Rate:
		return 0
	case analysis.Ratio, analysis.Time:
		return 2
	case analysis.Angle:
		return pick(r, []int{1, 1, 1, 2})
	case analysis.Small:
		return map[string][]int{"mm": {1, 0, 1}, "cm": {1, 2, 2}, "in": {2, 2, 2}}[unit][r.IntN(3)]
	}
	return pick(r, []int{1, 1, 1, 0, 2})
}

// sides settles which way the sideways columns point, and how they say so.
func sides(r *rand.Rand, l *language, hand analysis.Hand, cols []column) {
	all := Right
	if chance(r, 0.06) {
		all = Left
	}
	lettered := chance(r, 0.35)
	word := r.IntN(len(l.right))
	how := r.IntN(4)
	if len([]rune(l.right[word])) > 1 {
		how %= 2 // a word stands apart
	}
	said := chance(r, 0.08)
	onlyBall := lettered && chance(r, 0.3) // the club's angles are signed all the same
	golfers := hand == analysis.LeftHanded && chance(r, 0.35)
	var sideways []int
	for i := range cols {
		c := &cols[i]
		if !c.Known || !c.Number.Info().Sideways {
			continue
		}
		c.Positive = all
		if golfers && c.Number.Info().Club {
			c.Positive = Golfer
		}
		sideways = append(sideways, i)
		switch {
		case lettered && !(onlyBall && c.Number.Info().Club):
			c.Lettered, c.lettered = true, how
			c.words = [2]string{l.right[word], l.left[word]}
		case said && c.Positive != Golfer:
			c.SideSaid = true
			c.words = [2]string{l.right[0], l.left[0]}
		}
	}
	// One column that points the other way, as happens when two parts of a
	// device were made by two hands.
	if len(sideways) > 2 && chance(r, 0.06) {
		c := &cols[pick(r, sideways)]
		if c.Positive == Right {
			c.Positive = Left
		} else {
			c.Positive = Right
		}
	}
}

// sign is what a value that is right of target is multiplied by to be written.
func (s Side) sign(h analysis.Hand) float64 {
	switch s {
	case Left:
		return -1
	case Golfer:
		return h.Mirror()
	}
	return 1
}

// cell writes one value, SI, and gives what the writing says, SI.
func (c *column) cell(f figures, h analysis.Hand, v float64) (string, float64) {
	unit := inSI[c.Unit]
	sign := 1.0
	if c.Positive != NoSide && !c.Lettered {
		sign = c.Positive.sign(h)
	}
	w := v / unit * sign
	if c.Lettered {
		word := c.words[0]
		if w < 0 {
			word = c.words[1]
		}
		f.plus = false
		s, written := f.write(math.Abs(w), c.Decimals)
		if c.UnitIn == InValue {
			s += c.gap() + c.spelt
		}
		switch c.lettered {
		case 0:
			s = word + " " + s
		case 1:
			s += " " + word
		case 2:
			if c.UnitIn == InValue {
				s += " " // "17 m R": 17 mR would be another unit
			}
			s += word
		default:
			s = word + s
		}
		return s, math.Copysign(written, w) * unit
	}
	if c.Positive == NoSide {
		f.plus = false
	}
	s, written := f.write(w, c.Decimals)
	if c.UnitIn == InValue {
		s += c.gap() + c.spelt
	}
	return s, written * unit * sign
}

func (c *column) gap() string {
	if c.tight || c.spelt == "°" {
		return ""
	}
	return " "
}
