package words

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
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
// when there is one; tried are the setup tools the golfer ever tried with that
// club.
func (v Voice) First(name string, p pattern.Pattern, r cause.Result, past timeline.Past, tried []analysis.Tool) (must, may []string) {
	happened := v.happened(p, r) + again(past.Times)
	if name != "" {
		happened = name + ": " + happened
	}
	must = nonEmpty(sentence(happened)+".", v.next(p, r, past, tried))
	length := ""
	if r.Verdict == cause.Centred && !Wide(p, r) && r.Distance.Verdict != cause.DistanceTooFew {
		length, _, _ = strings.Cut(strings.NewReplacer(". ", "|", "; ", "|", ", ", "|", ": another", "|").Replace(unbracketed(v.Carry(r))), "|")
		if length != "" {
			length = strings.TrimSuffix(length, ".") + "." // whose it is stands in the figures, and what to do in the next line
		}
	}
	said := figures(append(must, length))
	return must, nonEmpty(length, v.before(r, past, said < firstFigures), inferredFirst(r))
}

func nonEmpty(lines ...string) []string {
	return slices.DeleteFunc(lines, func(line string) bool { return line == "" })
}

// happened says what happened, without limits and without its full stop.
func (v Voice) happened(p pattern.Pattern, r cause.Result) string {
	switch {
	case r.Verdict == cause.Aim:
		return "check your aim first: face and path both pointed " + v.offBoth(r) + ", and the balls finished " + v.about(r.Miss.Mean)
	case r.Verdict == cause.TooFew && p.Used > 0:
		more := ""
		if n := r.MoreBalls; n > 0 && n <= manyMore && !beyondBalls(r) {
			more = "; about " + Count(n, "more ball") + " like these would do"
		}
		return "these balls finished " + v.about(r.Miss.Mean) + ", but too few to say why" + more
	case r.Verdict == cause.TwoPatterns:
		return counted.ReplaceAllStringFunc(unbracketed(v.verdict(p, r)), func(s string) string {
			n, _ := strconv.Atoi(strings.TrimSuffix(s, " balls"))
			return numeral(n) + " balls"
		})
	case r.Verdict == cause.Centred && Leaning(r):
		return "on line, but two numbers lean on each other: the face is worth " + v.plainSide(r.Face.Mean) + ", the path " + v.plainSide(r.Path.Mean)
	case r.Verdict == cause.Centred && Wide(p, r):
		return "on line but wide: eight balls in ten spread over about " + v.Distance(p.Width80) + v.mostAs(r.Scatter)
	case r.Verdict == cause.Centred:
		return "on line: the middle of the balls is on target"
	}
	return unbracketed(v.verdict(p, r))
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

// next is the one thing to do next.
func (v Voice) next(p pattern.Pattern, r cause.Result, past timeline.Past, tried []analysis.Tool) string {
	switch r.Verdict {
	case cause.TooFew, cause.TwoPatterns: // what happened says what to do
		return ""
	case cause.Unmeasured:
		if len(r.Balls) > 0 {
			return "Next: hit some on another day, and see whether it stays."
		}
		return "Next: post a file with columns of face and path."
	case cause.Aim:
		return "Next: lay a stick on the ground along your line, and check the device by it."
	case cause.Strike:
		return "Next: strike it nearer the middle; chalk on the face shows where it meets the ball."
	case cause.Centred:
		if Wide(p, r) {
			return "Next: hit two setups in turns, name the sets, and keep the narrower one."
		}
		switch r.Distance.Verdict {
		case cause.DistanceClub:
			return "Next: another club for that carry."
		case cause.DistanceStrike:
			return "Next: strike it nearer the middle; chalk on the face shows where it meets the ball."
		case cause.DistanceSpeed, cause.DistanceLoft, cause.DistanceSpin, cause.DistanceTwo, cause.DistanceUnknown:
			return "Next: keep the line, and see to the length."
		}
		return "Next: keep this setup."
	}
	if r.Or == cause.Aim {
		return "Next: lay a stick on the ground along your line, and check the device by it."
	}
	w := r.WorkBack
	tool := toolPhrase(w.Tool)
	if !w.OK || tool == "" {
		return "Next: " + v.bring(r) + "."
	}
	try := "Next: try " + tool + ", in turns with your usual setup"
	if past.Times >= 3 && !slices.Contains(tried, w.Tool) {
		try = "Next: what was not tried yet, " + tool + ", in turns with your usual setup"
	}
	if w.ToolShare > 0 && w.ToolShare < 0.45 {
		try += "; it does a part of what is needed"
	}
	return try + "."
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
	case past.Times > 1:
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
	if !r.Inferred || !named(r.Verdict) {
		return ""
	}
	return "Face and path are worked out from the ball's flight."
}

// again says how often in a row something was found: ", the third time in a
// row".
func again(times int) string {
	ordinals := []string{"", "", "second", "third", "fourth", "fifth", "sixth", "seventh"}
	if times < 2 || times >= len(ordinals) {
		return ""
	}
	return ", the " + ordinals[times] + " time in a row"
}

var counted = regexp.MustCompile(`\b\d+ balls`)

// numeral is a number under a hundred in letters, which is read and not counted.
func numeral(n int) string {
	letters := []string{
		"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
	}
	tens := []string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
	switch {
	case n < 0 || n > 99:
		return figure(float64(n), 1)
	case n < len(letters):
		return letters[n]
	case n%10 == 0:
		return tens[n/10]
	}
	return tens[n/10] + "-" + letters[n%10]
}

// FirstTrial is the first layer of the reply to a trial: what the sets changed
// in the club and what became of it, and what to do next. misses are where the
// middle of each set finished, m, by the index of the set.
func (v Voice) FirstTrial(r trial.Result, misses []float64) (lines []string) {
	if len(r.Sets) < 2 || len(misses) < len(r.Sets) {
		return v.Trial(r)
	}
	lines = []string{v.tried(r, 1)}
	if undone := v.Cancelled(r, 1); undone != "" {
		lines = append(lines, sentence(undone)+".")
	}
	if len(r.Sets) == 3 {
		lines = append(lines, v.tried(r, 2))
	}
	lines = append(lines, v.nextTrial(r, misses))
	return nonEmpty(lines...)
}

// tried says what one set changed: face and path if they moved, else the first
// number that did.
func (v Voice) tried(r trial.Result, set int) string {
	var items []string
	for _, only := range [][]analysis.Number{{analysis.Face, analysis.Path}, nil} {
		for _, row := range r.Rows {
			if row.Set != set || row.Verdict != trial.Moved || len(items) == 2 || only != nil && !slices.Contains(only, row.Number) {
				continue
			}
			half := v.half(row.Number.Info().Kind, row.Low, row.High, row.OK)
			verb := ""
			if len(items) == 0 {
				verb = "went "
			}
			items = append(items, "the "+row.Number.Short()+" "+verb+v.change(row.Number, row.Difference, half))
		}
		if len(items) > 0 {
			return "With " + v.setLabel(r, set) + " " + list(items, "and") + "."
		}
	}
	return "With " + v.setLabel(r, set) + " nothing is known to have moved."
}

// Cancelled says how much of what a set did to the face the path undid, or the
// reverse, in a line and without its limits: "the path cancelled all of what the
// face did"; "" where that is not known.
func (v Voice) Cancelled(r trial.Result, set int) string {
	for _, c := range r.Compensations {
		lead, follow, share := analysis.Face, analysis.Path, trial.Fraction{OK: c.OK, Value: c.Cancelled}
		if c.Lead == analysis.Path {
			lead, follow, share = follow, lead, c.Reverse
		}
		if led, ok := find(r, c.Set, lead); c.Set != set || !c.Opposed || !share.OK || !ok || !moved(led) {
			continue
		}
		if followed, ok := find(r, c.Set, follow); !ok || !moved(followed) {
			continue
		}
		return "the " + follow.Short() + " cancelled " + fraction(share.Value) + " of what the " + lead.Short() + " did"
	}
	return ""
}

// nextTrial says what to do with a trial's first set.
func (v Voice) nextTrial(r trial.Result, misses []float64) string {
	const set = 1
	lateral, _ := find(r, set, analysis.Lateral)
	face, _ := find(r, set, analysis.Face)
	path, _ := find(r, set, analysis.Path)
	nearer := math.Abs(misses[0]) - math.Abs(misses[set])
	switch {
	case lateral.Verdict == trial.Moved && misses[0]*misses[set] < 0 && math.Abs(misses[set]) > lateral.Zero && math.Abs(misses[0]) > lateral.Zero:
		return "Next: something between the two; they finish on both sides of the target."
	case lateral.Verdict == trial.Moved && nearer > lateral.Zero:
		return "Next: keep it; the balls finish nearer the target."
	case lateral.Verdict == trial.Moved && nearer < -lateral.Zero:
		return "Next: back to the usual one; the balls finish further off."
	case lateral.Verdict == trial.Moved:
		return "Next: try something else; neither finishes nearer the target."
	case face.Verdict == trial.Moved && path.Verdict == trial.Moved && face.Difference*path.Difference > 0:
		return "Next: the same with the path as usual, so that the ball shows it."
	case face.Verdict == trial.Held && path.Verdict == trial.Held:
		return "Next: try something else; this does not move the club."
	case lateral.MoreBase > 0 && lateral.MoreBase <= manyMore:
		return "Next: about " + Count(max(lateral.MoreBase, lateral.MoreSet), "more ball") + " of each, in turns."
	}
	return "Next: more balls of each, in turns."
}

// SetupMeans says what a setup tool is, for whoever hears of it first: what the
// hands or the ball do (common practice, no source); "" for none.
func (v Voice) SetupMeans(t analysis.Tool) string {
	right, left := "right", "left"
	if v.Hand == analysis.LeftHanded {
		right, left = left, right
	}
	switch t {
	case analysis.StrongerGrip:
		return "Stronger: the grip turned a little to the " + right + " on the handle."
	case analysis.WeakerGrip:
		return "Weaker: the grip turned a little to the " + left + " on the handle."
	case analysis.AimLeft, analysis.AimRight:
		return "Aiming: stance and club both along a line further that way."
	case analysis.BallForward:
		return "Forward: a ball's width nearer the target."
	case analysis.BallBack:
		return "Back: a ball's width further from the target."
	case analysis.HandleForward:
		return "Forward: the handle leans a little more toward the target."
	case analysis.HandleBack:
		return "Back: the handle leans a little less toward the target."
	}
	return ""
}

// Explained are the trade words that lines use and a golfer was not told yet,
// each with the sentence that tells it.
func Explained(lines []string, told []string) (words, says []string) {
	for i := range lines {
		line := strings.ToLower(lines[i])
		for at := range line {
			g, ok := glossAt(line, at)
			if !ok {
				continue
			}
			key := glossKey(g.term)
			if !slices.Contains(told, key) && !slices.Contains(words, key) {
				words = append(words, key)
				says = append(says, meaning(g))
			}
		}
	}
	return words, says
}

// Within joins lines, the first of them always, and of the others those that
// there are words left for.
func Within(most int, lines ...string) string {
	var out []string
	for i, line := range lines {
		n := len(strings.Fields(line))
		if i > 0 && n > most {
			continue
		}
		most -= n
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// unbracketed is a sentence without what it says in brackets outside of
// quotations.
func unbracketed(text string) string {
	var b strings.Builder
	depth, quoted := 0, false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '(' && !quoted:
			depth++
			continue
		case r == ')' && !quoted && depth > 0:
			depth--
			continue
		}
		if depth == 0 {
			b.WriteRune(r)
		}
	}
	text = strings.Join(strings.Fields(b.String()), " ")
	return strings.NewReplacer(" ,", ",", " .", ".", " ;", ";", " :", ":").Replace(text)
}

// figures counts the figures in lines.
func figures(lines []string) (n int) {
	for _, line := range lines {
		for _, word := range strings.Fields(line) {
			if strings.IndexFunc(word, func(r rune) bool { return r >= '0' && r <= '9' }) == 0 {
				n++
			}
		}
	}
	return n
}
