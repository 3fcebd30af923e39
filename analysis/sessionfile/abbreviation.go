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
