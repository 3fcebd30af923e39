package words

import (
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// Explain is the long explanation of a cause, a line each, to be followed from
// top to bottom: what was measured and what inferred, what a degree is worth
// here, how the yards add up and how sure that is; then what stands behind it.
func (v Voice) Explain(shots []analysis.Shot, p pattern.Pattern, r cause.Result) []string {
	var lines []string
	add := func(line string) {
		if line != "" {
			lines = append(lines, line)
		}
	}
	split := r.Face.N > 0
	add(v.sources(shots))
	add(v.SetAside(shots, p))
	add(v.centreLine(p))
	add(v.deliveryLine(r, r.Inferred, analysis.Face, analysis.Path, analysis.FaceToPath))
	if split {
		add(v.worthLine(r))
		add(v.Split(r))
	}
	if r.Verdict.Named() || r.Verdict == cause.Centred {
		add(v.sureLine(r))
	}
	if p.Lateral.OK {
		add("In brackets: the range that holds the true mean 95 times in 100.")
	}
	add(v.clubLine(shots, r))
	if split {
		add(v.referenceLine(r))
		add(addingUp)
	}
	add(v.strikeLine(r))
	add(v.scatterLine(r.Scatter))
	add(v.corridorLine(r))
	add(v.WorkBack(r))
	return append(lines, assumptions...)
}

// addingUp says how the split is made.
const addingUp = "How they add up: every ball is flown again with its face at the reference, its path, and both; each gets its share " +
	"averaged over the two orders (Shapley 1953), and the rest is what was measured minus what was flown."

// assumptions are the model behind every line, with its sources.
var assumptions = []string{
	"Flight: the mean of eight published sets of drag and lift, from Bearman and Harvey (1976) to Lyu and others (2018), and as unsure as they differ. " +
		"Where your balls' own carry, apex, time and curve were measured, they say what of it holds. The air is the session's where the file says, else a standard day without wind.",
	"Impact: a rigid head that grips the ball (after Penner 2001), with the friction limit of Henrikson and others (2020) and the face's share of the start line as Wood and others (2018) and others measured it. " +
		"Where start line, spin or its tilt were measured, they stand in for the model's.",
}

// measuredHead begins the line that lists what was measured.
const measuredHead = "Measured"

// foremost are the numbers of the club that a list names first: the verdict
// rests on them.
var foremost = []analysis.Number{analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft}

// listed are the numbers in the order in which a list of what was measured
// names them, by what they are measured of.
var listed = func() (groups [3][]analysis.Number) {
	add := func(n analysis.Number) { groups[n.Info().Of] = append(groups[n.Info().Of], n) }
	for _, n := range foremost {
		add(n)
	}
	for _, n := range analysis.Numbers() {
		if n.Info().Listed != "" && !slices.Contains(foremost, n) {
			add(n)
		}
	}
	return groups
}()

var listedOf = [...]string{analysis.OfClub: "the club", analysis.OfBall: "the ball", analysis.OfFlight: "its flight"}

// sources says what was measured of the used balls, and what inferred.
func (v Voice) sources(shots []analysis.Shot) string {
	any := func(n analysis.Number, how func(analysis.Shot, analysis.Number) bool) bool {
		return slices.ContainsFunc(shots, func(s analysis.Shot) bool { return s.Aside == analysis.Used && how(s, n) })
	}
	var measured, inferred []string
	for i, group := range listed {
		var of []string
		for _, n := range group {
			if any(n, analysis.Shot.Measured) {
				of = append(of, n.Info().Listed)
			}
			if any(n, analysis.Shot.Inferred) {
				inferred = append(inferred, n.Info().Listed)
			}
		}
		if len(of) > 0 {
			measured = append(measured, "of "+listedOf[i]+": "+list(of, "and"))
		}
	}
	if len(measured) == 0 {
		return measuredHead + ": nothing that could be used."
	}
	text := measuredHead + " " + strings.Join(measured, "; ") + "."
	if len(inferred) > 0 {
		text += " Inferred from the ball's flight: " + list(inferred, "and") + "."
	}
	return text
}

// centreLine says the pattern's two statements, centre and scatter.
func (v Voice) centreLine(p pattern.Pattern) string {
	if p.Lateral.N == 0 {
		return ""
	}
	text := "Centre of " + Count(p.Lateral.N, "ball") + ": " + v.Mean(analysis.Lateral, p.Lateral) + v.bracket(analysis.Lateral, p.Lateral)
	if p.Carry.N > 0 {
		text += ", carry " + v.Mean(analysis.Carry, p.Carry) + v.bracket(analysis.Carry, p.Carry)
	}
	if p.Width80OK {
		text += ". Scatter: eight balls in ten fall within a width of " + v.Distance(p.Width80)
	}
	return text + "."
}

// deliveryLine says the means of numbers of the delivery with their limits.
func (v Voice) deliveryLine(r cause.Result, inferred bool, numbers ...analysis.Number) string {
	var items []string
	for _, n := range numbers {
		if e := r.Delivery[n]; e.N > 0 {
			items = append(items, n.Short()+" "+v.Mean(n, e)+v.bracket(n, e))
		}
	}
	if len(items) == 0 {
		return ""
	}
	text := sentence(strings.Join(items, ", "))
	if inferred {
		text += ", inferred"
	}
	return text + "."
}

// clubLine says the means of the rest of the delivery. Those that were worked back
// have no limits: what the balls have wrong in common is not in how they vary.
func (v Voice) clubLine(shots []analysis.Shot, r cause.Result) string {
	var told []analysis.Number
	var worked []string
	for _, n := range []analysis.Number{analysis.Attack, analysis.DynamicLoft, analysis.ClubSpeed, analysis.StrikeToe} {
		e := r.Delivery[n]
		switch {
		case e.N == 0:
		case slices.ContainsFunc(shots, func(s analysis.Shot) bool { return s.Aside == analysis.Used && s.Measured(n) }):
			told = append(told, n)
		default:
			worked = append(worked, n.Short()+" about "+v.number(n, e.Mean, 1))
		}
	}
	text := v.deliveryLine(r, false, told...)
	if len(worked) == 0 {
		return text
	}
	if text != "" {
		text += " "
	}
	return text + sentence(strings.Join(worked, ", ")) + ", inferred."
}

// strikeLine says what of the rest the strike speaks for.
func (v Voice) strikeLine(r cause.Result) string {
	if r.Strike.N == 0 || v.vanishes(analysis.Length, r.Strike.Mean, alone) {
		return ""
	}
	return "Of the rest, the strike speaks for " + v.plainSide(r.Strike.Mean) + v.bracket(analysis.Lateral, r.Strike) + "."
}

// referenceLine says what the delivery is judged against.
func (v Voice) referenceLine(r cause.Result) string {
	if r.RefFace == 0 && r.RefPath == 0 {
		return "Judged against a face square to the target and a path straight at it."
	}
	return "Judged against your coach's brief: face " + v.Number(analysis.Face, r.RefFace) +
		", path " + v.Number(analysis.Path, r.RefPath) + "."
}

// worthLine says what a degree is worth at this speed and loft.
func (v Voice) worthLine(r cause.Result) string {
	one := func(worth float64) string {
		m := worth * analysis.Degree
		text := v.unit(trimmed(math.Round(math.Abs(m)/v.Scale(analysis.Length)*10)/10), analysis.Length)
		if m < 0 {
			return text + " the other way"
		}
		return text + " the same way"
	}
	return "Here a degree of face moves the ball " + one(r.FaceWorth) + ", a degree of path " + one(r.PathWorth) + "."
}

// sureLine says the probability behind the verdict, as a count.
func (v Voice) sureLine(r cause.Result) string {
	n := int(math.Floor(tidy(r.Confidence * 100)))
	times := "about " + figure(float64(n), 1)
	if n >= 99 {
		times = "99 or more"
	}
	what := "exactly this verdict"
	if r.Or != "" {
		what = "this or that of the two that it leaves open"
	}
	return "How sure: " + what + " in " + times + " of 100 redraws of your balls and of the model."
}

// scatterLine says whose the sideways spread is.
func (v Voice) scatterLine(s *cause.Shares) string {
	if s == nil {
		return ""
	}
	slopes := "fitted to your balls"
	if s.PhysicsSlopes {
		slopes = "from the model, as there are few balls"
	}
	parts := wholePercents(s.Face, s.Path, s.Strike, s.Speed, s.Unexplained)
	return "Of the sideways spread: face " + parts[0] + ", path " + parts[1] + ", strike " + parts[2] + ", speed " + parts[3] +
		", unexplained " + parts[4] + " (slopes " + slopes + ")."
}

// wholePercents rounds shares of 1 to whole per cent that still add up to 100,
// by the method of largest remainders.
func wholePercents(shares ...float64) []string {
	exact := make([]float64, len(shares))
	for i, s := range shares {
		exact[i] = s * 100
	}
	whole := apportion(exact, 100)
	out := make([]string, len(shares))
	for i, w := range whole {
		out[i] = figure(float64(w), 1) + " %"
	}
	return out
}

// corridorLine says which faces find the target at the path delivered.
func (v Voice) corridorLine(r cause.Result) string {
	low, high, ok := corridorAt(r.Corridor, r.Delivery[analysis.Path].Mean)
	if !ok || r.Delivery[analysis.Path].N == 0 {
		return ""
	}
	return "Corridor (the deliveries that find a target " + v.Distance(2*r.HalfWidth) + " wide): at this path, a face " +
		v.setting(analysis.Face, math.Ceil(tidy(low/deg10))*deg10, math.Floor(tidy(high/deg10))*deg10) + "."
}

// deg10 is a tenth of a degree: the corridor is narrowed to it, so that no face
// is said to find the target that does not.
const deg10 = analysis.Degree / 10
