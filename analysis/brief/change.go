package brief

import (
	"strings"

	"rangepost/analysis"
)

// A Change is how far one number is to move, SI, signed as the number is.
type Change struct {
	Number analysis.Number
	By     float64
}

// turns are words for which way a number without sides goes, and for more of a
// side.
var turns = map[string]float64{"more": 1, "higher": 1, "faster": 1, "extra": 1, "less": -1, "fewer": -1, "lower": -1, "slower": -1, "further": 0, "farther": 0}

const exampleChange = "Write it as: face 2 left, path 3 right, 4 less loft."

// Changes reads a text that says how numbers are to move,
//
//	face 2 left, path 3 right, 4 less loft
//
// a number, a figure and which way, in any order; a figure with a sign needs no
// word. The error, if any, is an *analysis.Refusal.
func Changes(text string, o Options) ([]Change, error) {
	if len([]rune(text)) > maxText {
		return nil, analysis.Refuse(exampleChange, "The text is too long.")
	}
	var all []Change
	seen := map[analysis.Number]bool{}
	for _, piece := range split(strings.ReplaceAll(text, " and ", ", ")) {
		p := &parser{o: o, typed: piece, rest: tokens(piece)}
		c, err := p.change()
		if err != nil {
			return nil, err
		}
		if seen[c.Number] {
			return nil, wrong(piece, "Say each once.", "the %s is there already.", c.Number)
		}
		seen[c.Number] = true
		all = append(all, c)
	}
	if len(all) == 0 {
		return nil, analysis.Refuse(exampleChange, "There is nothing to read.")
	}
	return all, nil
}

// change reads a piece.
func (p *parser) change() (c Change, err error) {
	var v value
	way := 0.0
	for len(p.rest) > 0 {
		word := p.rest[0].text
		turn, turns := turns[word]
		if turns {
			p.rest = p.rest[1:]
			way += turn
			continue
		}
		if found, err := p.number(); found || err != nil {
			if err != nil {
				return c, err
			}
			continue
		}
		if isSide[word] && v.side == "" {
			v.side, p.rest = word, p.rest[1:]
			continue
		}
		if x, ok := p.value(); ok && !v.typed && !x.middle {
			if x.side == "" {
				x.side = v.side
			}
			v = x
			continue
		}
		if len(p.rest) > 0 && fillers[p.rest[0].text] {
			p.rest = p.rest[1:]
			continue
		}
		return c, wrong(p.typed, exampleChange, "I do not understand '%s' there.", word)
	}
	switch n := p.b.Number; {
	case !p.named:
		return c, wrong(p.typed, exampleChange, "which number is it about?")
	case !v.typed:
		return c, wrong(p.typed, exampleChange, "by how much?")
	case v.side == "" && v.sign == 0 && way == 0:
		lower, higher := n.Changes(p.o.Hand)
		return c, wrong(p.typed, "Add it: "+lower+" or "+higher+".", "%s which way?", trim(v.figure))
	case v.side != "":
		if v.figure, err = p.si(v); err != nil {
			return c, err
		}
		if way < 0 {
			v.figure = -v.figure
		}
	default:
		sign := v.sign
		if sign == 0 {
			sign = way
		}
		if v.figure, err = p.amount(v); err != nil {
			return c, err
		}
		v.figure *= sign
	}
	return Change{p.b.Number, v.figure}, nil
}
