package words

import (
	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// mostSetups is how many setups a reply speaks of; the picture shows more.
const mostSetups = 3

// Setups says of timelines what each setup beside the usual one was last, with
// the usual one of the same session where it was hit too, and that what else is
// said is of the usual one; nil where there is none.
func (v Voice) Setups(results []timeline.Result) (lines []string) {
	usual := false
	for _, r := range results {
		usual = usual || len(r.Setups) > 0 && !r.Number.Info().Judged
		of := " the " + r.Number.String()
		if severalClubs(results) && !r.Club.Unknown() {
			of += " of the " + r.Club.String()
		}
		for i := len(r.Setups) - 1; i >= max(0, len(r.Setups)-mostSetups); i-- {
			lines = append(lines, v.lastWith(r, r.Setups[i], of))
		}
	}
	if usual {
		lines = append(lines, "The rest here is of the usual setup alone.")
	}
	return lines
}

func (v Voice) lastWith(r timeline.Result, s timeline.Setup, of string) string {
	last := s.Points[len(s.Points)-1]
	text := "With " + v.Quote(s.Label) + of + " was " + v.Mean(r.Number, last.Mean) + " on " + date(last.At)
	for _, p := range r.Points {
		if p.Session == last.Session {
			if r.Number.Info().Judged { // which has the balls of every set
				return text + "; over all shots that day " + v.shortMean(r.Number, p.Mean) + "."
			}
			return text + "; with the usual setup that day " + v.shortMean(r.Number, p.Mean) + "."
		}
	}
	return text + "."
}

// shortMean is Mean without the words both sides share: "2.9° left".
func (v Voice) shortMean(n analysis.Number, e analysis.Estimate) string {
	return v.untailed(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK))
}
