package sessionfile

import (
	"slices"

	"rangepost/analysis"
)

// chooseTable finds the sheet or list that looks like shots. Where several do
// equally, the golfer says which, and meanwhile the longest is read.
func chooseTable(gs []grid, o Options) (best table, questions []analysis.Question, refusal *analysis.Refusal) {
	var found []table
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
		return table{}, nil, refusal
	}
	top := slices.MaxFunc(found, func(a, b table) int { return a.score - b.score }).score
	found = slices.DeleteFunc(found, func(t table) bool { return t.score < top })
	if len(found) == 1 {
		return found[0], nil, nil
	}
	q := analysis.Question{Key: "part", Text: "The file holds several tables of shots. Which one is to be read?"}
	best = found[0]
	for i, t := range found {
		if t.name == o.Answers["part"] {
			return t, nil, nil
		}
		if len(t.rows) > len(best.rows) {
			best = t
		}
		if i < maxChoices {
			q.Choices = append(q.Choices, analysis.Choice{Value: t.name, Text: t.name})
		}
	}
	return best, []analysis.Question{q}, nil
}
