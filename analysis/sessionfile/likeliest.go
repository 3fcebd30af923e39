package sessionfile

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// A unit that nothing names is taken where the figures and custom speak for it
// by these odds, as a logarithm, against the next.
const (
	clearLength = 3.0 // yards against metres, a tenth; heights of balls whose launch is not known
	clearUnit   = 2.0 // of others, which are further apart
)

// longest is about how far long hitters' drivers carry, in the middle of a
// session, m. Common practice, no source.
const longest = 260.0

// of reports whether the family holds the field.
func (fam family) of(f field) bool { return slices.Contains(fam.fields, f) }

// far is the column of distances that other lengths go by, nil without one.
func far(byField map[field]*column) *column {
	for _, f := range []field{carry, total} {
		if c := byField[f]; c != nil && c.count() > 0 {
			return c
		}
	}
	return nil
}

// follows reports whether the family's unit follows from that of the carry,
// which is still being asked.
func (fam family) follows(byField map[field]*column) bool {
	c := far(byField)
	return (fam.of(lateral) || fam.of(apex)) && c != nil && unitless(*c)
}

// likeliest is the unit that speaks for itself among those that fit, "" if none
// does, whether it stands alone, and those within its reach.
func (fam family) likeliest(open []*column, fits []string, byField map[field]*column, o Options) (unit string, alone bool, reach []string) {
	if len(fits) < 2 {
		if len(fits) == 1 {
			return fits[0], true, fits
		}
		return "", false, nil
	}
	dim := open[0].field.dimension()
	scores := make([]float64, len(fits))
	best := 0
	var flights *wholeFlight
	if fam.of(carry) || fam.of(apex) {
		flights = compareFlights(byField)
	}
	witnesses := 1.0
	if fam.of(strikeToe) { // who strikes it near the middle does so both ways
		witnesses = float64(len(open))
	}
	for i, name := range fits {
		scores[i] = fam.custom(name, byField, o)
		for _, c := range open {
			if u := unitNamed(name, dim); flights != nil && (c.field == carry || c.field == apex) {
				scores[i] += flights.inUnit(c, u, byField)
			} else {
				scores[i] += bears(c, u, byField) / witnesses
			}
		}
		if scores[i] > scores[best] {
			best = i
		}
	}
	need := clearUnit
	if fam.of(carry) || fam.of(apex) && (byField[launch] == nil || !readable(*byField[launch])) {
		need = clearLength
	}
	alone = true
	for i, name := range fits {
		if scores[best]-scores[i] < need {
			reach = append(reach, name)
		}
		alone = alone && (i == best || scores[best]-scores[i] > 2*need)
	}
	if len(reach) == 1 {
		return reach[0], alone, reach
	}
	return "", false, reach
}

// custom is how far habit speaks for a unit, before any figure is looked at:
// what the golfer and their clubhouse use, what goes with the file's other
// units. Common practice, no source.
func (fam family) custom(name string, byField map[field]*column, o Options) (score float64) {
	switch {
	case fam.of(carry):
		metres := 0.0
		for _, f := range []field{ballSpeed, clubSpeed} {
			if c := byField[f]; c != nil && c.unitName() != "" {
				metres = 1.2
				if c.unitName() == "mph" {
					metres = -1.2
				}
			}
		}
		metres += metresIn(byField)
		switch o.Lengths {
		case analysis.Metres:
			metres += 3
		case analysis.Yards:
			metres -= 3
		}
		for _, f := range []field{lateral, lateralTotal, apex} { // what is given of others goes with it
			if c := byField[f]; c != nil && c.unitName() != "" {
				score += besides[kin{name, f == apex, c.unitName()}]
			}
		}
		switch name {
		case "m":
			return score + metres/2
		case "ft": // of carries it is hardly ever used
			return score - metres/2 - 4
		}
		return score - metres/2
	case fam.of(lateral), fam.of(apex):
		c := far(byField)
		if c == nil {
			return 0
		}
		if c.above && fam.of(lateral) && name == c.unitName() { // said of all distances
			return 2 * clearUnit
		}
		return besides[kin{c.unitName(), fam.of(apex), name}]
	case fam.of(strikeToe):
		if name != "mm" {
			return -1.5
		}
	}
	return 0
}

// metresIn is how far the language of the headings speaks for metres: courses are
// measured in them where German, French, Spanish, Italian and Swedish are
// spoken, and in yards in Japan. It counts no more than the unit of the speeds,
// which goes with it.
func metresIn(byField map[field]*column) float64 {
	var cs []column
	for _, c := range byField {
		cs = append(cs, *c)
	}
	metres, yards := false, false
	for _, l := range languages(cs) {
		yards = yards || l == "ja"
		metres = metres || l != "ja" && l != "ko"
	}
	switch {
	case metres == yards:
		return 0
	case metres:
		return 1.2
	}
	return -1.2
}

