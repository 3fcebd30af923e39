package sessionfile

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"rangepost/analysis"
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
const neutral = 1<<unitPart | 1<<fillPart

// A recipe is one way to make a heading of a field: the parts that have to be
// there, and those that may.
type recipe struct {
	field     field
	need, may uint64
	weight    float64
}

// otherFields are the recipes of what is no number, written as in the table of
// numbers.
var otherFields = map[field]string{
	clubField:   "club name",
	shotField:   "shot (ball); ball shot",
	timeField:   "day (time) (shot); time shot",
	labelField:  "set (name) (shot)",
	player:      "player (name)",
	backSpin:    "back spin (rate) (ball) (speed); ~back (rate)",
	sideSpin:    "side spin (rate) (ball) (speed)",
	temperature: "warmth",
	windSpeed:   "wind (speed)",
	windFrom:    "wind direction",
}

// recipes are all of them: those in the rows of the numbers, and otherFields.
var recipes = sync.OnceValue(func() (all []recipe) {
	add := func(f field, text string) {
		for way := range strings.SplitSeq(text, ";") {
			r := recipe{field: f, weight: sure}
			for word := range strings.FieldsSeq(way) {
				word, isLoose := strings.CutPrefix(word, "~")
				if isLoose {
					r.weight = loose
				}
				name := strings.Trim(word, "()")
				at := slices.Index(partKeys[:], name)
				if at <= 0 {
					panic("sessionfile: no part is called " + name)
				}
				if name == word {
					r.need |= 1 << at
				}
				r.may |= 1 << at
			}
			if r.need != 0 {
				all = append(all, r)
			}
		}
	}
	for _, n := range analysis.Numbers() {
		add(field(n), n.Info().Parts)
	}
	for f := field(0); int(f) < numFields; f++ {
		add(f, otherFields[f])
	}
	return all
})

// A spelling is one way to read a word of a heading.
type spelling struct {
	parts   uint64
	quality float64 // 1 for words as they are, less for slips and abbreviations
}

