package sessionfile

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// plainText is a cell as the reader sees it: compatibility forms folded (full
// width digits, ligatures, unit squares), every kind of space a space, every
// kind of minus a minus. A plain text stays as it is.
func plainText(s string) string {
	if plain(s) {
		return strings.TrimSpace(s)
	}
	// Before folding, because what cannot be seen keeps a letter from the mark
	// that belongs to it; and after, because folding makes minuses and spaces
	// of other signs.
	s = strings.Map(plainRune, strings.ToValidUTF8(s, "\ufffd"))
	return strings.TrimSpace(strings.Map(plainRune, norm.NFKC.String(s)))
}

func plainRune(r rune) rune {
	switch r {
	case '\u2212', '\u2013', '\u2014', '\u2010', '\u2011', '\u2012', '\ufe63':
		return '-'
	case '\u2019', '\u2032', '\u00b4', '\u2018':
		return '\''
	case '\u00ba':
		return '°'
	}
	if unicode.IsSpace(r) {
		return ' '
	}
	if unicode.Is(unicode.Cf, r) { // soft hyphens, zero widths, byte order marks
		return -1
	}
	return r
}

var lettersApart = strings.NewReplacer("ß", "ss", "°", " ° ")

// spelled splits a plain text into words without case, accents or
// punctuation: "ClubSpeed", "club-speed" and "Club Speed" come out alike.
func spelled(s string) []string {
	var b strings.Builder
	var last rune
	for _, r := range plainText(s) {
		if unicode.IsUpper(r) && unicode.IsLower(last) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	lower := strings.ToLower(b.String())
	if ascii(lower) {
		return strings.FieldsFunc(lower, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '#') })
	}
	folded := norm.NFC.String(strings.Map(func(r rune) rune {
		// The marks of kana make another letter, not an accent.
		if unicode.Is(unicode.Mn, r) && r != '\u3099' && r != '\u309a' {
			return -1
		}
		return r
	}, norm.NFD.String(lower)))
	return strings.FieldsFunc(lettersApart.Replace(folded), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '#' && r != '°'
	})
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// plain reports whether a text is ASCII without any other space than ' '.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c >= utf8.RuneSelf || c >= '\t' && c <= '\r' {
			return false
		}
	}
	return true
}

// squeezed is the words run together, the form in which words are compared.
func squeezed(s string) string { return strings.Join(spelled(s), "") }
