package sessionfile

import (
	"math"
	"slices"
	"strings"
)

// A guess is a field a heading may mean, with how strongly its words say so, in
// units of log likelihood against saying nothing.
type guess struct {
	field  field
	weight float64
}

const (
	sure    = 6.0  // of a heading whose every word is known and fits
	loose   = 3.0  // of one that names a thing without saying which
	strange = 0.35 // the share left of it for every word nobody knows
	beside  = 0.4  // the share left of it for every part that has no place in it
	least   = 0.8  // weights under it are none
)

// neutral are the parts that say nothing of what is measured.
const neutral = 1<<unitPart | 1<<againstPart | 1<<fillPart

// guessed is what a heading that the lexicon does not hold may mean.
func guessed(words, units []string) (guesses []guess, other bool) {
	words = scriptsApart(words)
	guesses, other = composed(words, impliedBy(units))
	if other && slices.ContainsFunc(words, isOther) {
		return nil, true
	}
	add := func(g guess) {
		at := slices.IndexFunc(guesses, func(o guess) bool { return o.field == g.field })
		switch {
		case at < 0:
			guesses = append(guesses, g)
		case guesses[at].weight < g.weight:
			guesses[at].weight = g.weight
		}
	}
	together := strings.Join(words, "")
	clear := slices.ContainsFunc(guesses, func(g guess) bool { return g.weight >= understoodAt })
	if !clear && len(words) > 1 && !slices.ContainsFunc(words, func(w string) bool { return !unspaced(w) }) { // a line broken within a word
		more, _ := composed([]string{together}, impliedBy(units))
		for _, g := range more {
			add(guess{g.field, g.weight * 0.9})
		}
	}
	if !clear {
		for _, g := range slipped(together) {
			add(g)
		}
	}
	if of := initials()[together]; len(together) <= 4 && len(guesses) == 0 && len(of) <= 4 {
		weight := loose / math.Sqrt(float64(len(of)))
		if len(of) == 1 {
			weight = understoodAt
		}
		for _, f := range of {
			add(guess{f, weight})
		}
	}
	if len(words) > 1 && len(guesses) == 0 { // "off line", "Land Winkel", cut or joined as no word is
		more, _ := composed([]string{together}, impliedBy(units))
		for _, g := range more {
			add(guess{g.field, g.weight * 0.9})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int {
		switch {
		case a.weight > b.weight:
			return -1
		case a.weight < b.weight:
			return 1
		}
		return 0
	})
	if len(guesses) > 0 && guesses[0].field == ignored {
		return nil, true
	}
	return guesses, other && len(guesses) == 0
}

// composed understands a heading from its parts, and from those that its unit
// implies. other reports that one of its words makes it something that is no
// field.
func composed(words []string, implied uint64) (guesses []guess, other bool) {
	ways := []spelling{{quality: 1}}
	strangers, letters, known := 0, 0, 0
	for i, w := range words {
		var of []spelling
		switch single := len(w) == 1; {
		case single && letterParts[w] != nil && len(words) > 1:
			for _, p := range letterParts[w] {
				of = append(of, spelling{1 << p, 0.8})
			}
			if isUnit(w) && i > 0 {
				of = append(of, spelling{1 << unitPart, 0.8})
			}
			if slices.ContainsFunc(partsBySpelling()[w], func(p partWord) bool { return p.part == fillPart }) {
				of = append(of, spelling{1 << fillPart, 1}) // "d'impact"
			}
			letters++
		case i > 0 && isUnit(w) && len(partsBySpelling()[w]) == 0, single && digit(w[0]):
			continue
		default:
			of = spellings(w)
		}
		if len(of) == 0 {
			strangers++
			continue
		}
		known++
		var next []spelling
		for _, a := range ways {
			for _, b := range of {
				next = append(next, spelling{a.parts | b.parts, a.quality * b.quality})
			}
		}
		ways = next[:min(len(next), 48)]
	}
	if known == letters {
		return nil, false
	}
	all := true
	// The face against something, or something against the path, is neither of
	// them by itself.
	partial := func(way spelling, f field) bool {
		return (f == face || f == path) && way.parts&(1<<againstPart) != 0 && way.parts&(1<<targetPart) == 0
	}
	match := func(way spelling, extras int) {
		mask := way.parts &^ neutral
		if mask&(1<<otherPart) != 0 {
			return
		}
		all = false
		for _, r := range recipes() {
			if (mask|implied)&r.need != r.need || mask&r.need == 0 || ones(mask&^r.may) != extras || partial(way, r.field) {
				continue
			}
			weight := r.weight * way.quality * math.Pow(strange, float64(strangers)) * math.Pow(beside, float64(extras))
			if mask&r.need != r.need {
				weight *= 0.8
			}
			if r.field == faceToPath && way.parts&(1<<againstPart) != 0 { // of the face, nothing else is
				weight = min(1.6*weight, sure)
			}
			at := slices.IndexFunc(guesses, func(g guess) bool { return g.field == r.field })
			switch {
			case at < 0:
				guesses = append(guesses, guess{r.field, weight})
			case guesses[at].weight < weight:
				guesses[at].weight = weight
			}
		}
	}
	for _, way := range ways {
		match(way, 0)
	}
	// A word nobody knows may be any part: what else it would make counts too,
	// so that "... to path" is not taken for the path.
	for _, way := range ways {
		mask := way.parts &^ neutral
		for _, r := range recipes() {
			missing := ones(r.need &^ mask)
			if missing == 0 || missing > strangers || mask&r.need == 0 || mask&^r.may != 0 || partial(way, r.field) {
				continue
			}
			weight := 0.8 * r.weight * way.quality * math.Pow(strange, float64(strangers))
			if !slices.ContainsFunc(guesses, func(g guess) bool { return g.field == r.field }) {
				guesses = append(guesses, guess{r.field, weight})
			}
		}
	}
	for extras := 1; extras <= 2 && len(guesses) == 0; extras++ {
		for _, way := range ways {
			match(way, extras)
		}
	}
	guesses = slices.DeleteFunc(guesses, func(g guess) bool { return g.weight < least })
	slices.SortStableFunc(guesses, func(a, b guess) int {
		switch {
		case a.weight > b.weight:
			return -1
		case a.weight < b.weight:
			return 1
		}
		return 0
	})
	return guesses, all
}

// letterParts are what a letter of its own stands for beside a word.
var letterParts = map[string][]part{
	"b": {ballPart, backPart}, "c": {clubPart}, "v": {verticalPart, speedPart}, "h": {sidePart, heightPart}, "x": {sidePart}, "y": {verticalPart},
	"s": {sidePart, spinPart}, "f": {facePart, factorPart}, "p": {pathPart}, "l": {launchPart, sidePart}, "r": {sidePart}, "t": {totalPart, timePart, targetPart}, "d": {dynamicPart, distancePart, descentPart},
	"a": {attackPart, anglePart}, "k": {clubPart}, "m": {maxPart},
}

// scriptsApart parts words where Latin letters meet others: "ヘッドSP".
func scriptsApart(words []string) (apart []string) {
	for _, w := range words {
		from, last := 0, rune(0)
		for i, r := range w {
			if i > 0 && (r < 0x2e80) != (last < 0x2e80) {
				apart, from = append(apart, w[from:i]), i
			}
			last = r
		}
		apart = append(apart, w[from:])
	}
	return apart
}

// isOther reports whether a word is one of those that make a heading none of
// ours, as it stands and not by a slip.
func isOther(w string) bool {
	return slices.ContainsFunc(partsBySpelling()[w], func(p partWord) bool { return p.part == otherPart })
}
