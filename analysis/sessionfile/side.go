package sessionfile

import (
	"slices"
	"strings"
	"sync"
)

// A side is what a word beside a number says about its direction.
type side uint8

const (
	noSide side = iota
	rightOfTarget
	leftOfTarget
	open   // right for a right-handed golfer: open, in-to-out, fade
	closed // left for a right-handed golfer: closed, out-to-in, draw
	upward // up; toward the toe
	downward
)

// sides is the one table of side words; where says which columns they mean
// something in.
var sides = []struct {
	side  side
	where []field // nil: every sideways field
	words string  // separated by commas
}{
	{rightOfTarget, nil, "right, rechts, droite, à droite, derecha, destra, dx, höger, 右, 오른쪽, 우, rt, rgt"},
	{leftOfTarget, nil, "left, links, gauche, à gauche, izquierda, izq, sinistra, sx, vänster, 左, 왼쪽, 좌, lt, lft"},
	{open, []field{face, faceToPath}, "open, offen, ouverte, ouvert, abierta, abierto, aperta, aperto, öppen, opn, オープン, 오픈"},
	{closed, []field{face, faceToPath}, "closed, geschlossen, fermée, fermé, cerrada, cerrado, chiusa, chiuso, stängd, cls, クローズ, 클로즈"},
	{open, []field{path}, "in-out, in-to-out, inside-out, io, i-o, in to out, インアウト, 인아웃, innen-außen, int-ext"},
	{closed, []field{path}, "out-in, out-to-in, outside-in, oi, o-i, out to in, アウトイン, 아웃인, außen-innen, ext-int"},
	{open, []field{spinAxis, sideSpin}, "fade, slice"},
	{closed, []field{spinAxis, sideSpin}, "draw, hook"},
	{upward, []field{attack, strikeUp}, "up, high, u, hoch, haut, arriba, alto, upp, hög, 上, 위"},
	{downward, []field{attack, strikeUp}, "down, low, dn, tief, runter, bas, abajo, basso, ner, låg, 下, 아래"},
	{upward, []field{strikeToe}, "toe, t, spitze, pointe, punta, tå, トゥ, 토우"},
	{downward, []field{strikeToe}, "heel, h, ferse, talon, talón, tacco, häl, ヒール, 힐"},
}

// letterPairs are the letters and abbreviations for right and left, with the languages
// that use them. A file uses one pair. R and L are clear; other letters count
// when both of the pair are there, or the header is in their language: a D
// alone could be droite, derecha, destra or draw.
var letterPairs = []struct{ right, left, language string }{
	{"r", "l", ""},
	{"d", "g", "fr"},
	{"d", "i", "es"},
	{"d", "s", "it"},
	{"h", "v", "sv"},
	{"re", "li", "de"},
	{"der", "izq", "es"},
	{"dch", "izq", "es"},
	{"dr", "ga", "fr"},
	{"hö", "vä", "sv"},
	{"des", "sin", "it"},
}

type sideWord struct {
	side  side
	where []field
}

var sideBySpelling = sync.OnceValue(func() map[string][]sideWord {
	m := map[string][]sideWord{}
	for _, s := range sides {
		for w := range strings.SplitSeq(s.words, ", ") {
			m[squeezed(w)] = append(m[squeezed(w)], sideWord{s.side, s.where})
		}
	}
	return m
})

// sideOf is the side a word names in a column of field f. pair is the file's
// letter pair, as an index, or -1 where no letter was seen.
func sideOf(word string, f field, pair int) side {
	w := squeezed(word)
	for _, s := range sideBySpelling()[w] {
		if s.where == nil && f.sideways() || slices.Contains(s.where, f) {
			return s.side
		}
	}
	if f.sideways() && pair >= 0 {
		switch w {
		case letterPairs[pair].right:
			return rightOfTarget
		case letterPairs[pair].left:
			return leftOfTarget
		}
	}
	return noSide
}

// isPaired reports whether a word is of some letter pair.
func isPaired(w string) bool {
	return slices.ContainsFunc(letterPairs, func(p struct{ right, left, language string }) bool { return w == p.right || w == p.left })
}

// pairOf is the letter pair that holds all these letters in a file whose
// header is in one of these languages, -1 if there is none. letters says of
// each whether a column has it in which it might be a draw or a hook; where
// none has, one letter alone will do if it is of the same side in every pair.
func pairOf(letters map[string]bool, languages []string) int {
	alone := -1
	for i, p := range letterPairs {
		fits := len(letters) > 0
		for l := range letters {
			fits = fits && (l == p.right || l == p.left)
		}
		if fits && (p.language == "" || len(letters) == 2 || slices.Contains(languages, p.language)) {
			return i
		}
		for l, curve := range letters {
			if fits && !curve && alone < 0 && oneSided(l) {
				alone = i
			}
		}
	}
	return alone
}

// oneSided reports whether a letter is of the same side in every pair.
func oneSided(letter string) bool {
	right, left := false, false
	for _, p := range letterPairs {
		right, left = right || letter == p.right, left || letter == p.left
	}
	return right != left
}
