package words

import (
	"cmp"
	"math"
	"slices"

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
		return where + ", swung and struck as usual" + v.against(d) + ": another club is the simplest answer."
	case cause.DistanceSpeed:
		if d.Clubless {
			return where + ", mostly ball speed" + v.longer(ballSpeed(d)) + ", by the club's speed or the strike" + v.against(d) + "."
		}
		return where + ", mostly club speed" + v.longer(d.Speed) + v.against(d) + "."
	case cause.DistanceStrike:
		return where + ", mostly the strike" + v.longer(d.Strike) + v.against(d) + "."
	case cause.DistanceLoft:
		return where + ", mostly dynamic loft" + v.longer(d.Loft) + v.against(d) + "."
	case cause.DistanceSpin:
		return where + ", mostly spin" + v.longer(d.Spin) + v.against(d) + "."
	case cause.DistanceAir:
		return where + ", mostly wind, air or the ball itself" + v.longer(d.Air) + v.against(d) + ": not the swing."
	case cause.DistanceTwo:
		return where + ", and two things share it: " + v.two(d) + v.against(d) + "."
	case cause.DistanceUnknown:
		if d.Against == 0 {
			return where + v.saidOf(d) + ". Another club, or another swing than usual: earlier sessions with this club would tell."
		}
	}
	return where + "; what was measured does not say why."
}

// saidOf says how much of a miss in length air and ball speak for as they were
// said, where that is a third of it or more: the size is expected, not measured.
func (v Voice) saidOf(d cause.Distance) string {
	switch share := d.Said / d.Miss.Mean; {
	case share < 1./3:
		return ""
	case share < 0.8:
		return ". Air and ball, as you said them, usually make about " + v.Distance(math.Abs(d.Said)) + " of that"
	}
	return ". Air and ball, as you said them, usually make as much"
}

// Wind says what a wind that was said has of the miss sideways; "" without one
// that matters.
func (v Voice) Wind(r cause.Result) string {
	if v.vanishes(analysis.Length, r.Wind, alone) {
		return ""
	}
	return "The wind you gave is counted: about " + v.plainSide(r.Wind) + "."
}

// against says what length is judged against.
func (v Voice) against(d cause.Distance) string {
	if d.Against == 0 && d.Verdict == cause.DistanceAir {
		return ", by what such a launch carries in still air"
	}
	if d.Against == 0 {
		return ", against the better of the two swings in the set"
	}
	if d.Against == 1 {
		return ", against your last session with it"
	}
	return ", against your last " + Count(d.Against, "session") + " with it"
}

// ballSpeed is what club speed and strike have together, which is all that is
// known of either where club speed was not measured.
func ballSpeed(d cause.Distance) analysis.Estimate {
	return analysis.Estimate{N: d.Speed.N, Mean: d.Speed.Mean + d.Strike.Mean, OK: d.Speed.OK}
}

// two names the two owners that have the most of a miss.
func (v Voice) two(d cause.Distance) string {
	way := math.Copysign(1, d.Miss.Mean)
	type owner struct {
		name string
		e    analysis.Estimate
	}
	owners := []owner{{"club speed", d.Speed}, {"the strike", d.Strike}, {"dynamic loft", d.Loft}, {"spin", d.Spin}, {"wind, air or ball", d.Air}, {"the club", d.Rest}}
	if d.Clubless {
		owners = append(owners[2:], owner{"ball speed", ballSpeed(d)})
	}
	slices.SortStableFunc(owners, func(x, y owner) int { return cmp.Compare(way*y.e.Mean, way*x.e.Mean) })
	return owners[0].name + v.longer(owners[0].e) + " and " + owners[1].name + v.longer(owners[1].e)
}

// longer says a share of a carry: " (6 yards shorter)".
func (v Voice) longer(e analysis.Estimate) string {
	m := e.Mean
	if v.vanishes(analysis.Length, m, alone) {
		return ""
	}
	return " (" + v.Change(analysis.Carry, m) + ")"
}

// LoneTarget says what became of a target, m, said of no club in particular of a
// session with several: it is the one club's, or may be any of the clubs'.
func (v Voice) LoneTarget(carry float64, clubs []analysis.Club) string {
	const say = "say it as 7-iron 150 yards, PW 110 yards."
	aimed := "The target of " + v.Distance(carry)
	names := make([]string, len(clubs))
	for i, c := range clubs {
		names[i] = "the " + c.String() + "'s"
	}
	switch len(clubs) {
	case 0:
		return aimed + " is far from what any club here carries, so none is judged by it: " + say
	case 1:
		return aimed + " is taken as " + names[0] + "; for others, " + say
	}
	return aimed + " may be " + list(names, "or") + ", so none is judged by it: " + say
}