// unitName is the unit the column is in, or its values are, "" if unknown.
func (c *column) unitName() string {
	if c.unitKnown() {
		return c.unit.name
	}
	return c.beside
}

// kin is a distance's unit, whether a height is asked about, and its unit.
type kin struct {
	far    string
	height bool
	unit   string
}

// besides is how usual a unit of sideways distances and heights is in a file
// with carries in another.
var besides = map[kin]float64{
	{"yd", false, "ft"}: -2.5, {"yd", false, "m"}: -5,
	{"m", false, "ft"}: -4, {"m", false, "yd"}: -5,
	{"ft", false, "yd"}: -5, {"ft", false, "m"}: -5, {"ft", true, "yd"}: -3, {"ft", true, "m"}: -3,
	{"yd", true, "yd"}: -0.7, {"yd", true, "m"}: -3,
	{"m", true, "ft"}: -2, {"m", true, "yd"}: -5,
}

// bears is how well a column in unit u bears out the others, against the best
// there could be.
func bears(c *column, u unit, byField map[field]*column) float64 {
	off := func(x, wide float64) float64 { return -0.5 * x * x / (wide * wide) }
	m := median(c.raw()) * u.scale
	si := func(f field) (float64, bool) {
		o := byField[f]
		if o == nil || !o.unitKnown() && o.unread() || o == c || o.count() == 0 {
			return 0, false
		}
		return median(o.siValues()), true
	}
	switch c.field {
	case ballSpeed, clubSpeed:
		score := 0.0
		if ratio, low, _ := carryRatio(c, u, byField); ratio != 0 {
			wide := 0.08 // yards or metres is still open
			if low < 0.7 {
				wide = 0.15
			}
			score = off(max(0, ratio-1.06, 0.86-ratio), wide)
			if ratio *= analysis.Foot / bothLengths; openLength(byField) {
				score = max(score, off(max(0, ratio-1.01, 0.9-ratio), wide)-4)
			}
			score = max(score, -6)
		}
		if middle, ok := c.besideUsual(u.scale); ok {
			score += off(middle, besideUsual[c.field])
		}
		return score
	case carry, total:
		speeds := byField[ballSpeed]
		ratio, low := 0.0, 0.0
		if speeds != nil && readable(*speeds) && c.field == carry {
			ratio, low, _ = carryRatio(speeds, speeds.unit, byField)
		}
		if ratio == 0 {
			if middle, ok := c.besideUsual(u.scale); ok {
				return off(middle, besideUsual[c.field])
			}
			return off(max(0, math.Log(m/longest)), 0.05)
		}
		ratio *= u.scale / bothLengths
		wide := 0.045
		if low < 0.7 {
			wide = 0.1
		}
		// Range balls and thin air apart, a ball goes as far as it flies.
		return off(max(0, ratio-1.01, 0.9-ratio), wide)
	case apex:
		d, ok := si(carry)
		l, okL := si(launch)
		fall, okD := si(descent)
		up, okT := si(flightTime)
		switch {
		case !ok:
			return 0
		case okL && okD:
			return off(math.Log(m/(d*(math.Tan(l)+math.Tan(fall))/8)), 0.2)
		case okL:
			return off(math.Log(m/(d*math.Tan(l)*0.55)), 0.3)
		case okT: // see ties
			return off(up/(2*math.Sqrt(2*m/9.81))-1.5+1.3*m/d, 0.1)
		case okD: // 0.16 of the fall over the whole length of a driver, 0.21 of a wedge, by package flight [C]
			return off(math.Log(m/(0.18*d*math.Tan(fall))), 0.2)
		}
		if steep, ok := c.steepness(); ok {
			return off(math.Log(m/(steep*d)), 0.35)
		}
		return off(math.Log(m/(0.17*d)), 0.4)
	case lateral, lateralTotal:
		switch slope, curved, ok := sidewaysSlope(c, byField); {
		case ok && curved:
			return off(math.Log(slope*u.scale), 0.25)
		case ok: // curves go with the start and widen it
			return off(math.Log(slope*u.scale/1.7), 0.45)
		}
		if d, ok := si(carry); ok {
			size := medianSize([]*column{c}) * u.scale / d
			return off(math.Log(max(size, 1e-4)/0.04), 0.8)
		}
	case strikeToe, strikeUp:
		return off(math.Log(max(medianSize([]*column{c})*u.scale, 1e-5)/0.006), 0.7)
	}
	return 0
}
