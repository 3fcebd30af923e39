package words

import (
	"strconv"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// twoPatterns says that a set has two patterns, and where each finished: "two patterns: 12
// balls about 18 yards left, 12 balls about 14 yards right; name the sets". Two that
// finished in one place are told by what tells them apart.
func (v Voice) twoPatterns(p pattern.Pattern) string {
	if len(p.Parts) != 2 {
		return "two patterns; name the sets"
	}
	a, b, by := p.Parts[0], p.Parts[1], toldBy(p)
	place := v.about(a.Lateral.Mean)
	if by == analysis.Lateral || !by.Info().Sideways || place != v.about(b.Lateral.Mean) {
		return "two patterns: " + v.where(p, a) + ", " + v.where(p, b) + "; name the sets"
	}
	of := func(part pattern.Part) string {
		values, _ := analysis.Values(part.Shots, by)
		return v.Number(by, stat.Mean(values).Mean)
	}
	return "two patterns: " + balls(len(a.Shots)) + " with the " + by.Short() + " " + of(a) + ", " +
		balls(len(b.Shots)) + " with it " + of(b) + "; both finished " + place + ". Name the sets"
}

// where says how many balls a part has and where they finished: to which side, or
// how far where it is speed or loft that tells the two apart.
func (v Voice) where(p pattern.Pattern, part pattern.Part) string {
	text := balls(len(part.Shots))
	switch by := toldBy(p); {
	case by.Info().Sideways && part.Lateral.N > 0:
		return text + " " + v.about(part.Lateral.Mean)
	case part.Carry.N > 0:
		return text + " that carried about " + v.Distance(part.Carry.Mean)
	}
	return text
}

// toldBy is the number that tells the two patterns of a set apart.
func toldBy(p pattern.Pattern) analysis.Number {
	for _, w := range p.Warnings {
		if w.Code == pattern.TwoPatterns {
			return w.Number
		}
	}
	return analysis.Lateral
}

// Each says of each of the two patterns of a set why its balls finished where they
// did; nothing of a set with one.
func (v Voice) Each(p pattern.Pattern, r cause.Result) (lines []string) {
	if len(p.Parts) != 2 || len(r.Parts) != 2 {
		return nil
	}
	for i, other := range [...]string{"One of them", "The other"} {
		part, its := p.Parts[i], r.Parts[i]
		name, ok := runs(part.Shots)
		if !ok {
			name = other + ", " + balls(len(part.Shots))
		}
		lines = append(lines, name+": "+v.verdict(part.Pattern, its)+".")
	}
	return lines
}

// runs names balls hit in a row by their first and last: "Balls 1 to 12"; ok is
// false where they are more than a few runs.
func runs(shots []analysis.Shot) (name string, ok bool) {
	const most = 4
	var rows []string
	for i := 0; i < len(shots); {
		last := i
		for last+1 < len(shots) && shots[last+1].N == shots[last].N+1 {
			last++
		}
		row := strconv.Itoa(shots[i].N)
		if last > i {
			row += " to " + strconv.Itoa(shots[last].N)
		}
		rows = append(rows, row)
		i = last + 1
	}
	return "Balls " + list(rows, "and"), len(rows) > 0 && len(rows) <= most
}
