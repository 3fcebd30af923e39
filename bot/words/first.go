package words

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
)

// FirstWords is how many words the first layer of a reply has at most: what a
// phone shows without scrolling (our choice).
const FirstWords = 60

// firstFigures is how many figures it has at most.
const firstFigures = 3

// First is the first layer of the reply to a set, a line each: what has to be
// said, what happened and the one thing to do next, and what is said where there
// is room, whether that is better than before. No line has a bracket; the limits
// stand in the layer of figures. name heads it when there are several sets, ""
// when there is one.
func (v Voice) First(name string, p pattern.Pattern, r cause.Result, past timeline.Past) (must, may []string) {
	happened := v.happened(p, r) + again(r, past)
	if name != "" {
		happened = name + ": " + happened
	}
	must = nonEmpty(sentence(happened)+".", v.next(p, r, past))
	length, air := v.carryFirst(r, figures(must) < firstFigures)
	if air {
		must, length = slices.Insert(must, 1, length), ""
	}
	said := figures(append(must, length))
	return must, nonEmpty(length, v.before(r, past, said < firstFigures), inferredFirst(r), groundsFirst(must, r.WorkBack))
}

// happened says what happened, without limits and without its full stop.
func (v Voice) happened(p pattern.Pattern, r cause.Result) string {
	switch {
	case r.Verdict == cause.Aim:
		return "check your aim first: face and path both pointed " + v.offBoth(r) + ", and the balls finished " + v.about(r.Miss.Mean)
	case r.Verdict == cause.TooFew && p.Used > 0:
		if beyondBalls(r) {
			return "these balls finished " + v.about(r.Miss.Mean) + ", and no cause can be named yet"
		}
		more := ""
		if n := r.MoreBalls; n > 0 && n <= manyMore {
			more = "; about " + Count(n, "more ball") + " like these would do"
		}
		return "these balls finished " + v.about(r.Miss.Mean) + ", but too few to say " + leftOpen(r) + more
	case r.Verdict == cause.TwoPatterns:
		return counted.ReplaceAllStringFunc(unbracketed(v.verdict(p, r)), func(s string) string {
			n, _ := strconv.Atoi(strings.TrimSuffix(s, " balls"))
			return numeral(n) + " balls"
		})
	case r.Verdict == cause.Centred && Leaning(r):
		return "on line, but two numbers lean on each other: the face is worth " + v.plainSide(r.Face.Mean) + ", the path " + v.plainSide(r.Path.Mean)
	case r.Verdict == cause.Centred && v.inWind(r) != "":
		return v.inWind(r)
	case r.Verdict == cause.Centred && Wide(p, r):
		return "on line but wide: eight balls in ten spread over about " + v.Distance(p.Width80) + v.mostAs(r.Scatter)
	case r.Verdict == cause.Centred:
		return "on line: the middle of the balls is on target"
	}
	if r.Verdict == cause.FaceAndPath { // figures enough
		return unbracketed(v.verdict(p, r))
	}
	return unbracketed(v.verdict(p, r)) + v.windsPart(r)
}

// inWind says that a pattern is on line in the wind that was said alone; "" where it
// is not so.
func (v Voice) inWind(r cause.Result) string {
	name, m := windward(r)
	if name == "" {
		return ""
	}
	return "on line in this wind alone: the " + name + " is worth " + v.plainSide(m) + ", the wind " + v.plainSide(r.Wind)
}

// mostAs says which number makes a pattern wide, "" where none stands out.
func (v Voice) mostAs(s *cause.Shares) string {
	if s == nil {
		return ""
	}
	switch owner, _ := largestShare(*s); owner {
	case "":
		return ""
	case "speed":
		return ", most of all as club speed changes"
	default:
		return ", most of all as the " + owner + " changes"
	}
}

const (
	stays        = "Next: hit some on another day, and see whether it stays."
	nearerMiddle = "Next: strike it nearer the middle; chalk on the face shows where it meets the ball."
)

// offMiddle is how far off the middle of the face a golfer who is on line strikes
// before that is what comes next, m: a quarter of a ball's width (our choice).
const offMiddle = 10 * analysis.Millimetre

