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
	where := "Distance: about " + v.Distance(math.Abs(d.Miss.Mean)) + " " + short(d.Miss.Mean) + " of the target"
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
		if !d.Spoken {
			text := where + ", mostly " + airSaid(d) + v.longer(d.Air) + v.against(d)
			if d.Speed.Mean/d.Miss.Mean < aPart && d.Strike.Mean/d.Miss.Mean < aPart {
				text += ": not the swing"
			}
			return text + "."
		}
		text := where + ", mostly " + airSaid(d) + " (usually worth " + v.Distance(math.Abs(d.Said.All())) + ")"
		if d.Against == 0 {
			text += ": earlier sessions with this club would tell for sure"
		}
		return text + "."
	case cause.DistanceTwo:
		return where + ", and two things share it: " + v.two(d) + v.against(d) + "."
	case cause.DistanceUnknown:
		if d.Against == 0 {
			return where + v.saidOf(d) + v.restOf(d) + ": earlier sessions with this club would tell."
		}
	}
	return where + "; what was measured does not say why."
}

// short is which way a miss in length is.
func short(miss float64) string {
	if miss < 0 {
		return "short"
	}
	return "long"
}

// carryFirst is Carry in the first layer, "" where it has no place there; air
// reports whether it is air and ball that it speaks of, as the owners or as what
// may be, by what was said of them. Those are said beside any miss to the side:
// nobody has to see to them. room is whether there is room for a figure.
func (v Voice) carryFirst(r cause.Result, room bool) (text string, air bool) {
	d := r.Distance
	may := v.saidOf(d) != ""
	air = d.Known && (d.Verdict == cause.DistanceAir || may)
	switch {
	case !d.Known || d.Verdict == cause.DistanceTooFew || !air && r.Verdict != cause.Centred:
		return "", false
	case v.vanishes(analysis.Length, d.Miss.Mean, alone):
		return v.Carry(r), false
	case room:
		text = "Distance: about " + v.Distance(math.Abs(d.Miss.Mean)) + " " + short(d.Miss.Mean) + " of the target"
	default:
		text = "Distance: " + short(d.Miss.Mean) + " of the target"
	}
	switch { // whose else it is stands in the figures, and what to do in the next line
	case may && !explainsAll(d):
		text += ", and " + airSaid(d) + " may explain a part of it" + aimedAt(d)
	case may:
		text += ", and " + airSaid(d) + " may explain all of it" + aimedAt(d)
	case air:
		text += ", mostly " + airSaid(d)
	}
	return text + ".", air
}

// aPart is the share of a miss from which something has a part of it, and is said to
// (our choice).
const aPart = 0.2

// explainsAll reports whether it explains as good as all of it.
func explainsAll(d cause.Distance) bool { return d.Said.All()/d.Miss.Mean >= 0.8 }

// airSaid names what of wind, air and ball has a miss in length: those that were
// said, where they speak for a part of it.
func airSaid(d cause.Distance) string {
	all := d.Said.All()
	if all/d.Miss.Mean < aPart {
		return "wind, air or the ball itself"
	}
	ball := "range balls"
	if d.Said.Ball > 0 { // today's are the better ones
		ball = "the balls"
	}
	var names []string
	for _, said := range []struct {
		name string
		m    float64
	}{{"the day's wind", d.Said.Wind}, {"the day's air", d.Said.Air}, {ball, d.Said.Ball}} {
		if said.m/all >= 0.25 {
			names = append(names, said.name)
		}
	}
	return list(names, "and")
}

// saidOf says how much of a miss in length air and ball speak for as they were
// said, where no owner is named and they speak for a part of it: the size is
// expected, not measured.
func (v Voice) saidOf(d cause.Distance) string {
	if d.Verdict != cause.DistanceUnknown || d.Against > 0 || d.Said.All()/d.Miss.Mean < aPart {
		return ""
	}
	share := "all of that"
	if !explainsAll(d) {
		share = "about " + v.Distance(math.Abs(d.Said.All())) + " of that"
	}
	return ". " + sentence(airSaid(d)) + " may explain " + share + aimedAt(d)
}

// restOf says what else may have a miss in length without a past, where what was said
// of air and ball leaves anything.
func (v Voice) restOf(d cause.Distance) string {
	const swing = "another club, or another swing than usual"
	switch {
	case v.saidOf(d) == "":
		return ". The air, " + swing
	case explainsAll(d):
		return ""
	}
	return ". The rest is " + swing
}

// aimedAt says on what it hangs that range balls explain a miss: "" where it is
// not mostly they.
func aimedAt(d cause.Distance) string {
	if d.Against > 0 || 2*math.Abs(d.Said.Ball) < math.Abs(d.Said.All()) {
		return ""
	}
	return ", if the target is for new balls"
}

// Wind says what a wind that was said has of the miss sideways; "" without one
// that matters.
func (v Voice) Wind(r cause.Result) string {
	if v.vanishes(analysis.Length, r.Wind, alone) {
		return ""
	}
	return "The day's wind is counted with the rest: about " + v.plainSide(r.Wind) + "."
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

// NotHit says of clubs that a target was said for that no ball was hit with them.
func NotHit(clubs []analysis.Club) string {
	names := make([]string, len(clubs))
	for i, c := range clubs {
		names[i] = "the " + c.String()
	}
	return "A target was given for " + list(names, "and") + ", and no ball of the file was hit with it."
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
