package report

import (
	"strconv"
	"strings"

	"rangepost/analysis"
)

// ParseDistance reads a distance as people write it, "150", "150 yd", "137m",
// into metres. Without a unit it is in the golfer's own. Its error is an
// *analysis.Refusal.
func ParseDistance(text string, units analysis.Units) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	unit := units.Scale(analysis.Length)
	for _, u := range []struct {
		suffix string
		m      float64
	}{{"yards", analysis.Yard}, {"yard", analysis.Yard}, {"yds", analysis.Yard}, {"yd", analysis.Yard}, {"metres", 1}, {"meters", 1}, {"metre", 1}, {"meter", 1}, {"m", 1}} {
		if rest, ok := strings.CutSuffix(t, u.suffix); ok {
			t, unit = strings.TrimSpace(rest), u.m
			break
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil {
		return 0, analysis.Refuse("Write it as 150yd or 137m.", "that is not a distance.").In(text)
	}
	m := v * unit
	// Past 400 m no golf ball carries; under 5 m there is no flight to judge.
	if !(m >= 5 && m <= 400) {
		return 0, analysis.Refuse("It can be from 5 to 430 yards.", "that is not a carry anybody aims at.").In(text)
	}
	return m, nil
}
