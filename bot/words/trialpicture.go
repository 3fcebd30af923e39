package words

import (
	"strings"
	"unicode/utf8"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// TrialTitle is the finding of a trial, for the head of its picture: how many
// yards further the balls finish and what owns that, or what of the delivery
// moved. It has at most 60 characters and no full stop.
func (v Voice) TrialTitle(r trial.Result) string {
	var numbers []string
	seen := map[analysis.Number]bool{}
	sets := map[int]bool{} // in which something moved
	held, told := true, false
	for _, row := range r.Rows {
		if row.Verdict == trial.Moved {
			sets[row.Set] = true
		}
		told = told || row.Verdict != trial.CannotTell
		held = held && row.Verdict == trial.Held
		if row.Verdict == trial.Moved && !seen[row.Number] {
			seen[row.Number] = true
			numbers = append(numbers, row.Number.Short())
		}
	}
	switch {
	case len(r.Rows) == 0 || !told:
		return "Too few balls to tell what moved"
	case held:
		return "Nothing moved"
	case len(numbers) == 0:
		return "Nothing is known to have moved"
	}
	if len(sets) == 1 {
		for set := range sets {
			if title := v.movedTitle(r, set); title != "" {
				return title
			}
		}
	}
	for n := len(numbers); n > 0; n-- {
		title := "Moved: " + list(numbers[:n], "and")
		if n < len(numbers) {
			title = "Moved: " + strings.Join(numbers[:n], ", ") + " and " + figure(float64(len(numbers)-n), 1) + " more"
		}
		if len(title) <= maxTitle {
			return title
		}
	}
	return "Several numbers moved"
}

// movedTitle is the title of the one set in which something moved, "" where
// neither the finish nor face nor path did, or there is no room.
func (v Voice) movedTitle(r trial.Result, set int) string {
	head, joint := "", ""
	finish, ok := find(r, set, analysis.Lateral)
	switch {
	case ok && finish.Verdict == trial.Moved:
		head, joint = v.rowChange(finish), ", "
	case ok && finish.Verdict == trial.Held:
		head, joint = "same finish", ": "
	}
	var parts []string
	way := map[string]bool{} // in which each moved
	for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
		row, ok := find(r, set, n)
		if !ok || row.Verdict != trial.Moved {
			continue
		}
		part := n.Short() + " " + v.rowChange(row)
		lower, higher := n.Changes(v.Hand)
		way[map[bool]string{true: higher, false: lower}[row.Difference > 0]] = true
		// The ball follows the face, and curves away from the path: what took it
		// there comes first.
		if right := (row.Difference > 0) == (n == analysis.Face); joint == ", " && right == (finish.Difference > 0) {
			parts, joint = append([]string{part}, parts...), ": "
		} else {
			parts = append(parts, part)
		}
	}
	if len(parts) == 0 {
		if finish.Verdict != trial.Moved {
			return ""
		}
		parts, joint = []string{"why cannot be told"}, ": "
	}
	name := ""
	if len(r.Sets) > 2 {
		name = v.setLabel(r, set) + ": "
	}
	for n := len(parts); n > 0; n-- {
		title := strings.Join(parts[:n], ", ")
		if n == 2 && len(way) == 1 {
			for same := range way {
				title = strings.TrimSuffix(parts[0], " "+same) + " and " + parts[1]
			}
		}
		if head != "" {
			title = head + joint + title
		}
		if title = sentence(name + title); utf8.RuneCountInString(title) <= maxTitle {
			return title
		}
	}
	return ""
}

// rowChange says how far a row moved, with the digits its limits allow.
func (v Voice) rowChange(row trial.Row) string {
	return v.change(row.Number, row.Difference, v.half(row.Number.Info().Kind, row.Low, row.High, row.OK))
}

// maxTitle is what fits the head of a picture on a phone.
const maxTitle = 60

// AltTrial says what the picture of a trial shows, at most 1,024 characters.
func (v Voice) AltTrial(r trial.Result) string {
	v.Plain = true
	says := []string{v.TrialTitle(r) + ".", "First how far each set finishes from the baseline, and how its face and path moved, against the band in which the ball finishes the same. Below, a row for each number that moved, with limits, and in a word the verdict on the rest."}
	return fit(append(says, v.Trial(r)...), maxAlt)
}
