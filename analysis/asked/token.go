package asked

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A token is a figure, or a word as it was found in the vocabulary.
type token struct {
	text   string
	number bool
	value  float64
	unit   string // of a figure
	word   word
	known  bool
}

// says reports whether a token says anything of a shot by itself: a single letter
// for a side does not.
func (t token) says() bool {
	return t.known && !t.number && (t.word.kind <= short || t.word.kind == side && utf8.RuneCountInString(t.text) > 1)
}

// tokensOf are the figures and words of a text.
func tokensOf(text string) (tokens []token) {
	s := phrases.Replace(strings.ToLower(text))
	for s != "" {
		r, size := utf8.DecodeRuneInString(s)
		switch {
		case unicode.IsDigit(r) || (r == '-' || r == '−' || r == '+') && len(s) > size && isDigit(s[size]):
			n := figure(s, size)
			tokens = append(tokens, figureToken(s[:n]))
			s = s[n:]
		case unicode.IsLetter(r):
			n := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) && r != '-' && r != '.' })
			if n < 0 {
				n = len(s)
			}
			tokens = append(tokens, wordsOf(strings.Trim(s[:n], "-."))...)
			s = s[n:]
		case r == ',' || r == ';' || r == '/' || r == '、' || r == '，' || r == '\n':
			tokens = append(tokens, token{text: s[:size], known: true, word: word{kind: joiner}})
			s = s[size:]
		case r == '°' || r == '&' || r == '+':
			tokens = append(tokens, token{text: s[:size], known: true, word: vocabulary()[s[:size]]})
			s = s[size:]
		case unicode.IsSpace(r) || strings.ContainsRune(":=.()'\"!-–—", r):
			s = s[size:]
		default:
			tokens = append(tokens, token{text: s[:size]})
			s = s[size:]
		}
	}
	return tokens
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// figure is how long the figure is that s begins with: a point or a comma is its
// own only between digits.
func figure(s string, sign int) int {
	n := sign
	for n < len(s) && (isDigit(s[n]) || (s[n] == '.' || s[n] == ',') && n+1 < len(s) && isDigit(s[n+1])) {
		n++
	}
	return n
}

func figureToken(s string) token {
	v, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(s), 64)
	return token{text: s, number: err == nil, value: v, known: err == nil}
}

// wordsOf is a word of the vocabulary, as it was typed or with one slip; else,
// where nothing parts words, the words that it is made of.
func wordsOf(s string) []token {
	if w, ok := vocabulary()[s]; ok {
		return []token{{text: s, word: w, known: true}}
	}
	if parts, ok := unspaced(s); ok {
		return parts
	}
	if parts := strings.Split(s, "-"); len(parts) > 1 {
		var all []token
		for _, p := range parts {
			all = append(all, wordsOf(p)...)
		}
		return all
	}
	if w, ok := slipOf(s); ok {
		return []token{{text: s, word: w, known: true}}
	}
	return []token{{text: s}}
}

// unspaced cuts a run of letters in a script without spaces into the longest
// words there are.
func unspaced(s string) (all []token, ok bool) {
	for s != "" {
		r, _ := utf8.DecodeRuneInString(s)
		if !unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul) && r != 'ー' {
			return nil, false
		}
		longest := ""
		for i := range s + " " {
			if _, is := vocabulary()[s[:i]]; is && i > len(longest) {
				longest = s[:i]
			}
		}
		if longest == "" {
			return nil, false
		}
		all = append(all, token{text: longest, word: vocabulary()[longest], known: true})
		s = s[len(longest):]
	}
	return all, len(all) > 0
}

// slipOf is the word that a longer one is one letter off, of those that say what
// is asked for; two that it may be are none.
func slipOf(s string) (found word, ok bool) {
	const least = 5
	if utf8.RuneCountInString(s) < least {
		return found, false
	}
	for spelling, w := range vocabulary() {
		if w.kind > short || utf8.RuneCountInString(spelling) < least || !oneOff([]rune(s), []rune(spelling)) {
			continue
		}
		if ok && found != w {
			return word{}, false
		}
		found, ok = w, true
	}
	return found, ok
}

// oneOff reports whether one letter wrong, missing, too many or two swapped make
// one word the other.
func oneOff(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	same := func(x, y []rune) bool { return string(x) == string(y) }
	switch len(b) - len(a) {
	case 0:
		return i == len(a) || same(a[i+1:], b[i+1:]) ||
			i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && same(a[i+2:], b[i+2:])
	case 1:
		return same(a[i:], b[i+1:])
	}
	return false
}
