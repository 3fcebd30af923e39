package shapes

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// inSI is how many SI units one of a unit is.
var inSI = map[string]float64{
	"yd": analysis.Yard, "m": 1, "ft": analysis.Foot,
	"mph": analysis.MilePerHour, "m/s": 1, "km/h": analysis.KMPerHour,
	"deg": analysis.Degree, "rpm": analysis.RevPerMinute,
	"mm": analysis.Millimetre, "cm": 0.01, "in": analysis.Inch,
	"s": 1, "": 1,
}

// spellings is how a unit is written in any language; a language adds its own.
var spellings = map[string][]string{
	"yd": {"yd", "yd", "yds", "yards", "YDS"}, "m": {"m", "m", "M"}, "ft": {"ft", "ft", "feet", "FT"},
	"mph": {"mph", "mph", "MPH", "mi/h"}, "m/s": {"m/s", "m/s", "mps", "m/sec"}, "km/h": {"km/h", "km/h", "kmh", "kph"},
	"deg": {"deg", "°", "°", "deg."}, "rpm": {"rpm", "rpm", "RPM"},
	"mm": {"mm", "mm", "MM"}, "cm": {"cm"}, "in": {"in", "inch", "in."}, "s": {"s", "sec", "s"},
}

func (l *language) spell(r *rand.Rand, unit string) string {
	if unit == "" {
		return ""
	}
	if own := l.units[unit]; len(own) > 0 && chance(r, 0.3) {
		return pick(r, own)
	}
	return pick(r, spellings[unit])
}

// system is the units one device writes in.
type system struct{ far, fast, high, off, small string }

func (l *language) system(r *rand.Rand) system {
	imperial := map[string]float64{"en": 0.75, "ja": 0.5, "ko": 0.25}[l.code]
	s := system{small: pick(r, []string{"mm", "mm", "mm", "mm", "cm", "in"})}
	if chance(r, max(imperial, 0.15)) {
		s.far, s.fast = "yd", "mph"
		s.high = pick(r, []string{"ft", "ft", "yd", "yd", "m"})
	} else {
		s.far, s.fast = "m", pick(r, []string{"km/h", "km/h", "m/s", "mph"})
		s.high = pick(r, []string{"m", "m", "m", "ft"})
	}
	if l.code == "ja" || l.code == "ko" {
		s.fast = pick(r, []string{"m/s", "m/s", "mph", "km/h"})
	}
	s.off = s.far
	switch {
	case chance(r, 0.06) && s.far == "yd":
		s.off = "ft"
	case chance(r, 0.02):
		s.far, s.off = "ft", "ft"
	}
	return s
}

func (s system) of(n analysis.Number) string {
	switch n {
	case analysis.Carry, analysis.Total:
		return s.far
	case analysis.Lateral, analysis.LateralTotal:
		return s.off
	case analysis.Apex:
		return s.high
	}
	switch n.Info().Kind {
	case analysis.Angle:
		return "deg"
	case analysis.Speed:
		return s.fast
	case analysis.Small:
		return s.small
	case analysis.Rate:
		return "rpm"
	case analysis.Time:
		return "s"
	}
	return ""
}

// figures is how a file writes its numbers.
type figures struct {
	comma    bool   // decimals
	thousand string // "" for none
	plus     bool   // +3.2
	minus    string
}

// write is v, already in the column's unit, with so many decimals; and what
// the writing says, which is v rounded.
func (f figures) write(v float64, decimals int) (string, float64) {
	p := math.Pow(10, float64(decimals))
	v = math.Round(v*p) / p
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, part, _ := strings.Cut(s, ".")
	if f.thousand != "" && len(whole) > 3 {
		whole = whole[:len(whole)-3] + f.thousand + whole[len(whole)-3:]
	}
	s = whole
	if part != "" {
		point := "."
		if f.comma {
			point = ","
		}
		s += point + part
	}
	switch {
	case v < 0:
		s = f.minus + s
	case f.plus && v > 0:
		s = "+" + s
	}
	return s, v
}