// impliedBy are the parts that a unit speaks for: "Side (rpm)" is a spin.
func impliedBy(units []string) (parts uint64) {
	for _, said := range units {
		for _, u := range unitBySpelling()[unitSpelling(said)] {
			switch u.dim {
			case speed:
				parts |= 1 << speedPart
			case rate:
				parts |= 1<<spinPart | 1<<ratePart
			case angle:
				parts |= 1 << anglePart
			case length:
				parts |= 1 << distancePart
				if u.scale < 0.1 {
					parts |= 1 << strikePart // nothing else is that small
				}
			}
		}
	}
	return parts
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
	match := func(way spelling, extras int) {
		mask := way.parts &^ neutral
		if mask&(1<<otherPart) != 0 {
			return
		}
		all = false
		for _, r := range recipes() {
			if (mask|implied)&r.need != r.need || mask&r.need == 0 || ones(mask&^r.may) != extras {
				continue
			}
			weight := r.weight * way.quality * math.Pow(strange, float64(strangers)) * math.Pow(beside, float64(extras))
			if mask&r.need != r.need {
				weight *= 0.8
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
			if missing == 0 || missing > strangers || mask&r.need == 0 || mask&^r.may != 0 {
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

// spellings lists what one word can be: itself, a compound of words, an
// abbreviation, or a slip of one; the better kind hides the worse, so that a
// word that exists is never taken for a slip of another.
func spellings(w string) []spelling {
	if of := exact(w, 1); of != nil {
		return of
	}
	if c := compound([]rune(w), unspaced(w), 4); c != nil {
		return c
	}
	if unspaced(w) {
		if s := slips(w); s != nil {
			return s
		}
		if s := misspelt(w); s != nil {
			return s
		}
		return partly([]rune(w))
	}
	if a := abbreviated(w); a != nil {
		return a
	}
	if s := slips(w); s != nil {
		return s
	}
	if s := cutShort(w); s != nil {
		return s
	}
	return misspelt(w)
}

// partly takes a word written without spaces apart into words that exist and a
// rest of a letter or two that does not, at most half of it: a longer one may be
// a word that counts, misspelt.
func partly(w []rune) (of []spelling) {
	best := 0
	for from := range w {
		for to := len(w); to > from; to-- {
			rest := len(w) - (to - from)
			if rest == 0 || rest > 2 || 2*rest > len(w) || to-from < best {
				continue
			}
			known := string(w[from:to])
			parts := exact(known, strange)
			if parts == nil {
				for _, c := range compound(w[from:to], true, 4) {
					parts = append(parts, spelling{c.parts, c.quality * strange})
				}
			}
			if parts != nil && to-from > best {
				best, of = to-from, parts
			}
		}
	}
	return of
}

// cutShort takes a word for a compound whose last word is cut short:
// "Smashfakt.", "Sidavv.", "Maxhö.".
func cutShort(w string) (of []spelling) {
	for cut := len(w) - 2; cut >= 3; cut-- {
		head := exact(w[:cut], 1)
		if head == nil {
			continue
		}
		tails := abbreviated(w[cut:])
		if len(w)-cut == 2 {
			tails = begun(w[cut:])
		}
		for _, tail := range tails {
			for _, a := range head {
				of = append(of, spelling{a.parts | tail.parts, a.quality * tail.quality})
			}
		}
		if of != nil {
			return of[:min(len(of), 8)]
		}
	}
	return nil
}

// begun are the parts whose words begin with so few letters, if they are few.
func begun(w string) (of []spelling) {
	var parts []part
	latin, _ := wordList()
	for _, v := range latin {
		if strings.HasPrefix(v.spelling, w) && v.part != fillPart && v.part != otherPart && !slices.Contains(parts, v.part) {
			parts = append(parts, v.part)
		}
	}
	if len(parts) > 3 {
		return nil
	}
	for _, p := range parts {
		of = append(of, spelling{1 << p, 0.8 / math.Sqrt(float64(len(parts)))})
	}
	return of
}

// misspelt takes a word for a compound with a slip of the pen in one of its two
// halves.
func misspelt(w string) (of []spelling) {
	r := []rune(w)
	from, slip := 3, 4
	if unspaced(w) {
		from, slip = 1, 3
	}
	for cut := len(r) - from; cut >= from; cut-- {
		for _, way := range []struct {
			known, slipped []rune
		}{{r[:cut], r[cut:]}, {r[cut:], r[:cut]}} {
			if len(way.slipped) < slip {
				continue
			}
			known := exact(string(way.known), 1)
			if known == nil {
				continue
			}
			for _, b := range slips(string(way.slipped)) {
				for _, a := range known {
					if s := (spelling{a.parts | b.parts, a.quality * b.quality * 0.95}); len(of) < 8 && !slices.Contains(of, s) {
						of = append(of, s)
					}
				}
			}
		}
	}
	return of
}

func exact(w string, quality float64) (of []spelling) {
	for _, p := range partsBySpelling()[w] {
		s := spelling{1 << p.part, quality}
		if !slices.Contains(of, s) {
			of = append(of, s)
		}
	}
	if of == nil && utf8.RuneCountInString(w) > 1 {
		for _, s := range sideBySpelling()[w] {
			of = append(of, spelling{1 << s.part(), quality})
		}
	}
	return of
}

// part is what a heading speaks of that names a side: "Heel/Toe", "Down/Up".
func (s sideWord) part() part {
	if s.where == nil {
		return sidePart
	}
	switch s.where[0] {
	case face:
		return facePart
	case path:
		return pathPart
	case spinAxis:
		return axisPart
	case strikeToe:
		return toePart
	}
	return verticalPart
}

// unspaced reports whether a word is written without spaces between its parts.
func unspaced(w string) bool {
	r, _ := utf8.DecodeRuneInString(w)
	return r >= 0x2e80
}

// joints are the letters that join the words of a compound.
var joints = []string{"", "s", "n", "en", "es", "e", "de", "del", "di", "zu", "zum"}

// compound takes a word apart into words that exist, at most so many.
func compound(w []rune, short bool, most int) (of []spelling) {
	from := 3
	if short {
		from = 1
	}
	if most < 2 || len(w) < 2*from {
		return nil
	}
	add := func(s spelling) {
		if !slices.Contains(of, s) && len(of) < 8 {
			of = append(of, s)
		}
	}
	for cut := len(w) - 1; cut >= from; cut-- {
		head := exact(string(w[:cut]), 1)
		if head == nil {
			continue
		}
		for _, joint := range joints {
			rest, ok := strings.CutPrefix(string(w[cut:]), joint)
			if joint != "" && (short || !ok) || rest == "" {
				continue
			}
			var tails []spelling
			switch {
			case utf8.RuneCountInString(rest) >= from && exact(rest, 1) != nil:
				tails = exact(rest, 1)
			case len(rest) > 1 && isUnit(rest):
				tails = []spelling{{1 << unitPart, 1}}
			default:
				tails = compound([]rune(rest), short, most-1)
			}
			for _, a := range head {
				for _, b := range tails {
					add(spelling{a.parts | b.parts, a.quality * b.quality * 0.97})
				}
			}
		}
		if short && len(of) > 0 {
			break // the longest words first
		}
	}
	return of
}

// abbreviated finds the words a Latin word begins, or is what is left of
// without the vowels.
func abbreviated(w string) (of []spelling) {
	if len(w) < 2 || !ascii(w) {
		return nil
	}
	bare := len(w) <= 7 && !strings.ContainsAny(w[1:], "aeiou")
	var parts []part
	latin, _ := wordList()
	for _, v := range latin {
		if len(v.spelling) <= len(w) || slices.Contains(parts, v.part) || v.part == fillPart && len(v.spelling) < 5 {
			continue
		}
		if len(w) == 2 && v.part == otherPart {
			continue // two letters are too few to call a heading none of ours
		}
		if len(w) > 2 && strings.HasPrefix(v.spelling, w) || bare && (len(w) > 2 || len(v.spelling) < 6) && withoutVowels(w, v.spelling) {
			parts = append(parts, v.part)
		}
	}
	if len(parts) > 6 {
		return nil
	}
	quality := 0.85 / math.Sqrt(float64(max(1, len(parts))))
	for _, p := range parts {
		of = append(of, spelling{1 << p, quality})
	}
	return of
}

// withoutVowels reports whether w is made of letters of a word in their order,
// beginning and ending as it does, without skipping more than one consonant.
func withoutVowels(w, word string) bool {
	if w[0] != word[0] || len(word) > 12 {
		return false
	}
	i, skipped := 0, 0
	for k := range len(word) {
		switch {
		case i < len(w) && word[k] == w[i]:
			i++
		case !strings.ContainsRune("aeiou", rune(word[k])):
			skipped++
		}
	}
	return i == len(w) && skipped <= 1
}

// A latinWord is a word of the table in Latin letters.
type latinWord struct {
	spelling string
	part     part
	letters  uint32 // which it has
}

// wordList is every word of the table, in Latin letters and in the others.
var wordList = sync.OnceValues(func() (latin, cjk []latinWord) {
	var all []string
	for s := range partsBySpelling() {
		all = append(all, s)
	}
	slices.Sort(all)
	for _, s := range all {
		for _, p := range partsBySpelling()[s] {
			w := latinWord{s, p.part, lettersOf(s)}
			if unspaced(s) {
				cjk = append(cjk, w)
			} else {
				latin = append(latin, w)
			}
		}
	}
	return latin, cjk
})

func lettersOf(s string) (set uint32) {
	for _, r := range s {
		set |= 1 << (uint32(r) & 31)
	}
	return set
}

// slips finds the words a word is a slip of: one letter wrong, missing, too
// many or two swapped, and two of those in a long word. Of words equally near
// all count, each for less.
func slips(w string) (of []spelling) {
	n := utf8.RuneCountInString(w)
	words, cjk := wordList()
	near := 1
	switch {
	case unspaced(w):
		words = cjk
		if n < 4 {
			return nil
		}
	case n < 3:
		return nil
	case n >= 8:
		near = 2
	}
	set, runes := lettersOf(w), []rune(w)
	var parts []part
	best := near + 1
	for _, v := range words {
		if d := len(v.spelling) - len(w); d > 3*near || d < -3*near || ones(set^v.letters) > 2*near || len(v.spelling) < 4 || v.part == fillPart {
			continue
		}
		if n == 3 && (v.spelling[0] != w[0] || v.spelling[3] != w[2]) { // one left out of the middle
			continue
		}
		switch d := distance(runes, []rune(v.spelling), min(best, near)); {
		case d < best:
			best, parts = d, append(parts[:0], v.part)
		case d == best && d <= near && !slices.Contains(parts, v.part):
			parts = append(parts, v.part)
		}
	}
	if best > near || len(parts) > 3 {
		return nil
	}
	quality := 0.85 - 0.12*float64(best-1)
	if n < 5 {
		quality = 0.7
	}
	if joins(w) {
		quality = strange
	}
	for _, p := range parts {
		of = append(of, spelling{1 << p, quality / math.Sqrt(float64(len(parts)))})
	}
	return of
}

// joins reports whether a word is one of a language of compounds and the first
// letter of another: "Klubbv." is more likely cut short than misspelt.
func joins(w string) bool {
	return len(w) > 4 && slices.ContainsFunc(partsBySpelling()[w[:len(w)-1]], func(p partWord) bool { return p.language == "sv" || p.language == "de" })
}

func ones[T uint32 | uint64](x T) (n int) {
	for ; x != 0; x &= x - 1 {
		n++
	}
	return n
}

// distance is the restricted edit distance of Damerau and Levenshtein (letters
// changed, left out, put in, or two neighbours swapped), or more than most.
func distance(a, b []rune, most int) int {
	if d := len(a) - len(b); d > most || d < -most {
		return most + 1
	}
	var rows [3][64]int
	if len(b) >= 64 {
		return most + 1
	}
	before, last, now := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		lowest := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
			lowest = min(lowest, now[j])
		}
		if lowest > most {
			return most + 1
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}

// slipped finds the entry of the lexicon that the words run together are a slip
// of, if there is one alone.
func slipped(words string) (guesses []guess) {
	n := utf8.RuneCountInString(words)
	near := 1
	switch {
	case n < 6 && !(unspaced(words) && n >= 4):
		return nil
	case n >= 11:
		near = 2
	}
	set, runes := lettersOf(words), []rune(words)
	best := near + 1
	var found []meaning
	for _, e := range lexiconList() {
		if d := len(e.spelling) - len(words); d > 3*near || d < -3*near || ones(set^e.letters) > 2*near {
			continue
		}
		switch d := distance(runes, e.runes, min(best, near)); {
		case d < best:
			best, found = d, append(found[:0], e.meaning)
		case d == best && d <= near:
			found = append(found, e.meaning)
		}
	}
	if best > near {
		return nil
	}
	for _, m := range found[1:] {
		if !slices.Equal(m.fields, found[0].fields) {
			return nil
		}
	}
	weight := sure * (0.9 - 0.1*float64(best-1))
	if len(found[0].fields) > 1 {
		weight /= 2
	}
	for _, f := range found[0].fields {
		guesses = append(guesses, guess{f, weight})
	}
	return guesses
}

type lexiconEntry struct {
	spelling string
	runes    []rune
	letters  uint32
	meaning  meaning
}

var lexiconList = sync.OnceValue(func() (all []lexiconEntry) {
	for s, m := range lexiconBySpelling() {
		all = append(all, lexiconEntry{s, []rune(s), lettersOf(s), m})
	}
	slices.SortFunc(all, func(a, b lexiconEntry) int { return strings.Compare(a.spelling, b.spelling) })
	return all
})

// initials are the letters that words of the lexicon begin with: "CHS", "LA".
var initials = sync.OnceValue(func() map[string][]field {
	m := map[string][]field{}
	for _, line := range headingWords() {
		f, ok := fieldByKey(line.holds)
		if !ok || f.text() || line.language == "ja" || line.language == "ko" {
			continue
		}
		for phrase := range strings.SplitSeq(line.words, ", ") {
			var short strings.Builder
			for _, w := range spelled(phrase) {
				if slices.ContainsFunc(partsBySpelling()[w], func(p partWord) bool { return p.part == fillPart }) {
					continue
				}
				short.WriteString(w[:1])
			}
			if s := short.String(); len(s) > 1 && !slices.Contains(m[s], f) {
				m[s] = append(m[s], f)
			}
		}
	}
	return m
})

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
	for _, g := range slipped(together) {
		add(g)
	}
	if of := initials()[together]; len(together) <= 4 && len(guesses) == 0 && len(of) <= 4 {
		for _, f := range of {
			add(guess{f, loose / math.Sqrt(float64(len(of)))})
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
