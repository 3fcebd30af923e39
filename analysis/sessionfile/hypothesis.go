package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A family of columns shares a unit where none of them names its own: a file
// that gives carry in yards gives total in yards. Their order is that of
// settling: what needs no other column first.
type family struct {
	fields []field
	units  []string // candidates, the usual one first
	common int      // how many of them are in use where nothing says so; common practice, no source
}

var families = []family{
	{[]field{launch, dynamicLoft, descent, field(analysis.SpinLoft), face, path, faceToPath, attack, direction, spinAxis, field(analysis.Lie)}, []string{"deg", "rad"}, 1},
	{[]field{spin, backSpin, sideSpin}, []string{"rpm", "rad/s", "rps"}, 1},
	{[]field{ballSpeed, clubSpeed}, []string{"mph", "m/s", "km/h"}, 3},
	{[]field{carry, total}, []string{"yd", "m", "ft"}, 2},
	{[]field{lateral, lateralTotal}, []string{"yd", "m", "ft"}, 3},
	{[]field{apex}, heightUnits, 3},
	{[]field{strikeToe, strikeUp}, []string{"mm", "in", "cm"}, 3},
	{[]field{flightTime}, []string{"s", "ms"}, 1},
}

var heightUnits = []string{"ft", "yd", "m"}

// unitless columns need a unit to be read at all; the rest are ratios.
func unitless(c column) bool {
	return !c.unitKnown() && c.field.dimension() != ratio && c.field.dimension() != noDimension && c.unread()
}

// settleUnits gives every column without a unit one: from an answer, from its
// family, or by which candidate hangs together with the rest. What cannot be
// told becomes a question, and the column stays unread. waits says that a column
// is asked about that may be the carry or the ball speed, which tell the units
// of each other: those are not asked before it.
func settleUnits(cs []column, waits bool, o Options) (decisions []string, questions []analysis.Question) {
	byField := map[field]*column{}
	for i := range cs {
		if _, taken := byField[cs[i].field]; !taken {
			byField[cs[i].field] = &cs[i]
		}
		if cs[i].field.dimension() == ratio {
			cs[i].unit = unit{"", ratio, 1, 0}
		}
	}
	var waiting []*column
	for _, fam := range families {
		var open []*column
		var known unit
		for _, f := range fam.fields {
			c := byField[f]
			if c == nil {
				continue
			}
			if answer, ok := o.Answers["unit:"+f.key()]; ok && unitless(*c) {
				if u, fits := unitFor(answer, f.dimension()); fits {
					c.unit = u
				}
			}
			switch {
			case c.unitKnown() && known.dim == noDimension:
				known = c.unit
			case unitless(*c):
				open = append(open, c)
			}
		}
		if len(open) == 0 {
			continue
		}
		candidates := fam.units
		if known.dim != noDimension {
			candidates = []string{known.name}
		}
		dim := open[0].field.dimension()
		fits := slices.DeleteFunc(slices.Clone(candidates), func(name string) bool {
			return !hangsTogether(open, unitNamed(name, dim), byField)
		})
		if len(candidates) == 1 {
			fits = candidates
		}
		// Where yards fit, metres cannot be ruled out, nor the other way round: the
		// carry's own unit is one of the two; nor what is said above all distances.
		if c := far(byField); fam.of(lateral) && c != nil && len(fits) > 0 && slices.Contains([]string{"yd", "m"}, c.unitName()) &&
			!slices.Contains(fits, c.unitName()) && (c.above || slices.ContainsFunc(fits, func(u string) bool { return u != "ft" })) {
			fits = append(fits, c.unitName())
		}
		if fam.follows(byField) {
			waiting = append(waiting, open...) // for the answer that settles them too
			continue
		}
		chosen, alone, reach := fam.likeliest(open, fits, byField, o)
		if chosen != "" {
			for _, c := range open {
				c.unit = unitNamed(chosen, dim)
			}
			why := "the likeliest"
			switch {
			case len(candidates) == 1:
				why = "like its neighbour"
			case alone:
				why = "the only one that fits"
			}
			decisions = append(decisions, fmt.Sprintf("no unit given for %s: read in %s, %s", headings(open), chosen, why))
			continue
		}
		if len(reach) == 0 {
			reach = fam.units
		}
		for _, c := range open {
			c.likely = unitNamed(reach[0], dim)
		}
		if waits && (fam.of(carry) || fam.of(ballSpeed)) {
			decisions = append(decisions, "the unit of "+headings(open)+" waits for the answer about a column")
			continue
		}
		q := analysis.Question{Key: "unit:" + open[0].field.key(), Text: fmt.Sprintf("Which unit is %s in?", headings(open))}
		for _, u := range reach {
			q.Choices = append(q.Choices, analysis.Choice{Value: u, Text: u})
		}
		questions = append(questions, q)
	}
	for _, c := range waiting {
		c.likely = unitNamed("yd", length)
	}
	if len(waiting) > 0 && len(questions) > 0 {
		decisions = append(decisions, headings(waiting)+" wait for that answer")
	}
	return decisions, questions
}

