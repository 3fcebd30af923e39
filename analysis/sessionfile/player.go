package sessionfile

import (
	"maps"
	"slices"

	"rangepost/analysis"
)

// onlyPlayer keeps the rows of one player where the file has several, and asks
// which if nobody said.
func (t *table) onlyPlayer(o Options) []analysis.Question {
	at := slices.IndexFunc(t.columns, func(c column) bool { return c.field == player })
	if at < 0 {
		return nil
	}
	at = t.columns[at].at
	names := map[string]string{}
	for _, r := range t.rows {
		if name := plainText(r.cell(at)); !isMissing(name) {
			names[squeezed(name)] = shown(name)
		}
	}
	if len(names) < 2 {
		return nil
	}
	if answer := squeezed(o.Answers["player"]); names[answer] != "" {
		keep := func(i int) bool { return squeezed(t.rows[i].cell(at)) == answer }
		t.rows, t.clubs = filtered(t.rows, keep), filtered(t.clubs, keep)
		return nil
	}
	q := analysis.Question{Key: "player", Text: "The file has shots of several players. Whose are to be read?"}
	for _, key := range slices.Sorted(maps.Keys(names)) {
		if len(q.Choices) < maxChoices {
			q.Choices = append(q.Choices, analysis.Choice{Value: key, Text: names[key]})
		}
	}
	return []analysis.Question{q}
}
