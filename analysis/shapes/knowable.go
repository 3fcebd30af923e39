package shapes

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// settle works out, for every column, whether the facts are in the file, and
// from that which questions a careful reader may ask. The definitions are in
// the package comment; this is their other half.
func (t *Truth) settle() {
	t.settleWhich()
	t.settleUnits()
	t.settleSides()
	if t.ClubIn == Nowhere {
		t.Questions = append(t.Questions, Question{About: AboutClub})
	}
}

func (t *Truth) column(n analysis.Number) int {
	return slices.IndexFunc(t.Columns, func(c Column) bool { return c.Known && c.Number == n })
}

func (t *Truth) settleWhich() {
	words := t.Tier != Wordless
	for i := range t.Columns {
		t.Columns[i].WhichKnowable = words || !t.Columns[i].Known
	}
	if words {
		return
	}
	know := func(ns ...analysis.Number) {
		for _, n := range ns {
			if i := t.column(n); i >= 0 {
				t.Columns[i].WhichKnowable = true
			}
		}
	}
	know(analysis.Spin) // nothing else is in the thousands
	if t.column(analysis.Smash) >= 0 && t.column(analysis.BallSpeed) >= 0 && t.column(analysis.ClubSpeed) >= 0 {
		know(analysis.Smash, analysis.BallSpeed, analysis.ClubSpeed) // one is the quotient of two
	}
	for i, c := range t.Columns {
		if c.Known && !c.WhichKnowable && Needed(c.Number) {
			t.Questions = append(t.Questions, Question{AboutWhich, []int{i}})
		}
	}
}

// far, fast are the units a length of flight and a speed may be in.
var (
	farUnits  = []string{"yd", "m", "ft"}
	fastUnits = []string{"mph", "m/s", "km/h"}
)

// The reach of a golfer: what a full shot can be. Head speeds of the driver
// in m/s; the share of a new ball's carry that any ball carries. All of it is
// common practice, no source.
const (
	slowest, fastest   = 25.0, 58.0
	shortest, furthest = 0.86, 1.04
	vague              = 0.12 // more on either side where launch or spin is not given
)

func (t *Truth) settleUnits() {
	written := map[string]bool{} // by group
	group := func(c Column) string {
		switch c.Number.Info().Kind {
		case analysis.Length:
			switch {
			case c.Number == analysis.Apex:
				return "apex"
			case t.far() != "" && c.Unit != t.far():
				return "off"
			}
			return "far"
		case analysis.Speed:
			return "fast"
		case analysis.Small:
			return "small"
		}
		return ""
	}
	for _, c := range t.Columns {
		if c.Known && c.UnitIn != Nowhere {
			written[group(c)] = true
		}
	}
	farKnown, fastKnown := written["far"], written["fast"]
	if !farKnown || !fastKnown {
		farKnown, fastKnown = t.unitsByFigures(farKnown, fastKnown)
	}
	ask := map[string][]int{}
	for i := range t.Columns {
		c := &t.Columns[i]
		if !c.Known {
			c.UnitKnowable = true
			continue
		}
		g := group(*c)
		switch g {
		case "": // degrees, revolutions a minute, seconds, a ratio: nothing else is in use
			c.UnitKnowable = true
		case "far":
			c.UnitKnowable = farKnown
		case "fast":
			c.UnitKnowable = fastKnown
		case "apex": // feet are three times what a yard or a metre would be
			c.UnitKnowable = written[g] || c.Unit == "ft" || farKnown && c.Unit == t.far()
		case "off":
			c.UnitKnowable = written[g]
		case "small":
			c.UnitKnowable = written[g] || c.Unit == "mm" && t.medianAbs(c.Number) > 2.5*analysis.Millimetre
		}
		if !c.UnitKnowable {
			ask[g] = append(ask[g], i)
		}
	}
	for _, g := range []string{"far", "fast", "apex", "off", "small"} {
		if len(ask[g]) > 0 {
			t.Questions = append(t.Questions, Question{AboutUnit, ask[g]})
		}
	}
}