func headings(cs []*column) string {
	var names []string
	for _, c := range cs {
		names = append(names, "'"+c.text+"'")
	}
	slices.Sort(names)
	return strings.Join(names, " and ")
}

// plausible bounds the median of a whole session, in SI: wide enough for a
// junior's wedge and a long hitter's driver.
var plausible = map[field][2]float64{
	ballSpeed:   {15, 95},
	clubSpeed:   {12, 65},
	carry:       {15, 330},
	total:       {15, 370},
	launch:      {3 * analysis.Degree, 60 * analysis.Degree},
	dynamicLoft: {3 * analysis.Degree, 65 * analysis.Degree},
	descent:     {10 * analysis.Degree, 75 * analysis.Degree},
	spin:        {800 * analysis.RevPerMinute, 14000 * analysis.RevPerMinute},
	backSpin:    {800 * analysis.RevPerMinute, 14000 * analysis.RevPerMinute},
	flightTime:  {1, 10},
	apex:        {2, 60},
}

// hangsTogether reports whether the open columns can be in unit u, given what
// is known of the others.
func hangsTogether(open []*column, u unit, byField map[field]*column) bool {
	for _, c := range open {
		if bounds, ok := plausible[c.field]; ok {
			if m := median(c.raw()) * u.scale; m < bounds[0] || m > bounds[1] {
				return false
			}
		}
		if !fitsOthers(c, u, byField) {
			return false
		}
	}
	switch open[0].field.dimension() {
	case angle:
		// Lofts and launches fix the unit of all angles. Where there are none,
		// nobody delivers a club within a third of a degree, or beyond twenty.
		if slices.ContainsFunc(open, func(c *column) bool { _, ok := plausible[c.field]; return ok }) {
			return true
		}
		m := medianSize(open) * u.scale
		if coarse(open) { // in rad, a tenth would be six degrees
			return u.name == "deg" && m < 20*analysis.Degree
		}
		return m > 0.33*analysis.Degree && m < 20*analysis.Degree
	case length:
		if open[0].field == strikeToe || open[0].field == strikeUp {
			// Strikes scatter by some millimetres; a few near the middle of
			// the face say nothing about their unit.
			m := medianSize(open) * u.scale
			return m > 0.0008 && m < 0.018 || open[0].count() < 3
		}
	}
	return true
}

// coarse reports whether no value of the columns has more than one decimal.
func coarse(cs []*column) bool {
	for _, c := range cs {
		for _, v := range c.cells {
			if v.ok && !v.si && v.step < 0.05 {
				return false
			}
		}
	}
	return true
}

// fitsOthers checks one column in unit u against the flight model and the
// other columns' medians.
func fitsOthers(c *column, u unit, byField map[field]*column) bool {
	m := median(c.raw()) * u.scale
	si := func(f field) (float64, bool) {
		o := byField[f]
		if o == nil || !o.unitKnown() || o == c {
			return 0, false
		}
		return median(o.siValues()), o.count() > 0
	}
	switch c.field {
	case ballSpeed, clubSpeed:
		if club, ok := si(clubSpeed); ok && c.field == ballSpeed && (m < 0.7*club || m > 1.6*club) {
			return false
		}
		ratio, low, high := carryRatio(c, u, byField)
		inFeet := ratio * analysis.Foot / bothLengths
		return ratio == 0 || ratio > low && ratio < high || openLength(byField) && inFeet > low && inFeet < high
	case carry:
		if speeds := byField[ballSpeed]; speeds != nil && speeds.unitKnown() {
			ratio, low, high := carryRatio(speeds, speeds.unit, byField)
			ratio *= u.scale / bothLengths
			if low >= 0.7 {
				high = 1.12 // no ball flies much further than a new one
			}
			return ratio == 0 || ratio > low && ratio < high
		}
	case apex:
		d, ok := si(carry)
		if !ok {
			return true
		}
		l, okL := si(launch)
		fall, okD := si(descent)
		switch {
		case okL && okD:
			// A parabola's height is an eighth of its range times the sum of
			// both slopes; a ball's flight keeps close to it.
			h := d * (math.Tan(l) + math.Tan(fall)) / 8
			return m > 0.6*h && m < 1.6*h
		case okL:
			h := d * math.Tan(l) / 2
			return m > 0.55*h && m < 1.75*h
		}
		return m > 0.05*d && m < 0.33*d
	case lateral, lateralTotal:
		// Sideways distances follow start and curve. Where they do, feet and
		// yards differ threefold.
		// A curve nobody measured widens it: it mostly goes the way of the start.
		slope, curved, ok := sidewaysSlope(c, byField)
		most := 1.7
		if !curved {
			most = 4
		}
		return !ok || slope*u.scale > 0.6 && slope*u.scale < most
	}
	return true
}

