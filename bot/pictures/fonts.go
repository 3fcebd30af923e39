package pictures

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/golang/freetype/truetype"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// The fonts beside go-chart's own, which has Latin with all its accents, Greek
// and Cyrillic. Each is free to embed; its licence lies beside it.
//
//go:embed fonts/*.ttf
var fontFiles embed.FS

// otherFonts are asked for a letter in this order: Hebrew and Arabic, Korean,
// then Japanese and Chinese.
var otherFonts = []string{"DejaVuSans", "NanumSquareR", "DroidSansFallbackFull"}

// fonts are all fonts, go-chart's first.
var fonts = sync.OnceValues(func() ([]*truetype.Font, error) {
	own, err := typeface()
	if err != nil {
		return nil, err
	}
	all := []*truetype.Font{own}
	for _, name := range otherFonts {
		data, err := fontFiles.ReadFile("fonts/" + name + ".ttf")
		if err != nil {
			return nil, err
		}
		f, err := truetype.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("the face %s: %w", name, err)
		}
		all = append(all, f)
	}
	return all, nil
})

// fontOf is the face that has a letter, nil if none does.
func fontOf(r rune) *truetype.Font {
	own, err := typeface()
	if err == nil && own.Index(r) != 0 {
		return own
	}
	all, err := fonts()
	if err != nil {
		return nil
	}
	for _, f := range all {
		if f.Index(r) != 0 {
			return f
		}
	}
	return nil
}

// byFont cuts a text where its face changes.
func byFont(s string, each func(part string, f *truetype.Font)) {
	from := 0
	var last *truetype.Font
	for i, r := range s {
		f := fontOf(r)
		if i > from && f != last {
			each(s[from:i], last)
			from = i
		}
		last = f
	}
	if from < len(s) {
		each(s[from:], last)
	}
}

// forms are the shapes of an Arabic letter by itself, at the end, at the
// beginning and in the middle of a word, in the order the standard lists them
// (Unicode, "Arabic Presentation Forms-B"); a letter that joins to the right
// alone has two.
var forms = sync.OnceValue(func() map[rune][]rune {
	m := map[rune][]rune{}
	for r := rune(0xFE80); r <= 0xFEF4; r++ {
		if of := []rune(norm.NFKD.String(string(r))); len(of) > 0 {
			base := []rune(norm.NFKC.String(string(r)))[0]
			m[base] = append(m[base], r)
		}
	}
	return m
})

// joined gives the letters of Arabic the shapes they have beside each other.
func joined(s string) string {
	text, forms := []rune(s), forms()
	out := make([]rune, len(text))
	for i, r := range text {
		out[i] = r
		of := forms[r]
		if len(of) == 0 {
			continue
		}
		before := i > 0 && len(forms[text[i-1]]) == 4
		after := len(of) == 4 && i+1 < len(text) && len(forms[text[i+1]]) > 1
		at := 0
		switch {
		case before && after:
			at = 3
		case after:
			at = 2
		case before && len(of) > 1:
			at = 1
		}
		out[i] = of[at]
	}
	return string(out)
}

// leftward reports whether a letter belongs to a script that runs from right to
// left.
func leftward(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

// inOrder puts a text with parts that run from right to left in the order in
// which its letters stand from left to right. Of the bidirectional algorithm
// (Unicode Standard Annex 9) it has what a name needs: a part runs from the
// first of its letters to the last, numbers in it keep their own direction, and
// a text that begins with such a part runs from right to left as a whole.
func inOrder(s string) string {
	text := []rune(joined(s))
	var parts []string
	whole := false // from right to left
	for i := 0; i < len(text); {
		if !leftward(text[i]) {
			from := i
			for i < len(text) && !leftward(text[i]) {
				i++
			}
			parts = append(parts, string(text[from:i]))
			continue
		}
		whole = whole || len(parts) == 0
		from, to := i, i
		for k := i; k < len(text) && !latin(text[k]); k++ {
			if leftward(text[k]) {
				to = k
			}
		}
		i = to + 1
		parts = append(parts, turned(text[from:i]))
	}
	if whole {
		slices.Reverse(parts)
		for i, part := range parts { // the spaces change sides too
			word := strings.TrimSpace(part)
			before, after, _ := strings.Cut(part, word)
			parts[i] = after + word + before
		}
	}
	return strings.Join(parts, "")
}

// latin reports whether a letter surely runs from left to right.
func latin(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.L
}

// turned is letters from right to left, numbers within them as they are.
func turned(text []rune) string {
	out := slices.Clone(text)
	slices.Reverse(out)
	for i := 0; i < len(out); i++ {
		from := i
		for i < len(out) && unicode.IsDigit(out[i]) {
			i++
		}
		slices.Reverse(out[from:i])
	}
	return string(out)
}