// next is the one thing to do next.
func (v Voice) next(p pattern.Pattern, r cause.Result, past timeline.Past) string {
	switch r.Verdict {
	case cause.TooFew, cause.TwoPatterns: // what happened says what to do
		if r.Verdict == cause.TooFew && beyondBalls(r) {
			return stays
		}
		return ""
	case cause.Unmeasured:
		if len(r.Balls) > 0 {
			return stays
		}
		return "Next: post a file with columns of face and path."
	case cause.Aim:
		return "Next: lay a stick on the ground along your line, and check the device by it."
	case cause.Strike:
		return nearerMiddle
	case cause.Centred:
		if Wide(p, r) {
			return "Next: hit two setups in turns, name the sets, and keep the narrower one."
		}
		if v.saidOf(r.Distance) != "" {
			return "Next: keep the line; more sessions with this club will tell about the length."
		}
		switch r.Distance.Verdict {
		case cause.DistanceClub:
			return "Next: another club for that carry."
		case cause.DistanceStrike:
			return nearerMiddle
		case cause.DistanceSpeed, cause.DistanceLoft, cause.DistanceSpin, cause.DistanceTwo, cause.DistanceUnknown:
			return "Next: keep the line, and see to the length."
		}
		if toe := r.Delivery[analysis.StrikeToe]; toe.Excludes(0) && math.Abs(toe.Mean) > offMiddle {
			return "Next: keep the line, and strike it nearer the middle; chalk on the face shows where it meets the ball."
		}
		return "Next: keep this setup."
	}
	if r.Or == cause.Aim {
		return "Next: lay a stick on the ground along your line, and check the device by it."
	}
	w := r.WorkBack
	tool := ToolPhrase(w.Tool)
	if !w.OK || tool == "" {
		return "Next: " + v.bring(r) + "."
	}
	try := "Next: try " + tool + ", in turns with your usual setup"
	if past.Again >= 3 && !slices.Contains(past.Tried, w.Tool) {
		try = "Next: what was not tried yet, " + tool + ", in turns with your usual setup"
	}
	if w.ToolShare > 0 && w.ToolShare < 0.45 {
		try += "; it does a part of what is needed"
	}
	return try + "."
}

// groundsFirst says what the recommendation of a tool rests on, where there is one
// and it is more than common practice.
func groundsFirst(must []string, w cause.WorkBack) string {
	tool := ToolPhrase(w.Tool)
	if tool == "" || !strings.Contains(must[len(must)-1], tool) {
		return ""
	}
	switch w.Grounds {
	case analysis.OwnTrials:
		return "Your own trials say so."
	case analysis.CoachStudents:
		return "Your coach's students' trials say so."
	}
	return ""
}

// Suggests reports whether a verdict leads to a setup worth trying.
func Suggests(v cause.Verdict) bool {
	return v == cause.Face || v == cause.Path || v == cause.FaceAndPath
}

// bring says in words alone which way a number has to move.
func (v Voice) bring(r cause.Result) string {
	w := r.WorkBack
	switch {
	case r.Verdict == cause.Face && w.FaceAlone.OK:
		return "the face further " + side(w.FaceAlone.Mean)
	case r.Verdict == cause.Path && w.PathAlone.OK:
		return "the path further " + side(w.PathAlone.Mean)
	}
	return "face and path nearer the target, both"
}

// before says whether this is better than the sessions before; "" when it
// cannot be told or was said by how often it came.
func (v Voice) before(r cause.Result, past timeline.Past, figure bool) string {
	if past.Sessions == 0 || r.Miss.N == 0 || r.Verdict == cause.TooFew {
		return ""
	}
	was := ""
	if figure {
		was = ": they finished " + v.about(past.Mean)
	}
	nearer, further := past.Nearer(r.Miss.Mean)
	sessions := "your last " + numeral(past.Sessions) + " sessions"
	switch {
	case nearer:
		return "Nearer than in " + sessions + was + "."
	case further:
		return "Further off than in " + sessions + was + "."
	case again(r, past) != "":
		return ""
	case past.OK && math.Abs(r.Miss.Mean-past.Mean) < r.PracticalZero:
		return "Much as in " + sessions + "."
	case past.OK && figure:
		return "In " + sessions + " they finished " + v.about(past.Mean) + "; one session alone does not make that a change."
	case figure:
		return "Last time they finished " + v.about(past.Last) + "."
	}
	return ""
}

// inferredFirst says that nobody measured the club.
func inferredFirst(r cause.Result) string {
	if !r.Inferred || !r.Verdict.Named() {
		return ""
	}
	return "Face and path are worked out from the ball's flight."
}

// again says how often in a row a miss was found, ", the third time in a row"; ""
// of the first time and of what is no miss.
func again(r cause.Result, past timeline.Past) string {
	ordinals := []string{"", "", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"}
	if !r.Verdict.Named() || past.Again < 2 || past.Again >= len(ordinals) {
		return ""
	}
	return ", the " + ordinals[past.Again] + " time in a row"
}
