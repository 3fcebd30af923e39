package words

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// TrialTitle is the finding of a trial, for the head of its picture: at most 60
// characters, no full stop.
func (v Voice) TrialTitle(r trial.Result) string {
	var numbers []string
	seen := map[analysis.Number]bool{}
	held, told := true, false
	for _, row := range r.Rows {
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

// maxTitle is what fits the head of a picture on a phone.
const maxTitle = 60

// AltTrial says what the picture of a trial shows, at most 1,024 characters.
func (v Voice) AltTrial(r trial.Result) string {
	v.Plain = true
	says := []string{v.TrialTitle(r) + ".", "A row for each number of each set: its difference from the baseline, with limits, and in a word whether it moved."}
	return fit(append(says, v.Trial(r)...), maxAlt)
}
