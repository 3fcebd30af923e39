package words

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Trial says what a trial shows, a line each: the sets, then for every set
// what moved, what path did about face, and what held or cannot be told. How
// little small sets prove comes last, but for the hurried few balls a set,
// where it comes first.
func (v Voice) Trial(r trial.Result) []string {
	if len(r.Sets) < 2 {
		return []string{"A trial needs a baseline set and at least one other."}
	}
	lines := []string{v.trialHead(r)}
	proves, hurried := v.proves(r), smallest(r) < hurry
	if proves != "" && hurried {
		lines = append(lines, proves)
	}
	for i := 1; i < len(r.Sets); i++ {
		lines = append(lines, v.trialSet(r, i)...)
	}
	if proves != "" && !hurried {
		lines = append(lines, proves)
	}
	return lines
}

// hurry is the balls a set below which a comparison proves next to nothing.
const hurry = 5

// smallest is the fewest balls any set of a trial has.
func smallest(r trial.Result) int {
	least := r.Sets[0].Used
	for _, s := range r.Sets[1:] {
		least = min(least, s.Used)
	}
	return least
}

// trialHead names the sets.
func (v Voice) trialHead(r trial.Result) string {
	others := make([]string, 0, len(r.Sets)-1)
	for i := 1; i < len(r.Sets); i++ {
		others = append(others, v.setLabel(r, i)+" ("+Count(r.Sets[i].Used, "ball")+")")
	}
	text := "Baseline: " + v.setLabel(r, 0) + " (" + Count(r.Sets[0].Used, "ball") + "). Against it: "
	if against := list(others, "and"); len(against) < maxSentence {
		return text + against + "."
	}
	return text + Count(len(others), "set") + "."
}

// setLabel echoes the label of a set.
func (v Voice) setLabel(r trial.Result, set int) string {
	if r.Sets[set].Label == "" {
		return "the set without a label"
	}
	return v.Quote(r.Sets[set].Label)
}

// trialSet says what one set shows, verdict by verdict.
func (v Voice) trialSet(r trial.Result, set int) []string {
	var lines []string
	for _, k := range []struct {
		verdict trial.Verdict
		head    string
	}{
		{trial.Moved, "moved"},
		{trial.MovedLittle, "moved, but too little to matter"},
		{trial.Held, "held"},
		{trial.CannotTell, "cannot tell"},
	} {
		var items []string
		for _, row := range r.Rows {
			if row.Set == set && row.Verdict == k.verdict {
				items = append(items, v.row(row))
			}
		}
		lines = append(lines, sentencesOf("In "+v.setLabel(r, set)+", "+k.head+": ", items)...)
		if s := v.Compensation(r, set); s != "" && k.verdict == trial.MovedLittle {
			lines = append(lines, s)
		}
	}
	return lines
}

// maxSentence is about the longest sentence somebody reads on a phone without
// losing the beginning.
const maxSentence = 200

// sentencesOf strings items behind a head in as many sentences as keep each
// one readable.
func sentencesOf(head string, items []string) []string {
	var all []string
	for len(items) > 0 {
		n := 1
		for n < len(items) && len(head)+len(strings.Join(items[:n+1], ", ")) < maxSentence-10 {
			n++
		}
		all = append(all, head+list(items[:n], "and")+".")
		items = items[n:]
	}
	return all
}

// row says one number of a set against the baseline.
func (v Voice) row(row trial.Row) string {
	name := row.Number.Short()
	if row.Inferred {
		name = "inferred " + name
	}
	half := v.half(row.Number.Info().Kind, row.Low, row.High, row.OK)
	seen := name + " " + v.change(row.Number, row.Difference, half)
	switch row.Verdict {
	case trial.Held:
		return name
	case trial.CannotTell:
		return seen + v.moreOf(row)
	}
	return seen + v.changeBracket(row.Number, row.Low, row.High)
}

// moreOf says how many more balls would settle a row.
func (v Voice) moreOf(row trial.Row) string {
	base, set := row.MoreBase, row.MoreSet
	switch {
	case base <= 0 && set <= 0:
		return ""
	case base > manyMore || set > manyMore:
		return " (well over a hundred more balls)"
	}
	return " (" + figure(float64(max(base, set)), 1) + " more of each would tell)"
}

// find is the row of a number in a set.
func find(r trial.Result, set int, n analysis.Number) (trial.Row, bool) {
	for _, row := range r.Rows {
		if row.Set == set && row.Number == n {
			return row, true
		}
	}
	return trial.Row{}, false
}

// moved reports whether a row is known to have moved.
func moved(row trial.Row) bool {
	return row.Verdict == trial.Moved || row.Verdict == trial.MovedLittle
}

// Compensation says in one set what the number that follows did about the one
// the setup leads with: "the path went 3.0° further left, which cancelled about
// four fifths of what the face did". "" when the leading number is not known to
// have moved.
func (v Voice) Compensation(r trial.Result, set int) string {
	for _, c := range r.Compensations {
		if c.Set == set {
			return v.compensation(r, c)
		}
	}
	return ""
}

