package asked

import (
	"math"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"rangepost/analysis"
)

// Options are what a text does not say.
type Options struct {
	Hand  analysis.Hand  // whose draw it is
	Units analysis.Units // of figures without one
}

const example = "Write it as: draw, fade 5, start 3 right, curve 8 left, apex 20 yd, carry 140, low or short."

// maxText is how many characters a shot may take, maxFigure what no figure of a
// shot reaches in any unit.
const (
	maxText   = 120
	maxFigure = 500
)

// Parse reads a text that asks for a shot. The error, if any, is a
// *analysis.Refusal.
func Parse(text string, o Options) (Shot, error) {
	text = strings.Join(strings.Fields(norm.NFKC.String(text)), " ")
	if len([]rune(text)) > maxText {
		return Shot{}, analysis.Refuse(example, "The text is too long.")
	}
	tokens := tokensOf(text)
	if len(tokens) == 0 {
		return Shot{}, analysis.Refuse(example, "There is nothing to read.")
	}
	for _, t := range tokens {
		if !t.known {
			return Shot{}, analysis.Refuse(example, "%s is not a word I know of a shot.", t.text).In(text).Coded(unknownWord)
		}
	}
	p := parser{o: o, shot: Shot{Text: text}}
	if err := p.read(tokens); err != nil {
		return Shot{}, err
	}
	return p.shot, nil
}

const unknownWord = "unknown_word"

// Label reads the label of a set, which may be a shot or any other. ok says that
// it is one; the error, a *analysis.Refusal, that it is made of the words of a
// shot and does not say which: that has to be asked.
func Label(label string, o Options) (shot Shot, ok bool, err error) {
	shot, err = Parse(label, o)
	if err == nil {
		if count, short := numbering(shot); short {
			return Shot{}, false, analysis.Refuse("Write the unit if it is an amount, as in draw 2 yd, or call the second one draw b.", "%d may be how much, or which of them it is.", count).In(label)
		}
		return shot, true, nil
	}
	refusal, _ := err.(*analysis.Refusal)
	if refusal == nil || refusal.Code == unknownWord || refusal.Piece == "" || !slices.ContainsFunc(tokensOf(label), token.says) {
		return Shot{}, false, nil
	}
	return Shot{}, false, err
}

// numbering reports whether a shot's only figure is a bare 1 or 2, with which
// people number their sets.
func numbering(s Shot) (n int, ok bool) {
	last := s.Text[len(s.Text)-1]
	if last < '1' || last > '2' || len(s.Text) > 1 && strings.ContainsRune("0123456789.,-", rune(s.Text[len(s.Text)-2])) {
		return 0, false
	}
	for p, a := range s.Asks {
		if a.OK && (Part(p) == Start || a.Amount == 0 && a.Side == 0 && Part(p) != Curve) {
			return 0, false
		}
	}
	return int(last - '0'), true
}

// A head is a word that says which part what stands around it is of.
type head struct {
	token
	amount *token
	unit   string
	side   *token
}

func (h *head) takesAmount() bool {
	switch h.word.kind {
	case shape:
		return h.word.side != 0
	case start, curve, apex, carry:
		return true
	}
	return false
}

func (h *head) takesSide() bool {
	return h.word.kind == start || h.word.kind == curve || h.word.kind == shape
}

type parser struct {
	o    Options
	shot Shot

	heads []head
	loose []token // figures, units and sides before the head they are of
}

// read goes through the tokens once: a figure, a unit or a side belongs to the
// head before it where that has none yet, else to the next.
func (p *parser) read(tokens []token) error {
	for _, t := range tokens {
		if t.number {
			if h := p.last(); h == nil || !h.takesAmount() || h.amount != nil {
				p.loose = append(p.loose, t)
			} else {
				h.amount = &t
			}
			continue
		}
		switch t.word.kind {
		case filler:
		case joiner:
			p.attach()
			p.heads = append(p.heads, head{token: t}) // what follows is of the next head first
		case unit:
			h := p.last()
			switch {
			case len(p.loose) > 0 && p.loose[len(p.loose)-1].number:
				p.loose[len(p.loose)-1].unit = t.word.unit
			case h != nil && h.amount != nil && h.unit == "":
				h.unit = t.word.unit
			default:
				return p.wrong("Put the unit behind its figure.", "%s has no figure before it.", t.text)
			}
		case side:
			if h := p.last(); h == nil || !h.takesSide() || h.side != nil || len(p.loose) > 0 {
				p.loose = append(p.loose, t)
			} else {
				h.side = &t
			}
		default:
			h := head{token: t}
			for _, l := range p.loose {
				switch {
				case l.number && h.takesAmount() && h.amount == nil:
					h.amount, h.unit = &l, l.unit
				case !l.number && h.takesSide() && h.side == nil:
					h.side = &l
				default:
					return p.unclear(l)
				}
			}
			p.loose = nil
			p.heads = append(p.heads, h)
		}
	}
	if p.attach(); len(p.loose) > 0 {
		return p.unclear(p.loose[0])
	}
	for i := range p.heads {
		if err := p.take(&p.heads[i]); err != nil {
			return err
		}
	}
	asks := false
	for _, a := range p.shot.Asks {
		asks = asks || a.OK
	}
	if !asks {
		return p.wrong(example, "it does not say which shot.")
	}
	return nil
}

