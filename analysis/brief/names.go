package brief

import (
	"slices"
	"strings"

	"rangepost/analysis"
)

// calls are what golfers call the numbers, besides the names in the table of
// numbers.
var calls = map[analysis.Number][]string{
	analysis.ClubSpeed:    {"clubhead speed", "club head speed", "swing speed"},
	analysis.Attack:       {"attack", "angle of attack", "aoa"},
	analysis.Path:         {"path", "swing path"},
	analysis.Face:         {"face", "club face", "clubface"},
	analysis.FaceToPath:   {"face against path", "face against the path", "ftp"},
	analysis.DynamicLoft:  {"loft"},
	analysis.Lie:          {"lie"},
	analysis.StrikeToe:    {"strike"},
	analysis.Smash:        {"smash"},
	analysis.LaunchAngle:  {"launch"},
	analysis.Direction:    {"direction", "start line", "start direction"},
	analysis.Spin:         {"spin", "backspin"},
	analysis.SpinAxis:     {"axis"},
	analysis.Carry:        {"carry distance"},
	analysis.Total:        {"total distance"},
	analysis.Lateral:      {"offline", "side"},
	analysis.LateralTotal: {"side total"},
	analysis.Apex:         {"height", "peak height"},
	analysis.Descent:      {"descent", "landing angle"},
	analysis.FlightTime:   {"hang time"},
}

// A call is one name of a number, in words.
type call struct {
	words  []string
	number analysis.Number
}

// names are all of them, those of most words first.
var names = func() (all []call) {
	for _, n := range analysis.Numbers() {
		for _, name := range append([]string{n.Info().Name, n.Info().Key}, calls[n]...) {
			all = append(all, call{strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" -_", r) }), n})
		}
	}
	slices.SortStableFunc(all, func(a, b call) int { return len(b.words) - len(a.words) })
	return all
}()

// Number finds a number by its key, its name, or what golfers call it.
func Number(text string) (n analysis.Number, ok bool) {
	p := parser{rest: tokens(text)}
	for _, name := range names {
		if p.word(name.words...) {
			return name.number, len(p.rest) == 0
		}
	}
	return 0, false
}

// sides are the words for the two sides of numbers, as the sign they give a
// right-handed golfer's.
var sides = map[string]float64{
	"left": -1, "right": 1,
	"closed": -1, "open": 1, "shut": -1,
	"down": -1, "up": 1,
	"heel": -1, "toe": 1,
	"low": -1, "high": 1, "lower": -1, "higher": 1,
}

// sided lists the side words a number knows; none for one that is just more or
// less.
func sided(n analysis.Number) []string {
	switch n {
	case analysis.Face:
		return []string{"left", "right", "closed", "open", "shut"}
	case analysis.FaceToPath:
		return []string{"closed", "open", "shut"}
	case analysis.Path, analysis.Direction, analysis.Lateral, analysis.LateralTotal, analysis.SpinAxis:
		return []string{"left", "right"}
	case analysis.Attack:
		return []string{"down", "up"}
	case analysis.StrikeToe:
		return []string{"heel", "toe"}
	case analysis.StrikeUp:
		return []string{"low", "high", "lower", "higher"}
	}
	return nil
}

// sign is which way a side word points for number n and hand h; ok is false
// for a word that is not one of the number's.
func sign(n analysis.Number, h analysis.Hand, side string) (s float64, ok bool) {
	if !slices.Contains(sided(n), side) {
		return 0, false
	}
	s = sides[side]
	if side == "open" || side == "closed" || side == "shut" {
		s *= h.Mirror()
	}
	return s, true
}

// units are the words for units, of the kind they measure.
var units = map[string]struct {
	kind analysis.Kind
	si   float64
}{
	"degrees": {analysis.Angle, analysis.Degree}, "degree": {analysis.Angle, analysis.Degree}, "deg": {analysis.Angle, analysis.Degree},
	"mph": {analysis.Speed, analysis.MilePerHour}, "mps": {analysis.Speed, 1}, "kph": {analysis.Speed, analysis.KMPerHour}, "kmh": {analysis.Speed, analysis.KMPerHour},
	"yards": {analysis.Length, analysis.Yard}, "yard": {analysis.Length, analysis.Yard}, "yds": {analysis.Length, analysis.Yard}, "yd": {analysis.Length, analysis.Yard},
	"metres": {analysis.Length, 1}, "metre": {analysis.Length, 1}, "meters": {analysis.Length, 1}, "meter": {analysis.Length, 1}, "m": {analysis.Length, 1},
	"ft": {analysis.Length, analysis.Foot},
	"mm": {analysis.Small, analysis.Millimetre}, "cm": {analysis.Small, 0.01},
	"rpm":     {analysis.Rate, analysis.RevPerMinute},
	"seconds": {analysis.Time, 1}, "second": {analysis.Time, 1}, "sec": {analysis.Time, 1}, "s": {analysis.Time, 1},
}

// unitOf is what a figure without a unit is in, and its name.
func (o Options) unitOf(k analysis.Kind) (si float64, name string) {
	si = o.Units.Scale(k)
	switch k {
	case analysis.Angle:
		name = "degrees"
	case analysis.Speed:
		if name = "mph"; o.Units.Speed == analysis.MetresPerSecond {
			name = "m/s"
		}
	case analysis.Length:
		if name = "yards"; o.Units.Distance == analysis.Metres {
			name = "metres"
		}
	case analysis.Small:
		name = "mm"
	case analysis.Rate:
		name = "rpm"
	case analysis.Time:
		name = "seconds"
	default:
		name = "no unit"
	}
	return si, name
}

// most is the largest value a brief asks of a kind, SI: beyond it somebody
// slipped.
func most(k analysis.Kind) float64 {
	return [...]float64{
		analysis.Angle: 90 * analysis.Degree, analysis.Speed: 120, analysis.Length: 450,
		analysis.Small: 0.1, analysis.Rate: 20000 * analysis.RevPerMinute, analysis.Time: 15, analysis.Ratio: 2,
	}[k]
}
