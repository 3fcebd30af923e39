package brief

import (
	"slices"
	"strings"

	"rangepost/analysis"
)

// A call is one name of a number, in words.
type call struct {
	words  []string
	number analysis.Number
}

// names are all of them, those of most words first.
var names = func() (all []call) {
	for _, n := range analysis.Numbers() {
		for _, name := range append([]string{n.Info().Name, n.Info().Key}, n.Info().Calls...) {
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

// isSide are the side words of all numbers.
var isSide = func() map[string]bool {
	words := map[string]bool{}
	for _, n := range analysis.Numbers() {
		for _, w := range sided(n) {
			words[w.Word] = true
		}
	}
	return words
}()

// sided lists the side words a number knows; none for one that is just more or
// less.
func sided(n analysis.Number) []analysis.SideWord {
	if s := n.Info().Sides; s != nil {
		return s.Words
	}
	return nil
}

// sign is which way a side word points for number n and hand h; ok is false
// for a word that is not one of the number's.
func sign(n analysis.Number, h analysis.Hand, side string) (s float64, ok bool) {
	for _, w := range sided(n) {
		switch {
		case w.Word != side:
		case w.ByHand:
			return w.Sign * h.Mirror(), true
		default:
			return w.Sign, true
		}
	}
	return 0, false
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
	"rpm": {analysis.Rate, analysis.RevPerMinute},
	"%":   {analysis.Share, 0.01}, "percent": {analysis.Share, 0.01},
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
	case analysis.Share:
		name = "%"
	default:
		name = "no unit"
	}
	return si, name
}
