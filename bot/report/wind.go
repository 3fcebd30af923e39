package report

import (
	"strconv"
	"strings"

	"rangepost/analysis"
)

// The words a wind is said with: a speed with its unit, and where it comes from,
// in degrees clockwise from the target line or as the golfer sees it.
const (
	windNumber = `(\d{1,3}(?:[.,]\d+)?)\s*(m/s|mps|km/h|kmh|kph|mph|knots?|kn|kt)`
	windSide   = `(?:@\s*(-?\d{1,3}(?:[.,]\d+)?)\s*(?:°|deg|degrees)?|(?:from\s+)?(?:the\s+)?(left|right|front|ahead|behind))`
)

var (
	windSaid  = waiting(`^` + windNumber + `\s*` + windSide + `$`)
	windNoted = waiting(`\bwind\s*(?:of|was|is|:)?\s*` + windNumber + `\s*` + windSide)
	alongSaid = waiting(`\b(head|tail)wind\s*(?:of|was|is|:)?\s*` + windNumber)

	windUnits = map[string]float64{
		"m/s": 1, "mps": 1, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 0.44704, // exact, by definition of the mile
		"knot": 1852.0 / 3600, "knots": 1852.0 / 3600, "kn": 1852.0 / 3600, "kt": 1852.0 / 3600,
	}
	windSides = map[string]float64{
		"front": 0, "ahead": 0, "right": 90, "behind": 180, "left": 270, "head": 0, "tail": 180,
	}
)

// strongestWind is the most anybody plays in, m/s, as of files.
const strongestWind = 35

// ParseWind reads a wind as people write it, "5mps@270", "12 mph from the left",
// into m/s and rad clockwise from the target line: 0 is into the face, 90
// degrees from the right. Its error is an *analysis.Refusal.
func ParseWind(text string) (speed, from float64, err error) {
	m := windSaid().FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if m == nil {
		return 0, 0, analysis.Refuse("Write it as 5mps@270, the degrees clockwise from the target line (0 into the face, 90 from the right, 180 from behind), or as \"12 mph from the left\".",
			"that is not a wind.").In(text)
	}
	speed, from = windOf(m[1], m[2], m[3], m[4])
	if speed > strongestWind {
		return 0, 0, analysis.Refuse("It can be up to 35 m/s, which is 78 mph.", "nobody plays in that wind.").In(text)
	}
	if from < 0 || from > 360*analysis.Degree {
		return 0, 0, analysis.Refuse("They can be from 0 (into the face) over 90 (from the right) to 360.", "a wind has no such degrees.").In(text)
	}
	return speed, from, nil
}

// NotedWind finds a wind in a note, "felt slow, wind 5 m/s from the left"; ok is
// false without one that has a speed, a unit and a side.
func NotedWind(note string) (speed, from float64, ok bool) {
	note = strings.ToLower(note)
	if m := windNoted().FindStringSubmatch(note); m != nil {
		speed, from = windOf(m[1], m[2], m[3], m[4])
	} else if m := alongSaid().FindStringSubmatch(note); m != nil {
		speed, from = windOf(m[2], m[3], "", m[1])
	} else {
		return 0, 0, false
	}
	return speed, from, speed <= strongestWind && from >= 0 && from <= 360*analysis.Degree
}

// windOf is a wind of words that were matched.
func windOf(number, unit, degrees, side string) (speed, from float64) {
	value := func(text string) float64 {
		v, _ := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64) // matched
		return v
	}
	if degrees == "" {
		return value(number) * windUnits[unit], windSides[side] * analysis.Degree
	}
	return value(number) * windUnits[unit], value(degrees) * analysis.Degree
}
