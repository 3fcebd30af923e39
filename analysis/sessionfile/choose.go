package sessionfile

import (
	"slices"

	"rangepost/analysis"
)

// findTables finds the sheets or lists that look most like shots.
func findTables(gs []grid) (found []table, refusal *analysis.Refusal) {
	nearest := -1 // score of the sheet complained about
	for _, g := range gs {
		t, r := findTable(g)
		if r != nil {
			// The complaint about the sheet that came closest is the one to make.
			if t.score > nearest {
				refusal, nearest = r, t.score
			}
			continue
		}
		found = append(found, t)
	}
	if len(found) == 0 {
		return nil, refusal
	}
	top := slices.MaxFunc(found, func(a, b table) int { return a.score - b.score }).score
	return slices.DeleteFunc(found, func(t table) bool { return t.score < top }), nil
}

// chooseTable is the table to read. Where several look equally like shots, the
// golfer says which, and meanwhile the longest is read.
func chooseTable(found []table, o Options) (best table, questions []analysis.Question) {
	if len(found) == 1 {
		return found[0], nil
	}
	q := analysis.Question{Key: "part", Text: "The file holds several tables of shots. Which one is to be read?"}
	best = found[0]
	for i, t := range found {
		if t.name == o.Answers["part"] {
			return t, nil
		}
		if len(t.rows) > len(best.rows) {
			best = t
		}
		if i < maxChoices {
			q.Choices = append(q.Choices, analysis.Choice{Value: t.name, Text: t.name})
		}
	}
	return best, []analysis.Question{q}
}
