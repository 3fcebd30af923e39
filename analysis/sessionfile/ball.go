package sessionfile

import (
	"fmt"
	"strings"
	"sync"

	"rangepost/analysis"
)

// ballWords is the one table of words for the kind of ball that was hit. No maker's
// and no model's name is in it: how a ball flies is not in its name.
var ballWords = []struct {
	kind  analysis.Ball
	words string
}{
	{analysis.RangeBall, "range, range ball, range balls, rb, practice, practice ball, practice balls, practise ball, driving range"},
	{analysis.RangeBall, "Rangeball, Rangebälle, Übungsball, Übungsbälle, balle de practice, balles de practice, bola de práctica, bolas de práctica, práctica"},
	{analysis.RangeBall, "palla da pratica, palle da pratica, pratica, rangeboll, rangebollar, träningsboll, 練習球, レンジボール, 연습구, 연습볼"},
	{analysis.NewBall, "new, new ball, new balls, premium, premium ball, premium balls, course ball"},
	{analysis.NewBall, "neu, neuer Ball, neue Bälle, neuve, balle neuve, balles neuves, nueva, bola nueva, nuova, palla nuova, ny, ny boll, nya bollar, 新品, 新球, コースボール, 새 볼, 새 공"},
}

var ballBySpelling = sync.OnceValue(func() map[string]analysis.Ball {
	m := map[string]analysis.Ball{}
	for _, line := range ballWords {
		for word := range strings.SplitSeq(line.words, ", ") {
			m[squeezed(word)] = line.kind
		}
	}
	return m
})

// kindOfBall is what the golfer said was hit, or else what the file says of every
// ball alike.
func (t *table) kindOfBall(cs []column, o Options) (kind analysis.Ball, decisions []string) {
	if o.Ball != "" {
		return o.Ball, nil
	}
	for _, c := range cs {
		if c.field != ballKind {
			continue
		}
		of := map[analysis.Ball]int{} // "" of a word that says neither
		for _, r := range t.rows {
			if text := plainText(r.cell(c.at)); !isMissing(text) {
				of[ballBySpelling()[squeezed(text)]]++
			}
		}
		switch n := len(t.rows); {
		case of[analysis.RangeBall] == n:
			return analysis.RangeBall, append(decisions, fmt.Sprintf("range balls, by column '%s'", c.text))
		case of[analysis.NewBall] == n:
			return analysis.NewBall, append(decisions, fmt.Sprintf("new balls, by column '%s'", c.text))
		case of[analysis.RangeBall]+of[analysis.NewBall] > 0:
			decisions = append(decisions, fmt.Sprintf("column '%s' says range balls of %d of %s and new ones of %d, so the kind is left open",
				c.text, of[analysis.RangeBall], plural(n, "ball", "balls"), of[analysis.NewBall]))
		default:
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it says of no ball whether it was a range ball or a new one", c.text))
		}
	}
	return analysis.UnknownBall, decisions
}

// isNumbered reports whether a column has every row's own number.
func (t *table) isNumbered(c *column) bool {
	numbers := *c
	numbers.readNumbers(t.rows)
	return numbers.wholeAndUnique()
}
