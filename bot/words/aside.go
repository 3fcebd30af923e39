package words

import (
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// SetAside says which shots of a set were left out and why: "2 of 20 were
// mishits (ball 7 was a shank, ball 15 a top)". "" when none was.
func (v Voice) SetAside(shots []analysis.Shot, p pattern.Pattern) string {
	of := map[analysis.Aside][]int{}
	mishit := map[int]bool{}
	for _, n := range p.Mishits {
		mishit[n] = true
	}
	for _, s := range shots {
		switch {
		case s.Aside != analysis.Used:
			of[s.Aside] = append(of[s.Aside], s.N)
		case mishit[s.N]:
			of[analysis.Mishit] = append(of[analysis.Mishit], s.N)
		}
	}
	var parts []string
	for _, k := range []struct {
		why       analysis.Aside
		one, many string
	}{
		{analysis.Mishit, "was a mishit", "were mishits"},
		{analysis.WarmUp, "was hit to warm up", "were hit to warm up"},
		{analysis.Extra, "was hit besides", "were hit besides"},
		{analysis.Impossible, "had numbers no ball can have", "had numbers no ball can have"},
		{analysis.Inconsistent, "had numbers that contradict each other", "had numbers that contradict each other"},
		{analysis.Duplicate, "was in the file twice", "were in the file twice"},
	} {
		balls := of[k.why]
		if len(balls) == 0 {
			continue
		}
		part := figure(float64(len(balls)), 1)
		if len(parts) == 0 {
			part += " of " + figure(float64(len(shots)), 1)
		}
		words := k.many
		if len(balls) == 1 {
			words = k.one
		}
		part += " " + words
		switch kinds := kindly(shots, balls); {
		case k.why == analysis.Mishit && kinds != "":
			part += kinds
		case len(of) == 1:
			part += numbered(balls)
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	text := "Set aside: " + list(parts, "and")
	d := p.WithMishits.Lateral.Mean - p.Lateral.Mean
	if len(of[analysis.Mishit]) > 0 && p.WithMishits.Lateral.N > 0 && !v.vanishes(analysis.Length, d, alone) {
		return text + ". With the mishits the middle is " + v.Change(analysis.Lateral, d) + "."
	}
	return text + "."
}

// kinds are what a mishit was, of one ball.
var kinds = map[pattern.Kind]string{pattern.Top: "a top", pattern.Thin: "thin", pattern.Duff: "a duff", pattern.Shank: "a shank"}

// kindly says what mishits were while there are few: " (ball 7 was a shank, ball 15
// a top)". "" where of none it is known.
func kindly(shots []analysis.Shot, mishits []int) string {
	if len(mishits) > few {
		return ""
	}
	var each []string
	for _, s := range shots {
		kind, ok := kinds[pattern.KindOf(s)]
		if !ok || !slices.Contains(mishits, s.N) {
			continue
		}
		verb := " "
		if len(each) == 0 {
			verb = " was "
		}
		each = append(each, "ball "+strconv.Itoa(s.N)+verb+kind)
	}
	if len(each) == 0 {
		return ""
	}
	return " (" + strings.Join(each, ", ") + ")"
}

// few is how many balls are named one by one.
const few = 4

// numbered names balls by their numbers while there are few: " (balls 7 and
// 15)".
func numbered(balls []int) string {
	if len(balls) > few {
		return ""
	}
	names := make([]string, len(balls))
	for i, n := range balls {
		names[i] = strconv.Itoa(n)
	}
	if len(balls) == 1 {
		return " (ball " + names[0] + ")"
	}
	return " (balls " + list(names, "and") + ")"
}

// NotJudged names the sets of a session that has more of them than are judged; ""
// without any.
func (v Voice) NotJudged(sets []analysis.Set) string {
	if len(sets) == 0 {
		return ""
	}
	const most = 3
	var names []string
	for _, s := range sets[:min(most, len(sets))] {
		names = append(names, v.SetName(s.Club, s.Label))
	}
	if more := len(sets) - most; more > 0 {
		names = append(names, figure(float64(more), 1)+" more")
	}
	return Count(len(sets), "set") + " of this session are kept and not judged, for there are too many: " + list(names, "and") +
		". In files of their own, they would be."
}

// Clubless says of balls that name no club, beside others that do, what they may be.
func Clubless(shots []analysis.Shot) string {
	name, few := runs(shots)
	if !few {
		name = sentence(balls(len(shots)))
	}
	return name + " name no club in the file: if they are of several, what is said of them together is of none."
}

// MoreLeftOut says that more numbers were left out than are told one by one.
func MoreLeftOut(n int) string {
	return Count(n, "more line") + " about numbers left out: see the explanation."
}