// far is the unit of the file's lengths along the target line, "" if it has
// none.
func (t *Truth) far() string {
	for _, n := range []analysis.Number{analysis.Carry, analysis.Total} {
		if i := t.column(n); i >= 0 {
			return t.Columns[i].Unit
		}
	}
	return ""
}

// unitsByFigures tries every pair of units against the reach of a golfer and
// the flight of a ball, and says which of the two units all pairs that remain
// agree on.
func (t *Truth) unitsByFigures(farWritten, fastWritten bool) (far, fast bool) {
	m, club, ok := t.medians()
	if !ok {
		return farWritten, fastWritten
	}
	ball, hasBall := m[analysis.BallSpeed]
	carry, hasCarry := m[analysis.Carry]
	trueFast := ""
	for _, n := range []analysis.Number{analysis.BallSpeed, analysis.ClubSpeed} {
		if i := t.column(n); i >= 0 {
			trueFast = t.Columns[i].Unit
		}
	}
	trueFar := t.far()
	fars, fasts := map[string]bool{}, map[string]bool{}
	for _, a := range farUnits {
		if farWritten && a != trueFar {
			continue
		}
		for _, b := range fastUnits {
			if fastWritten && b != trueFast {
				continue
			}
			low, high := shortest, furthest
			speed := ball
			switch {
			case hasBall:
				speed = ball / inSI[trueFast] * inSI[b]
				head := speed / (club.speed * club.smash())
				if t.ClubIn == Nowhere {
					// Any club: between the driver's and the wedge's share.
					if speed/(1.48) > fastest || speed/(0.665*1.1) < slowest {
						continue
					}
				} else if head < slowest || head > fastest {
					continue
				}
			case hasCarry: // only the reach of the golfer is left
				speed = 0
			}
			if hasCarry && trueFar != "" {
				c := carry / inSI[trueFar] * inSI[a]
				launch, l := m[analysis.LaunchAngle]
				spin, s := m[analysis.Spin]
				if !l || !s {
					if t.ClubIn == Nowhere {
						low, high = 0.4, 1.6
					} else {
						low, high = low-vague, high+vague
					}
				}
				if !l {
					launch = rad(club.launch())
				}
				if speed == 0 {
					lo, hi := t.carries(club, slowest, launch), t.carries(club, fastest, launch)
					if c < lo || c > hi {
						continue
					}
				} else {
					if !s {
						spin = club.spin(speed) * analysis.RevPerMinute
					}
					share := c / fly(speed, launch, 0, spin, 0, 1).carry
					if share < low || share > high {
						continue
					}
				}
			}
			fars[a], fasts[b] = true, true
		}
	}
	return farWritten || trueFar != "" && len(fars) == 1 && fars[trueFar],
		fastWritten || trueFast != "" && len(fasts) == 1 && fasts[trueFast]
}

func (t *Truth) carries(b build, head, launch float64) float64 {
	speed := head * b.speed * b.smash()
	return fly(speed, launch, 0, b.spin(speed)*analysis.RevPerMinute, 0, 1).carry
}

func (b build) smash() float64  { return 1.495 - 0.0092*math.Max(b.loft-b.attack-12.5, -2) }
func (b build) launch() float64 { return 0.77*b.loft + 0.23*b.attack }
func (b build) spin(ball float64) float64 {
	return b.grip * ball / b.smash() / analysis.MilePerHour * math.Sin(rad(b.loft-b.attack))
}

// medians is the middle of each number over the balls of the club hit most.
func (t *Truth) medians() (map[analysis.Number]float64, build, bool) {
	count := map[analysis.Club]int{}
	var most analysis.Club
	for _, s := range t.Shots {
		count[s.Club]++
		if count[s.Club] > count[most] {
			most = s.Club
		}
	}
	all := map[analysis.Number][]float64{}
	for _, s := range t.Shots {
		if s.Club != most || s.Misread {
			continue
		}
		for n, v := range s.Values {
			all[n] = append(all[n], v)
		}
	}
	out := map[analysis.Number]float64{}
	for n, v := range all {
		slices.Sort(v)
		out[n] = v[len(v)/2]
	}
	i := slices.IndexFunc(bag, func(b build) bool { return b.club == most })
	if i < 0 || len(out) == 0 {
		return nil, build{}, false
	}
	return out, bag[i], true
}