func (v Voice) compensation(r trial.Result, c trial.Compensation) string {
	lead, follow, share := c.Led()
	led, ok := find(r, c.Set, lead)
	followed, okFollow := find(r, c.Set, follow)
	if !ok || !okFollow || !moved(led) {
		return ""
	}
	in := "In " + v.setLabel(r, c.Set) + " the " + follow.Short() + " "
	what := "what the " + lead.Short() + " did"
	change := v.change(follow, followed.Difference, v.half(analysis.Angle, followed.Low, followed.High, followed.OK))
	switch {
	case followed.Verdict == trial.Held:
		return in + "held, so nothing cancelled " + what + "."
	case !moved(followed):
		return "In " + v.setLabel(r, c.Set) + " the " + lead.Short() + " moved; whether the " + follow.Short() + " moved with it cannot be told yet."
	case !c.Opposed:
		return in + "went " + change + ", which added to " + what + "."
	case !share.OK:
		return in + "went " + change + ", which cancelled some of " + what + "; how much cannot be told yet."
	}
	return in + "went " + change + ", which cancelled " + fraction(share.Value) + " of " + what +
		within(share.Low, share.High) + "." + v.unseen(r, c.Set)
}

// unseen adds that the balls do not show a compensation that the delivery does.
func (v Voice) unseen(r trial.Result, set int) string {
	if lateral, ok := find(r, set, analysis.Lateral); ok && lateral.Verdict == trial.Held {
		return " The balls finished where they did before: the change shows only in the delivery."
	}
	return ""
}

// fraction says a share as people say one.
func fraction(x float64) string {
	switch {
	case x < 0.05:
		return "almost none"
	case x > 1.05:
		return "more than all"
	case x > 0.95:
		return "all"
	}
	return "about " + bound(x)
}

// within says the limits of a share of which some is sure: " (at least half)".
func within(low, high float64) string {
	lo, hi := bound(low), bound(high)
	switch {
	case low < 0.05 && high > 1.05:
		return " (how much of it is hardly known)"
	case low < 0.05:
		return " (at most " + hi + ")"
	case lo == hi:
		return ""
	case high > 1.05:
		return " (at least " + lo + ")"
	}
	return " (between " + lo + " and " + hi + ")"
}

// bound is a share as the end of a range.
func bound(x float64) string {
	names := []struct {
		upTo float64
		name string
	}{
		{0.05, "none"}, {0.15, "a tenth"}, {0.225, "a fifth"}, {0.29, "a quarter"}, {0.365, "a third"}, {0.45, "two fifths"},
		{0.55, "half"}, {0.633, "three fifths"}, {0.708, "two thirds"}, {0.775, "three quarters"}, {0.85, "four fifths"},
		{0.95, "nine tenths"}, {1.05, "all"},
	}
	for _, n := range names {
		if x < n.upTo {
			return n.name
		}
	}
	return "more than all"
}

// enough is the balls a set from which a difference as large as the spread of
// one ball shows four times in five: 17 for one number looked at alone
// (two-sample t test, 5 %, power 0.8; Cohen 1988 [C]), and 29 for one of the
// eight numbers a trial looks at together (Holm 1979, the smallest of eight
// [C]).
const enough = 29

// proves says how little the smallest set proves, "" when every set is of a
// size to show a difference as large as the spread of one ball.
func (v Voice) proves(r trial.Result) string {
	least := smallest(r)
	switch {
	case least >= enough:
		return ""
	case least < 2:
		return "A set of fewer than two balls proves nothing: one ball has no spread to compare with."
	}
	text := "With " + Count(least, "ball") + " in the smallest set, "
	if least == 2 {
		text = "Two balls a set prove very little: luck alone often sets two such pairs further apart than one ball is from the next. Here "
	}
	misses := "any but a large change would often not show"
	if found, beyond := v.finds(r); beyond {
		misses = "no change a golfer makes would show for sure"
	} else if found != "" {
		misses = "less than about " + found + " would often not show"
	}
	return text + misses + "; about 30 balls a set make a fair trial."
}

// finds says the smallest change that the balls would show, of the first of
// face, path and lateral that was compared: "3.1° of face". beyond reports that
// it is more than a setup changes anything by.
func (v Voice) finds(r trial.Result) (text string, beyond bool) {
	const mostAngle, mostLength = 10 * analysis.Degree, 50 * analysis.Yard
	for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.Lateral} {
		most := 0.0
		for _, row := range r.Rows {
			if row.Number == n {
				most = max(most, row.Finds)
			}
		}
		limit := mostAngle
		if n == analysis.Lateral {
			limit = mostLength
		}
		if most > 0 {
			return v.amount(n.Info().Kind, most, alone) + " of " + n.Short(), most > limit
		}
	}
	return "", false
}
