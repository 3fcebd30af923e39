package sessionfile

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

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

// misspelt takes a word for a compound with a slip of the pen in one of its two
// halves or, of a long word, in either.
func misspelt(w string) (of []spelling) {
	if of = misspeltIn(w, exact); of == nil && !unspaced(w) && utf8.RuneCountInString(w) >= 8 {
		of = misspeltIn(w, func(half string, _ float64) []spelling {
			if utf8.RuneCountInString(half) < 4 {
				return nil
			}
			return slips(half)
		})
	}
	return of
}

// misspeltIn takes a word for a half that is read so and one with a slip.
func misspeltIn(w string, read func(string, float64) []spelling) (of []spelling) {
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
			known := read(string(way.known), 1)
			if known == nil && from == 1 {
				known = compound(way.known, true, 3)
			}
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
	if joins(words) {
		weight *= strange
	}
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

func ones[T uint32 | uint64](x T) (n int) {
	for ; x != 0; x &= x - 1 {
		n++
	}
	return n
}
