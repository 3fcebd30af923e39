package words

import (
	"fmt"
	"strings"

	"rangepost/analysis/tally"
)

// TallyTitle is the finding of a tally, for the head of its picture: at most 60
// characters, no full stop.
func (v Voice) TallyTitle(r tally.Result) string {
	switch {
	case r.Balls == 0:
		return "Nothing counted yet"
	case r.Balls < 5:
		return sentence(balls(r.Balls)) + " counted: too few to tell"
	}
	start := map[tally.Side]string{tally.Left: "left", tally.Straight: "straight", tally.Right: "right"}[r.Common.Start]
	curve := map[tally.Side]string{tally.Left: "curve left", tally.Straight: "do not curve", tally.Right: "curve right"}[r.Common.Curve]
	title := fmt.Sprintf("%d of %d start %s and %s", r.Usual.N, r.Usual.Of, start, curve)
	if call := v.FlightCall(r.Common); call != start {
		title += ": " + call
	}
	return title
}

// AltTally says what the picture of a tally shows, at most 1,024 characters;
// counts are in the order of tally.Flights.
func (v Voice) AltTally(counts []int) string {
	v.Plain = true
	r := tally.Of(counts)
	says := []string{v.TallyTitle(r) + ".", "Three by three: a row for each start, a column for each curve."}
	for _, start := range []tally.Side{tally.Left, tally.Straight, tally.Right} {
		var row []string
		for i, f := range tally.Flights() {
			if f.Start == start && i < len(counts) {
				_, curve, _ := strings.Cut(FlightName(f), ", ")
				row = append(row, fmt.Sprintf("%s %d", strings.TrimPrefix(curve, "curves "), counts[i]))
			}
		}
		says = append(says, fmt.Sprintf("Started %s, %d: curved %s.", startSide(start), r.Start.Of(start).N, strings.Join(row, ", ")))
	}
	return fit(says, maxAlt)
}
