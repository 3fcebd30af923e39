package words

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/cause"
)

// Carry says why the balls finished short or long of the carry aimed at; ""
// when no target was said or no carry measured.
func (v Voice) Carry(r cause.Result) string {
	d := r.Distance
	if !d.Known {
		return ""
	}
	short := "long"
	if d.Miss.Mean < 0 {
		short = "short"
	}
	where := "Distance: about " + v.Distance(math.Abs(d.Miss.Mean)) + " " + short + " of the target"
	if v.vanishes(analysis.Length, d.Miss.Mean, alone) {
		return "Distance: on the number."
	}
	switch d.Verdict {
	case cause.DistanceTooFew:
		return where + " so far, which may be luck."
	case cause.DistanceCentred:
		return where + ", as near as it counts."
	case cause.DistanceClub:
		return where + ", the well-struck balls too: another club is the simplest answer."
	case cause.DistanceSpeed:
		return where + ", mostly club speed" + v.longer(d.Speed) + "."
	case cause.DistanceStrike:
		return where + ", mostly the strike" + v.longer(d.Strike) + "."
	case cause.DistanceLoft:
		return where + ", mostly dynamic loft" + v.longer(d.Loft) + "."
	case cause.DistanceSpin:
		return where + ", mostly spin" + v.longer(d.Spin) + "."
	}
	return where + "; what was measured does not say why."
}

// longer says a share of a carry: " (6 yards shorter)".
func (v Voice) longer(m float64) string {
	if v.vanishes(analysis.Length, m, alone) {
		return ""
	}
	return " (" + v.Change(analysis.Carry, m) + ")"
}