func (t *Truth) medianAbs(n analysis.Number) float64 {
	var v []float64
	for _, s := range t.Shots {
		if x, ok := s.Values[n]; ok && !s.Misread {
			v = append(v, math.Abs(x))
		}
	}
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return v[len(v)/2]
}

// ties are the pairs of numbers that move together in golf; a tie holds in a
// file where its figures show it.
var ties = [][2]analysis.Number{
	{analysis.Direction, analysis.Lateral}, {analysis.Lateral, analysis.LateralTotal},
	{analysis.Direction, analysis.LateralTotal}, {analysis.Face, analysis.Direction},
	{analysis.FaceToPath, analysis.SpinAxis}, {analysis.SpinAxis, analysis.Lateral},
	{analysis.Face, analysis.Lateral}, {analysis.SpinAxis, analysis.LateralTotal},
}

// tied is the least correlation that shows a tie, and fewest the fewest balls.
const (
	tied   = 0.6
	fewest = 8
)

func (t *Truth) settleSides() {
	n := len(t.Columns)
	root := make([]int, n)
	for i := range root {
		root[i] = i
	}
	var find func(int) int
	find = func(i int) int {
		if root[i] != i {
			root[i] = find(root[i])
		}
		return root[i]
	}
	join := func(a, b int) {
		if a >= 0 && b >= 0 {
			root[find(a)] = find(b)
		}
	}
	for _, p := range ties {
		if t.correlation(p[0], p[1]) >= tied {
			join(t.column(p[0]), t.column(p[1]))
		}
	}
	f, p, d := t.column(analysis.Face), t.column(analysis.Path), t.column(analysis.FaceToPath)
	if f >= 0 && p >= 0 && d >= 0 {
		join(f, p) // one is the difference of the others
		join(f, d)
	}
	if a := t.column(analysis.SpinAxis); a >= 0 && f >= 0 && p >= 0 && t.spreadCorrelation() >= tied {
		join(f, p)
		join(f, a)
	}
	anchored := map[int]bool{}
	for i, c := range t.Columns {
		if c.Lettered || c.SideSaid {
			anchored[find(i)] = true
		}
	}
	ask := map[int][]int{}
	var order []int
	for i := range t.Columns {
		c := &t.Columns[i]
		if !c.Known || c.Positive == NoSide && c.Number != analysis.StrikeToe {
			c.SideKnowable = true
			continue
		}
		c.SideKnowable = anchored[find(i)]
		if !c.SideKnowable {
			if len(ask[find(i)]) == 0 {
				order = append(order, find(i))
			}
			ask[find(i)] = append(ask[find(i)], i)
		}
	}
	for _, g := range order {
		t.Questions = append(t.Questions, Question{AboutSide, ask[g]})
	}
}

func (t *Truth) correlation(a, b analysis.Number) float64 {
	return t.correlate(func(s Shot) (x, y float64, ok bool) {
		x, hasX := s.Values[a]
		y, hasY := s.Values[b]
		return x, y, hasX && hasY
	})
}

// spreadCorrelation is how face less path goes with the axis.
func (t *Truth) spreadCorrelation() float64 {
	return t.correlate(func(s Shot) (x, y float64, ok bool) {
		f, hasF := s.Values[analysis.Face]
		p, hasP := s.Values[analysis.Path]
		y, hasY := s.Values[analysis.SpinAxis]
		return f - p, y, hasF && hasP && hasY
	})
}

func (t *Truth) correlate(of func(Shot) (x, y float64, ok bool)) float64 {
	var xs, ys []float64
	for _, s := range t.Shots {
		if s.Misread {
			continue
		}
		if x, y, ok := of(s); ok {
			xs, ys = append(xs, x), append(ys, y)
		}
	}
	if len(xs) < fewest {
		return 0
	}
	mx, sx := moments(xs)
	my, sy := moments(ys)
	sum := 0.0
	for i := range xs {
		sum += (xs[i] - mx) * (ys[i] - my)
	}
	if sx == 0 || sy == 0 {
		return 0
	}
	return sum / (float64(len(xs)-1) * sx * sy)
}
