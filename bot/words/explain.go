package words

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// Explain is the long explanation of a cause, a line each, to be followed from
// top to bottom: what was measured and what inferred, what a degree is worth
// here, how the yards add up, how sure it is, and what it assumes.
func (v Voice) Explain(shots []analysis.Shot, p pattern.Pattern, r cause.Result) []string {
	lines := []string{v.sources(shots)}
	if s := v.SetAside(shots, p); s != "" {
		lines = append(lines, s)
	}
	lines = append(lines, v.centreLine(p)...)
	lines = append(lines, v.deliveryLines(r)...)
	if p.Lateral.OK {
		lines = append(lines, "In brackets, here and below: the range that holds the true mean 95 times in 100.")
	}
	if r.Face.N > 0 {
		lines = append(lines, v.referenceLine(r), v.worthLine(r), v.Split(r),
			"How they add up: every ball is flown again with its face at the reference, its path, and both; "+
				"each gets its share averaged over the two orders (Shapley 1953), and the rest is what was measured minus what was flown.")
	}
	if r.Strike.N > 0 && !v.vanishes(analysis.Length, r.Strike.Mean, alone) {
		lines = append(lines, "Of the rest, the strike speaks for "+v.plainSide(r.Strike.Mean)+v.bracket(analysis.Lateral, r.Strike)+".")
	}
	if named(r.Verdict) || r.Verdict == cause.Centred {
		lines = append(lines, v.sureLine(r))
	}
	if r.Scatter != nil {
		lines = append(lines, v.scatterLine(*r.Scatter))
	}
	if s := v.corridorLine(r); s != "" {
		lines = append(lines, s)
	}
	if s := v.WorkBack(r); s != "" {
		lines = append(lines, s)
	}
	return append(lines, assumptions...)
}

// assumptions are the model behind every line, with its sources.
var assumptions = []string{
	"Flight: drag and lift from Quintavalla (2002) at low spin and the rules bodies' report on spin (2006) above, blended between; " +
		"the air is the session's where the file says, else a standard day without wind.",
	"Impact: a rigid head that grips the ball (after Penner 2001), with the friction limit and the share of the face of Henrikson and others (2020). " +
		"Where start line, spin or its tilt were measured, they stand in for the model's.",
}

// measuredHead begins the line that lists what was measured.
const measuredHead = "Measured: "

// sources says how many balls each number was measured for, and which were
// inferred.
func (v Voice) sources(shots []analysis.Shot) string {
	var measured, inferred []string
	for _, n := range analysis.Numbers() {
		m, f := 0, 0
		for _, s := range shots {
			switch {
			case s.Aside != analysis.Used:
			case s.Measured(n):
				m++
			case s.Inferred(n):
				f++
			}
		}
		if m > 0 {
			measured = append(measured, n.String())
		}
		if f > 0 {
			inferred = append(inferred, n.String())
		}
	}
	if len(measured) == 0 {
		return measuredHead + "nothing that could be used."
	}
	text := measuredHead + list(measured, "and") + "."
	if len(inferred) > 0 {
		text += " Inferred from the ball's flight: " + list(inferred, "and") + "."
	}
	return text
}

// centreLine says the pattern's two statements, centre and scatter.
func (v Voice) centreLine(p pattern.Pattern) []string {
	if p.Lateral.N == 0 {
		return nil
	}
	text := "Centre of " + count(p.Lateral.N, "ball") + ": " + v.Mean(analysis.Lateral, p.Lateral) + v.bracket(analysis.Lateral, p.Lateral)
	if p.Carry.N > 0 {
		text += ", carry " + v.Mean(analysis.Carry, p.Carry) + v.bracket(analysis.Carry, p.Carry)
	}
	lines := []string{text + "."}
	if p.Width80OK {
		lines = append(lines, "Scatter: eight balls in ten fall within a width of "+v.Distance(p.Width80)+".")
	}
	return lines
}

// deliveryLines say the delivery with limits, a number a line.
func (v Voice) deliveryLines(r cause.Result) []string {
	var lines []string
	for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack,
		analysis.DynamicLoft, analysis.ClubSpeed, analysis.StrikeToe} {
		e := r.Delivery[n]
		if e.N == 0 {
			continue
		}
		text := sentence(n.String()) + ": " + v.Mean(n, e) + v.bracket(n, e)
		if r.Inferred && (n == analysis.Face || n == analysis.Path || n == analysis.FaceToPath) {
			text += ", inferred"
		}
		lines = append(lines, text+".")
	}
	return lines
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
	return "How sure: the same verdict in " + times + " of 100 redraws of your balls and of the model; 80 are needed to name one."
}

// scatterLine says whose the sideways spread is.
func (v Voice) scatterLine(s cause.Shares) string {
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
