package words

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Trial says what a trial shows, a line each: the sets, then for every set
// what moved, held or cannot be told, what path did about face, and how little
// small sets prove.
func (v Voice) Trial(r trial.Result) []string {
	if len(r.Sets) < 2 {
		return []string{"A trial needs a baseline set and at least one other."}
	}
	lines := []string{v.trialHead(r)}
	for i := 1; i < len(r.Sets); i++ {
		lines = append(lines, v.trialSet(r, i)...)
	}
	if s := v.proves(r); s != "" {
		lines = append(lines, s)
	}
	return lines
}

// trialHead names the sets.
func (v Voice) trialHead(r trial.Result) string {
	others := make([]string, 0, len(r.Sets)-1)
	for i := 1; i < len(r.Sets); i++ {
		others = append(others, v.setLabel(r, i)+" ("+count(r.Sets[i].Used, "ball")+")")
	}
	text := "Baseline " + v.setLabel(r, 0) + " (" + count(r.Sets[0].Used, "ball") + ") against " + list(others, "and") + "."
	if len(text) > maxSentence {
		return "Baseline " + v.setLabel(r, 0) + " (" + count(r.Sets[0].Used, "ball") + ") against " + count(len(others), "other set") + "."
	}
	return text
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
	}
	if s := v.Compensation(r, set); s != "" {
		lines = append(lines, s)
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
	name := shortName(row.Number)
	switch row.Verdict {
	case trial.Held:
		return name
	case trial.CannotTell:
		return name + v.moreOf(row)
	}
	half := v.half(row.Number.Info().Kind, row.Low, row.High, row.OK)
	return name + " " + v.change(row.Number, row.Difference, half) + v.changeBracket(row.Number, row.Low, row.High)
}

// moreOf says how many more balls would settle a row.
func (v Voice) moreOf(row trial.Row) string {
	base, set := row.MoreBase, row.MoreSet
	switch {
	case base <= 0 && set <= 0:
		return ""
	case base > manyMore || set > manyMore:
		return " (well over a hundred more balls)"
	case base == set:
		return " (" + figure(float64(base), 1) + " more in each)"
	case set <= 0:
		return " (" + figure(float64(base), 1) + " more in the baseline)"
	case base <= 0:
		return " (" + figure(float64(set), 1) + " more in this set)"
	}
	return " (" + figure(float64(base), 1) + " more in the baseline, " + figure(float64(set), 1) + " in this set)"
}

// shortName is a number as it reads inside a sentence.
func shortName(n analysis.Number) string {
	switch n {
	case analysis.Face:
		return "face"
	case analysis.Path:
		return "path"
	case analysis.Attack:
		return "attack angle"
	case analysis.Lateral:
		return "where the balls finish sideways"
	}
	return n.String()
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

// Compensation says what the path did about the face in one set: "the path
// went 3.0° further left, which cancelled about four fifths of what the face
// did". "" when the face is not known to have moved.
func (v Voice) Compensation(r trial.Result, set int) string {
	face, ok := find(r, set, analysis.Face)
	path, okPath := find(r, set, analysis.Path)
	if !ok || !okPath || !moved(face) {
		return ""
	}
	for _, c := range r.Compensations {
		if c.Set != set {
			continue
		}
		in := "In " + v.setLabel(r, set) + " the "
		change := v.change(analysis.Path, path.Difference, v.half(analysis.Angle, path.Low, path.High, path.OK))
		switch {
		case path.Verdict == trial.Held:
			return in + "path held, so nothing cancelled what the face did."
		case !moved(path):
			return in + "face moved; whether the path moved with it cannot be told yet."
		case !c.Opposed:
			return in + "path went " + change + ", which added to what the face did."
		}
		return in + "path went " + change + ", which cancelled " + fraction(c.Cancelled) +
			" of what the face did (between " + bound(c.Low) + " and " + bound(c.High) + ")." + v.unseen(r, set)
	}
	return ""
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

// detectable is the difference, in standard deviations of a ball, that two sets
// of n balls each show four times in five: two-sample t test, 5 % two-sided,
// power 0.8 [C, checked in the test]. Index 0 is two balls.
var detectable = [...]float64{6.65, 3.07, 2.38, 2.02, 1.80, 1.63, 1.51, 1.41, 1.33, 1.26, 1.20, 1.14, 1.10, 1.06, 1.02}

// enough is the balls a set from which a difference of one standard deviation
// shows four times in five.
const enough = 17

// proves says how little the smallest set proves, "" when every set is of a
// size to show a difference as large as the spread of one ball.
func (v Voice) proves(r trial.Result) string {
	least := r.Sets[0].Used
	for _, s := range r.Sets[1:] {
		least = min(least, s.Used)
	}
	switch {
	case least >= enough:
		return ""
	case least < 2:
		return "A set of fewer than two balls proves nothing: one ball has no spread to compare with."
	case least == 2:
		return "Two balls a set prove very little: by luck alone two such sets often differ by more than one ball does from the next. " +
			"With 17 a set, a change as large as that shows four times in five."
	}
	at := min(least-2, len(detectable)-1)
	return "With " + figure(float64(least), 1) + " balls in the smallest set, only a change of about " + figure(detectable[at], 0.1) +
		" times the spread of your balls would show four times in five; with 17 a set, one as large as the spread."
}
