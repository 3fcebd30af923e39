package plan

import (
	"cmp"
	"slices"
)

// mostLikely is how many readings are offered, with "none": of what happened so
// many, and the rest to say to which turn, where that is not clear. Whoever hit the
// balls mostly knows.
const (
	mostLikely   = 8
	mostHappened = 5
)

// A family is the courses in which the same happened, to whichever turn or
// balls. Together they are a reading that does not say which.
type family struct {
	members []*candidate // the likeliest first
	chance  float64
}

// families are those of the courses found, the likeliest first.
func (m *matching) families() []family {
	var all []family
	at := map[string]int{}
	for _, c := range m.found {
		key := keyOf(m.parts(c), false)
		k, ok := at[key]
		if !ok {
			k = len(all)
			at[key] = k
			all = append(all, family{})
		}
		all[k].members = append(all[k].members, c)
		all[k].chance += c.chance
	}
	slices.SortStableFunc(all, func(a, b family) int { return cmp.Compare(b.chance, a.chance) })
	return all
}

const (
	// oneOfThem is how much of a family one course has to be to stand for it.
	oneOfThem = 0.97
	// notAll is what of a family is left out of sight when its courses are asked
	// which balls they agree on.
	notAll = 0.003
	// tooRare is what is not worth a button.
	tooRare = 0.01
)

// sole is the course that stands for the family, if one does.
func (f family) sole() (*candidate, bool) {
	best := f.members[0]
	return best, len(f.members) == 1 || best.chance >= oneOfThem*f.chance
}

// key names what happened without saying where.
func (m *matching) key(f family) string { return keyOf(m.parts(f.members[0]), false) }

// agreed are the places of the balls that are of the same set under every course
// of a family that is likely enough. The others have none.
func (m *matching) agreed(f family) []int {
	turns := m.turns(f.members[0])
	// Of several balls that are missing, the courses say that all were of one turn:
	// those that were of several lie between them, so none is left out.
	several := slices.ContainsFunc(m.parts(f.members[0]), func(p Part) bool { return p.What == Short && p.Balls > 1 })
	seen := 0.0
	var room []int
	for _, c := range f.members {
		if !several && seen > (1-notAll)*f.chance {
			break
		}
		seen += c.chance
		room = m.lay(c, room[:0])
		for i, t := range room {
			if m.setOf(t) != m.setOf(turns[i]) {
				turns[i] = Nowhere
			}
		}
	}
	return turns
}

// likely are the readings to choose from.
func (m *matching) likely() []Reading {
	var all []Reading
	var spare []*candidate // the likeliest of families that do not say where
	for _, f := range m.families() {
		if len(all) == mostHappened-1 || len(all) > 0 && f.chance < tooRare*(1-m.none) {
			break
		}
		if best, ok := f.sole(); ok {
			all = append(all, m.reading(best))
			continue
		}
		spare = append(spare, f.members[:min(mostLikely-1, len(f.members))]...)
		turns := m.agreed(f)
		r := count(Reading{Key: m.key(f), Parts: m.withAgain(unsure(m.parts(f.members[0]))), Chance: f.chance}, turns)
		if r.Balls > 0 {
			all = append(all, r)
		}
	}
	// Where the count fits, that it was as the card says is always to choose.
	for _, c := range m.found {
		if c.whole() && !slices.ContainsFunc(all, func(r Reading) bool { return r.Key == keyOf(m.parts(c), true) }) {
			all = append(all[:min(len(all), mostHappened-2)], m.reading(c))
			break
		}
	}
	slices.SortStableFunc(spare, func(a, b *candidate) int { return cmp.Compare(b.chance, a.chance) })
	for _, c := range spare {
		if len(all) == mostLikely-1 {
			break
		}
		if c.chance >= tooRare {
			all = append(all, m.reading(c))
		}
	}
	slices.SortStableFunc(all, func(a, b Reading) int { return cmp.Compare(b.Chance, a.Chance) })
	return append(all, none(m.none))
}

// reading says a candidate.
func (m *matching) reading(c *candidate) Reading {
	return count(Reading{Key: keyOf(m.parts(c), true), Parts: m.withAgain(m.parts(c)), Chance: c.chance}, m.turns(c))
}

// withAgain adds, in front, that some of the balls were posted before. It is no
// part of the key, since nobody chooses it.
func (m *matching) withAgain(parts []Part) []Part {
	if m.again == 0 {
		return parts
	}
	return append([]Part{{What: Again, Balls: m.again}}, parts...)
}

// count fills in which turns got balls, and how many.
func count(r Reading, turns []int) Reading {
	for _, t := range turns {
		if t == Nowhere {
			continue
		}
		r.Balls++
		r.Last = max(r.Last, t+1)
		if r.First == 0 || t+1 < r.First {
			r.First = t + 1
		}
	}
	return r
}

// none is the reading of a file that was not hit for the plan.
func none(chance float64) Reading {
	return Reading{Key: string(None), Parts: []Part{{What: None}}, Chance: chance}
}