// sidewaysSlope is how many written units of a sideways distance there are to a
// metre of start line and curve, and whether curves are known at all. ok is
// false unless the two go together.
func sidewaysSlope(c *column, byField map[field]*column) (slope float64, curved, ok bool) {
	s := newSeries()
	for f, o := range byField {
		if o != c && readable(*o) && o.count() > 0 && f.dimension() != noDimension {
			s[f] = o.rightward()
		}
	}
	if !s.has(direction, carry) {
		return 0, false, false
	}
	bends := make([]float64, len(c.cells))
	if curved = s.has(spinAxis); curved {
		bends = curves(s, newSky())
	}
	best := 0.0
	for _, sign := range []float64{1, -1} { // of the axis, which may be turned
		var xs, ys []float64
		for i, v := range c.cells {
			if x := s.at(carry, i) * math.Tan(s.at(direction, i)+sign*bends[i]); v.ok && !math.IsNaN(x) {
				xs, ys = append(xs, x), append(ys, v.signed())
			}
		}
		if len(xs) < 6 {
			return 0, curved, false
		}
		if r := stat.Correlation(xs, ys, nil); math.Abs(r) > max(0.8, math.Abs(best)) {
			best = r
			slope, ok = stat.StdDev(ys, nil)/stat.StdDev(xs, nil), true
		}
	}
	return slope, curved, ok
}

// siValues lists the column's values in SI.
func (c *column) siValues() (vs []float64) {
	for _, v := range c.cells {
		if v.ok {
			if !v.si {
				v.v = c.unit.si(v.v)
			}
			vs = append(vs, v.v)
		}
	}
	return vs
}

// bothLengths stands for a unit of length that is still open: yards and metres
// differ by far less than the units of speed.
const bothLengths = 0.957

// carryRatio is the middle, over the shots, of the carry over what the flight
// model makes of a column of speeds in unit u, and between what limits it is
// believed: wide where launch and spin are unknown and those of a full swing
// with the club must do.
// It is 0 where there is nothing to compare.
func carryRatio(speeds *column, u unit, byField map[field]*column) (ratio, low, high float64) {
	known := func(f field) []float64 {
		if c := byField[f]; c != nil && readable(*c) && c.count() > 0 {
			return c.rightward()
		}
		return nil
	}
	far := byField[carry]
	if far == nil {
		return 0, 0, 0
	}
	launches, spins := known(launch), known(spin)
	low, high = 0.7, 1.3
	if launches == nil || spins == nil || speeds.field == clubSpeed {
		low, high = 0.55, 1.5
	}
	if lofts := known(dynamicLoft); launches == nil && lofts != nil {
		launches = mix(lofts, launchOfLoft, lofts, 0)
	}
	m := flight.Standard()
	var ratios []float64
	for i, v := range speeds.cells {
		d := far.cells[i]
		if !v.ok || !d.ok {
			continue
		}
		l := analysis.Launch{
			Speed: v.v * u.scale,
			Angle: speeds.usually(launch, i, 16*analysis.Degree),
			Spin:  speeds.usually(spin, i, 4500*analysis.RevPerMinute),
		}
		if v.si {
			l.Speed = v.v
		}
		if speeds.field == clubSpeed {
			l.Speed *= speeds.usually(smash, i, 1.4)
		}
		if launches != nil && !math.IsNaN(launches[i]) {
			l.Angle = launches[i]
		}
		if spins != nil && !math.IsNaN(spins[i]) {
			l.Spin = spins[i]
		}
		switch {
		case d.si:
		case far.unitKnown():
			d.v = far.unit.si(d.v)
		default:
			d.v *= bothLengths
		}
		l.Speed = min(l.Speed, 109) // of a wrong unit; the carry still tells
		if sane(l) {
			ratios = append(ratios, d.v/max(1, m.Fly(l).Carry))
		}
	}
	return median(ratios), low, high
}

// openLength reports whether the unit of the carry is still open.
func openLength(byField map[field]*column) bool {
	far := byField[carry]
	return far != nil && unitless(*far)
}

func medianSize(cs []*column) float64 {
	var all []float64
	for _, c := range cs {
		for _, v := range c.raw() {
			all = append(all, math.Abs(v))
		}
	}
	return median(all)
}
