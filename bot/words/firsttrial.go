package words

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

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

// AlsoCompared says that the sets of other clubs were compared too; "" without any.
func (v Voice) AlsoCompared(clubs []analysis.Club) string {
	if len(clubs) == 0 {
		return ""
	}
	names := make([]string, len(clubs))
	for i, club := range clubs {
		names[i] = v.SetName(club, "")
	}
	return "Compared as well: " + list(names, "and") + "."
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
		lead, follow, share := c.Led()
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
