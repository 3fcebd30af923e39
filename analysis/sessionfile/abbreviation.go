package sessionfile

import (
	"math"
	"slices"
	"strings"
	"sync"
)

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
	if parts == nil && len(w) > 3 && !joins(w) {
		for _, v := range latin {
			if v.part != fillPart && v.part != againstPart && v.part != otherPart && !slices.Contains(parts, v.part) && contracted(w, v.spelling) {
				parts = append(parts, v.part)
			}
		}
	}
	if parts == nil && len(w) == 2 { // "Éc.", where hardly anything else begins so
		if parts = startingWith(w, func(p part) bool { return p != fillPart && p != againstPart }); len(parts) > 2 {
			parts = nil
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

// contracted reports whether w begins as a word does, with three letters, and goes
// on with some of its consonants in their order: "incln" for inclination.
func contracted(w, word string) bool {
	if len(word) < len(w)+2 || word[:3] != w[:3] || strings.ContainsAny(w[3:], "aeiou") {
		return false
	}
	i, skipped := 3, 0
	for k := 3; k < len(word) && i < len(w); k++ {
		switch {
		case word[k] == w[i]:
			i++
		case !strings.ContainsRune("aeiou", rune(word[k])):
			skipped++
		}
	}
	return i == len(w) && skipped <= 1
}

// startingWith are the parts for which a word in Latin letters begins so.
func startingWith(w string, wanted func(part) bool) (parts []part) {
	latin, _ := wordList()
	for _, v := range latin {
		if strings.HasPrefix(v.spelling, w) && wanted(v.part) && !slices.Contains(parts, v.part) {
			parts = append(parts, v.part)
		}
	}
	return parts
}

// quantity reports whether a part is one that compounds end with: which
// quantity of a thing it is.
func (p part) quantity() bool {
	switch p {
	case speedPart, anglePart, ratePart, factorPart, distancePart, heightPart, directionPart, timePart,
		deviationPart, axisPart, pathPart, spinPart, loftPart:
		return true
	}
	return false
}

// cutOff takes a word of a language of compounds for one whose last word is cut to
// its first letter or few: "Abflugw.", "Gesamtsp.". Which word it was, only what
// such headings can be of will tell.
func cutOff(w string) (of []spelling) {
	if !ascii(w) {
		return nil
	}
	for _, language := range []string{"de", "sv"} {
		for n := 1; n <= 4 && n+3 <= len(w); n++ {
			tails := tailsIn(language, w[len(w)-n:])
			if tails == nil {
				continue
			}
			for _, h := range headsIn(language, w[:len(w)-n], n == 1) {
				for _, t := range tails {
					quality := 0.8
					if t == pathPart && slices.Contains(tails, anglePart) { // "Väg" is mostly written out
						quality = 0.5
					}
					if s := (spelling{h.parts | 1<<t, h.quality * quality}); len(of) < 8 && !slices.Contains(of, s) {
						of = append(of, s)
					}
				}
			}
		}
	}
	return of
}

// tailsIn are what the last word of a compound can be that begins so. A letter
// that joins words or bends them is none.
func tailsIn(language, begun string) []part {
	if strings.Contains("sne", begun) {
		return nil
	}
	return tailsByBeginning()[language+begun]
}

var tailsByBeginning = sync.OnceValue(func() map[string][]part {
	m := map[string][]part{}
	for _, line := range partWords {
		if line.language != "de" && line.language != "sv" || !line.part.quantity() && line.part != fillPart {
			continue
		}
		for word := range strings.SplitSeq(line.words, ", ") {
			word = squeezed(word)
			for n := 1; n <= 4 && n < len(word) && len(word) > 2; n++ {
				if key := line.language + word[:n]; !slices.Contains(m[key], line.part) {
					m[key] = append(m[key], line.part)
				}
			}
		}
	}
	return m
})

// headsIn is what a word of a language can be that stands first in a compound,
// with or without the letter that joins it to the next; or, if it may be, one that
// is misspelt or without its vowels.
func headsIn(language, w string, orSlip bool) (of []spelling) {
	for _, joint := range []string{"", "s", "n", "en", "e"} {
		head, ok := strings.CutSuffix(w, joint)
		if !ok || len(head) < 3 {
			continue
		}
		for _, p := range partsBySpelling()[head] {
			if p.language == language && p.part != fillPart && p.part != otherPart {
				of = append(of, spelling{1 << p.part, 1})
			}
		}
		if of != nil {
			return of
		}
	}
	if c := compound([]rune(w), false, 2); c != nil && len(w) > 7 {
		return c
	}
	if !orSlip || len(w) < 4 {
		return nil
	}
	read := slips
	if len(w) == 4 {
		read = abbreviated
	}
	for _, s := range read(w) {
		of = append(of, spelling{s.parts, s.quality * 0.9})
	}
	return of
}

// headCutShort takes a word for a compound whose first word is cut short without
// a mark: "abflricht".
func headCutShort(w string) (of []spelling) {
	for cut := 3; cut <= len(w)-4; cut++ {
		tails := exact(w[cut:], 1)
		if tails == nil || !ascii(w[:cut]) {
			continue
		}
		for _, a := range abbreviated(w[:cut]) {
			for _, b := range tails {
				if s := (spelling{a.parts | b.parts, a.quality * b.quality * 0.95}); len(of) < 8 && !slices.Contains(of, s) {
					of = append(of, s)
				}
			}
		}
		if of != nil {
			return of
		}
	}
	return nil
}

// slippedShort takes a word for an abbreviation with a slip of the pen: the
// beginning of a word, with two letters swapped, one wrong or one too many.
func slippedShort(w string) (of []spelling) {
	if len(w) < 4 || len(w) > 12 || !ascii(w) {
		return nil
	}
	latin, _ := wordList()
	var parts []part
	for _, v := range latin {
		if len(v.spelling) < len(w)+2 || v.part == fillPart || v.part == otherPart || slices.Contains(parts, v.part) || v.spelling[0] != w[0] && v.spelling[1] != w[0] {
			continue
		}
		for n := len(w) - 1; n <= len(w)+1; n++ {
			if distance([]rune(w), []rune(v.spelling[:n]), 1) <= 1 {
				parts = append(parts, v.part)
				break
			}
		}
	}
	if len(parts) > 2 {
		return nil
	}
	for _, p := range parts {
		of = append(of, spelling{1 << p, 0.6 / math.Sqrt(float64(len(parts)))})
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
		tails := begun(w[cut:])
		if tails == nil && len(w)-cut > 2 {
			tails = abbreviated(w[cut:])
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

// begun are the quantities whose words begin with so few letters, if they are few.
func begun(w string) (of []spelling) {
	parts := startingWith(w, part.quantity)
	if len(parts) > 4 {
		return nil
	}
	for _, p := range parts {
		of = append(of, spelling{1 << p, 0.8})
	}
	return of
}

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
