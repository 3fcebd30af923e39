package sessionfile

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// joints are the letters that join the words of a compound, and the short words
// that stand between them.
var joints = []string{"", "s", "n", "en", "es", "e", "de", "del", "di", "zu", "zum", "zur", "vs", "to", "mot", "till", "al", "au"}

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
			case rest == "vs" || rest == "to": // "FacevsPath", whose capital has parted it
				tails = []spelling{{1 << againstPart, 1}}
			case len(rest) > 1 && isUnit(rest):
				tails = []spelling{{1 << unitPart, 1}}
			default:
				tails = compound([]rune(rest), short, most-1)
			}
			between := uint64(0)
			if slices.ContainsFunc(partsBySpelling()[joint], func(p partWord) bool { return p.part == againstPart }) {
				between = 1 << againstPart
			}
			for _, a := range head {
				for _, b := range tails {
					add(spelling{a.parts | between | b.parts, a.quality * b.quality * 0.97})
				}
			}
		}
		if short && len(of) > 0 {
			break // the longest words first
		}
	}
	return of
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
