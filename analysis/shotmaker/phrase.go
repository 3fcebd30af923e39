package shotmaker

import (
	"strings"

	"rangepost/analysis"
)

// Meaning is what a reader has to make of a label.
type Meaning string

// The meanings.
const (
	AShot   Meaning = "a shot"            // with just what it says
	MustAsk Meaning = "must be asked"     // half a shot, two at once, or one of two things: asked, or refused with why
	Plain   Meaning = "a plain label"     // no shot and no question
	NoShot  Meaning = "not taken for one" // asked or left, but never a shot
)

// Says is what a phrase says of a shot, and no more: what it leaves out is not
// held to be anything. Sides are -1 left, +1 right; figures are as typed.
type Says struct {
	Straight bool    // start and curve at nothing
	Start    int     // side of the start line
	Curve    int     // side the ball curves to, of the golfer in Phrase.Hand
	Height   int     // -1 low, +1 high
	Short    bool    // less carry than usual
	StartBy  float64 // degrees; 0 not said
	CurveBy  float64 // Unit
	Apex     float64 // Unit
	Carry    float64 // Unit
	Unit     string  // "yd", "m", "ft", or "" for the golfer's own
}

// A Phrase is what a student types, and what it has to be read as.
type Phrase struct {
	Lang  string // as package analysis has them; "" in any
	Text  string
	Hand  analysis.Hand
	Means Meaning
	Says  Says
	Trap  bool // looks like a shot and is none, or not surely
	Rare  bool // a word less used: to be counted apart
}

// Phrases lists every phrase for a golfer of each hand. A draw and a fade curve the
// other way for a left-hander; left and right stay.
func Phrases() []Phrase {
	var all []Phrase
	for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
		for _, r := range rows {
			says, means := r.says, r.means
			if r.byHand {
				says.Curve *= int(hand.Mirror())
			}
			if r.only != "" && r.only != hand.String() {
				continue
			}
			for _, text := range strings.Split(r.texts, " | ") {
				all = append(all, Phrase{
					Lang: r.lang, Text: text, Hand: hand, Means: means, Says: says, Trap: r.trap, Rare: r.rare,
				})
			}
		}
	}
	return all
}

// A row is some phrases that mean the same, parted by " | ", of a right-hander
// where it is byHand.
type row struct {
	lang   string
	means  Meaning
	says   Says
	texts  string
	byHand bool
	only   string // one hand's alone
	trap   bool
	rare   bool
}

func shot(lang string, says Says, texts string) row {
	return row{lang: lang, means: AShot, says: says, texts: texts}
}

// bent is a shot that is named by its curve.
func bent(lang string, says Says, texts string) row {
	r := shot(lang, says, texts)
	r.byHand = true
	return r
}

func rare(r row) row {
	r.rare = true
	return r
}

func label(lang, texts string) row { return row{lang: lang, means: Plain, texts: texts} }

func trap(lang string, means Meaning, texts string) row {
	return row{lang: lang, means: means, texts: texts, trap: true}
}

func ask(lang, texts string) row { return row{lang: lang, means: MustAsk, texts: texts} }
