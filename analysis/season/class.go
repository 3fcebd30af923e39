package season

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// A handicap is that of the game of golf: strokes, negative for what golfers
// write with a plus, a player better than scratch.
const (
	leastHandicap = -10.0 // common practice, no source
	mostHandicap  = 54.0  // the World Handicap System's greatest [M]
)

// Classes are what members are divided into: bands of handicaps, and juniors.
type Classes struct {
	Upper   []float64 // the greatest handicap of each band but the last, which is open; none is no bands
	Juniors bool      // juniors are a class of their own, whatever their handicap
}

// mostBands keeps a club from classes of nobody.
const mostBands = 5

// ParseClasses reads "12, 24, juniors": a band up to 12, one up to 24, one over
// that, and the juniors. Nothing is no classes.
func ParseClasses(text string) (c Classes, err error) {
	for piece := range strings.SplitSeq(text, ",") {
		piece = strings.TrimSpace(piece)
		switch {
		case piece == "":
		case strings.EqualFold(piece, "juniors"):
			c.Juniors = true
		default:
			upper, err := ParseHandicap(piece)
			if err != nil {
				return Classes{}, analysis.Refuse("Write where each band ends, as in 12, 24, juniors.", "that is no end of a band.").In(piece).Of("classes")
			}
			c.Upper = append(c.Upper, upper)
		}
	}
	slices.Sort(c.Upper)
	if len(slices.Compact(slices.Clone(c.Upper))) < len(c.Upper) {
		return Classes{}, analysis.Refuse("Write each end of a band once.", "two bands end at the same handicap.").Of("classes")
	}
	if len(c.Upper) >= mostBands {
		return Classes{}, analysis.Refuse("Write four ends at most.", "that is more than five bands.").Of("classes")
	}
	return c, nil
}

// ParseHandicap reads "12.4", "12,4" or "+2", which is two better than scratch.
func ParseHandicap(text string) (float64, error) {
	figure, plus := strings.CutPrefix(strings.Replace(strings.TrimSpace(text), ",", ".", 1), "+")
	h, err := strconv.ParseFloat(figure, 64)
	if plus {
		h = -h
	}
	signed := strings.ContainsAny(figure, "+-")
	if err != nil || plus && signed || !(h >= leastHandicap && h <= mostHandicap) {
		return 0, analysis.Refuse("Write it as 12.4, or +2 for two better than scratch; 54 is the most.", "that is no handicap.").In(text)
	}
	return math.Round(10*h) / 10, nil
}

// Num is how many classes there are. They are numbered from 0: the bands in
// order, then the juniors.
func (c Classes) Num() int {
	n := 0
	if len(c.Upper) > 0 {
		n = len(c.Upper) + 1
	}
	if c.Juniors {
		n++
	}
	return n
}

// Of is a member's class, from their handicap (nil if none was entered); ok is
// false for a member who is in none.
func (c Classes) Of(handicap *float64, junior bool) (class int, ok bool) {
	switch {
	case junior && c.Juniors:
		return c.Num() - 1, true
	case handicap == nil || len(c.Upper) == 0:
		return 0, false
	}
	class, _ = slices.BinarySearch(c.Upper, *handicap)
	return class, true
}