func (p *parser) last() *head {
	if len(p.heads) == 0 || p.heads[len(p.heads)-1].word.kind == joiner {
		return nil
	}
	return &p.heads[len(p.heads)-1]
}

// attach gives what is left loose to the last head that it fits.
func (p *parser) attach() {
	var left []token
	for _, l := range p.loose {
		fits := false
		for i := len(p.heads) - 1; i >= 0 && !fits; i-- {
			h := &p.heads[i]
			switch {
			case l.number && h.takesAmount() && h.amount == nil:
				h.amount, h.unit, fits = &l, l.unit, true
			case !l.number && h.takesSide() && h.side == nil:
				h.side, fits = &l, true
			}
		}
		if !fits {
			left = append(left, l)
		}
	}
	p.loose = left
}

func (p *parser) wrong(hint, format string, args ...any) error {
	return analysis.Refuse(hint, format, args...).In(p.shot.Text)
}

func (p *parser) unclear(t token) error {
	return p.wrong("Say what it is of: start 3 right, curve 8 left, apex 20 yd or carry 140.", "%s may be of the start, the curve, the height or the carry.", t.text)
}

// take puts what a head asks for into the shot.
func (p *parser) take(h *head) error {
	if h.word.kind == joiner {
		return nil
	}
	a, part := Ask{OK: true, Times: h.word.times}, Curve
	side := 0
	if h.side != nil {
		side = h.side.word.side
	}
	switch h.word.kind {
	case shape:
		a.Side = h.word.side
		if p.o.Hand == analysis.LeftHanded {
			a.Side = -a.Side
		}
		if h.side != nil && side != a.Side {
			return p.wrong("Say start and curve apart: start 3 right, curve 8 left.", "%s and %s do not go together.", h.text, h.side.text)
		}
	case start:
		part, a.Side = Start, side
	case curve:
		a.Side = side
	case apex:
		part = Height
	case carry:
		part = Carry
	case height:
		part, a.Side = Height, h.word.side
	case short:
		part, a.Side = Carry, -1
	}
	if h.amount != nil {
		if err := p.amount(h, part, &a); err != nil {
			return err
		}
	}
	switch {
	case (h.word.kind == apex || h.word.kind == carry) && a.Amount == 0:
		return p.wrong("Write it as apex 20 yd or carry 140.", "%s needs a figure.", h.text)
	case (h.word.kind == curve || h.word.kind == start) && a.Side == 0 && (a.Amount > 0 || h.side == nil):
		return p.wrong("Say left or right: start 3 right, curve 8 left.", "%s does not say which side.", h.text)
	case p.shot.Asks[part].OK:
		return p.wrong("Ask for one thing of each.", "%s says it a second time.", h.text)
	}
	p.shot.Asks[part] = a
	return nil
}

// amount is the figure of a head, in SI.
func (p *parser) amount(h *head, part Part, a *Ask) error {
	v := h.amount.value
	if v < 0 && (part == Start || h.word.kind == curve) && h.side == nil {
		a.Side, v = -1, -v
	}
	if !(v > 0) || v > maxFigure {
		return p.wrong(example, "%s is no amount of that.", h.amount.text)
	}
	scale := analysis.Yard
	if p.o.Units.Distance == analysis.Metres {
		scale = 1
	}
	switch unit := h.unit; {
	case part == Start && (unit == "" || unit == "deg"):
		scale = analysis.Degree
	case unit == "deg":
		return p.wrong("Write how many yards or metres.", "degrees do not measure that.")
	case unit == "yd":
		scale = analysis.Yard
	case unit == "m":
		scale = 1
	case unit == "ft":
		scale = analysis.Yard / 3
	}
	a.Metres = part == Start && h.unit != "" && h.unit != "deg"
	a.Amount = math.Abs(v) * scale
	return nil
}
