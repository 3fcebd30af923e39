package words

import (
	"strings"
	"unicode"
)

// Escape makes somebody else's text safe to stand inside a reply in chat: it
// shows as it was written and does nothing. Markdown is backslashed, mentions
// and links are broken with a zero-width space, line breaks become spaces, and
// control, direction and invisible characters are dropped. It does not shorten;
// see Cut.
func Escape(text string) string {
	runes := []rune(Clean(text))
	var b strings.Builder
	for i, r := range runes {
		switch {
		case strings.ContainsRune("\\*_~`|<>#[]()", r):
			b.WriteByte('\\')
		case i == 0 && (r == '-' || r == '+'):
			b.WriteByte('\\') // a list item
		case r == '.' && startsNumberedList(runes, i):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
		if r == '@' || breaksLink(runes, i) {
			b.WriteRune(zeroWidthSpace)
		}
	}
	return b.String()
}

const zeroWidthSpace = '\u200b'

// startsNumberedList reports whether the full stop at i ends a number that
// opens the text.
func startsNumberedList(text []rune, i int) bool {
	for _, r := range text[:i] {
		if r < '0' || r > '9' {
			return false
		}
	}
	return i > 0
}

// breaksLink reports whether a space after the rune at i keeps the text from
// being read as an address: after the colon of "://", and after a full stop
// inside a word, as in a host's name.
func breaksLink(text []rune, i int) bool {
	next := func(k int) rune {
		if i+k < len(text) {
			return text[i+k]
		}
		return ' '
	}
	switch text[i] {
	case ':':
		return next(1) == '/' && next(2) == '/'
	case '.':
		return i > 0 && !unicode.IsSpace(text[i-1]) && unicode.IsLetter(next(1))
	}
	return false
}

// Clean makes text one line: line breaks and tabs become spaces, runs of
// spaces one, and characters that control, reorder or cannot be seen go.
func Clean(text string) string {
	text = strings.ToValidUTF8(text, "\uFFFD")
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs):
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// Cut shortens text to at most most characters (runes), ending in an ellipsis
// when something went. Cut before escaping, so that no escape is cut in two.
func Cut(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	if most < 1 {
		return ""
	}
	return strings.TrimRight(string(runes[:most-1]), " ") + "…"
}

// Clip cuts text at a word to at most most characters.
func Clip(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	cut := string(runes[:most-1])
	if i := strings.LastIndexAny(cut, " \n"); i > most/2 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " \n,;") + "…"
}

// Safe is somebody else's text, or text that may quote it, ready to stand in
// what this voice says: on one line, and escaped unless the voice is plain.
func (v Voice) Safe(text string) string {
	if v.Plain {
		return Clean(text)
	}
	return Escape(text)
}

// maxLabel is how much of a label, a note or a name a sentence echoes.
const maxLabel = 40

// Quote echoes somebody else's text in quotation marks: cut, escaped unless the
// voice is plain, and with its own double quotes made single so that it cannot
// end the quotation.
func (v Voice) Quote(text string) string {
	text = strings.NewReplacer(`"`, "'", "“", "'", "”", "'", "„", "'", "«", "'", "»", "'").Replace(Clean(text))
	return `"` + v.Safe(Cut(text, maxLabel)) + `"`
}
