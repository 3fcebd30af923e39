package brief

import (
	"math"
	"strings"
)

// limits are bounds as typed: what they mean may depend on a number that is
// named later.
type limits struct {
	kind  kind
	a, b  value
	side  string // of noFurther
	typed string
}

type kind uint8

const (
	within    kind = iota // a either side of b
	between               // a to b
	atLeast               // a
	atMost                // a
	noFurther             // no more to side than a
)

// A value is a figure as typed.
type value struct {
	figure float64 // never negative
	sign   float64 // -1 or 1 if a sign was typed, else 0
	unit   string
	side   string
	typed  bool // there is one; what is not typed is the middle
	middle bool // "square", "level": none of either side
}

// signed is a value beside one with a sign: without one of its own, or a side,
// it is positive.
func (v value) signed() value {
	if v.sign == 0 && v.side == "" {
		v.sign = 1
	}
	return v
}

// bounds reads limits.
func (p *parser) bounds() (bool, error) {
	l, ok, err := p.readLimits()
	if !ok || err != nil {
		return false, err
	}
	l.typed = p.typed
	if p.limits != nil {
		return false, wrong(p.typed, "Say the limits once, as in: face between 1 left and 2 right.", "there are limits already.")
	}
	p.limits = &l
	return true, nil
}

func (p *parser) readLimits() (l limits, ok bool, err error) {
	need := func(k kind) (limits, bool, error) {
		v, ok := p.value()
		if !ok {
			return l, false, wrong(p.typed, "Put a figure there, as in: within 2.", "there is no figure.")
		}
		return limits{kind: k, a: v}, true, nil
	}
	switch {
	case p.any("within", "inside"):
		if l, ok, err = need(within); err != nil {
			return l, ok, err
		}
		if p.word("of") {
			if l.b, ok = p.value(); !ok {
				return l, false, wrong(p.typed, "Write what it is to be within, as in: within 5 yards of 150.", "within %g of what?", l.a.figure)
			}
		}
		return l, true, nil
	case p.any("between", "from"):
		l.kind = between
		if l.a, ok = p.value(); !ok || !p.any("and", "to", "-") {
			return l, false, wrong(p.typed, "Write both ends, as in: between 1 left and 2 right.", "there are no two figures.")
		}
		if l.b, ok = p.value(); !ok {
			return l, false, wrong(p.typed, "Write both ends, as in: between 1 left and 2 right.", "there is no second figure.")
		}
		return l, true, nil
	case p.any("at least", "no less than", "not less than", "not under", "more than", "minimum", "min", "over", "above"):
		return need(atLeast)
	case p.any("at most", "no more than", "not more than", "not over", "less than", "maximum", "max", "under", "below", "up to"):
		return need(atMost)
	}
	before := p.rest
	if p.any("no further", "no more", "no nearer", "not nearer", "not further", "not more", "no", "not") {
		p.any("to the", "toward the", "towards the", "the")
		side := p.next(0).text
		if isSide[side] {
			p.rest = p.rest[1:]
			if !p.word("than") {
				return l, false, wrong(p.typed, "Write how far, as in: no further left than 2.", "no further %s than what?", side)
			}
			l, ok, err = need(noFurther)
			l.side = side
			return l, ok, err
		}
		p.rest = before
	}
	l.kind = between
	if l.a, ok = p.value(); !ok {
		p.rest = before
		return l, false, nil
	}
	switch {
	case p.any("or more", "or over", "plus", "+"):
		l.kind = atLeast
		return l, true, nil
	case p.any("or less", "or under"):
		l.kind = atMost
		return l, true, nil
	}
	if p.any("to", "and", "-") {
		if l.b, ok = p.value(); ok {
			return l, true, nil
		}
	}
	if l.a.unit == "" && l.a.side == "" && !l.a.middle {
		p.rest = before // the number of a club, perhaps
		return l, false, nil
	}
	return l, false, wrong(p.typed, "Say how near is near enough, as in: within 1 of it.", "no ball has one exact value.")
}

// middles are words for a value on neither side.
var middles = []string{"square", "straight", "level", "zero", "in the middle", "the middle", "middle", "not tilted", "on the target line", "on line", "the target", "target"}

// value reads a value, with its unit and side if they are there.
func (p *parser) value() (v value, ok bool) {
	before := p.rest
	if p.any(middles...) {
		p.tail()
		return value{typed: true, middle: true}, true
	}
	switch {
	case p.any("-", "minus"):
		v.sign = -1
	case p.any("+", "plus"):
		v.sign = 1
	}
	if !p.next(0).figure || p.ballsNext() {
		p.rest = before
		return v, false
	}
	v.figure, v.typed = p.rest[0].value, true
	p.rest = p.rest[1:]
	if _, known := units[p.next(0).text]; known {
		v.unit = p.rest[0].text
		p.rest = p.rest[1:]
	}
	after := p.rest
	p.any("to the", "toward the", "towards the", "too")
	if isSide[p.next(0).text] {
		v.side = p.rest[0].text
		p.rest = p.rest[1:]
		p.tail()
	} else {
		p.rest = after
	}
	return v, true
}

func (p *parser) ballsNext() bool {
	return p.next(0).figure && strings.HasPrefix(p.next(1).text, "ball")
}

// tail takes what people add to a side.
func (p *parser) tail() {
	p.any("of the target line", "of the target", "of target", "of line", "of square", "to the path", "to path", "to the target line", "to the target", "at the target")
}

// settle turns the limits into SI, now that the number is known.
func (p *parser) settle() error {
	l := p.limits
	n := p.b.Number
	p.typed = l.typed
	// A unit or a side said once goes for both ends.
	if l.a.unit == "" {
		l.a.unit = l.b.unit
	}
	if l.b.unit == "" {
		l.b.unit = l.a.unit
	}
	if l.kind == between && l.a.side == "" && l.a.sign == 0 && !l.a.middle {
		l.a.side = l.b.side
	}
	if l.kind == between && (l.a.sign != 0 || l.b.sign != 0) {
		l.a, l.b = l.a.signed(), l.b.signed()
	}
	two := sided(n) != nil
	var low, high float64
	switch l.kind {
	case within:
		switch {
		case l.a.side != "" || l.a.sign < 0 || l.a.middle:
			return wrong(l.typed, "Write it as: within 2, or within 2 of 1 left.", "within means to either side.")
		case !two && !l.b.typed:
			return wrong(l.typed, "Write it as: within 5 of 150, or between 145 and 155.", "within %g of what? The %s has no middle of its own.", l.a.figure, n)
		}
		about, err := p.amount(l.a)
		if err != nil {
			return err
		}
		middle := 0.0
		if l.b.typed {
			if middle, err = p.si(l.b); err != nil {
				return err
			}
		}
		low, high = middle-about, middle+about
		p.b.Low, p.b.High = &low, &high
		return p.check(low, high)
	case between:
		var err error
		if low, err = p.si(l.a); err != nil {
			return err
		}
		if high, err = p.si(l.b); err != nil {
			return err
		}
		if low > high {
			low, high = high, low
		}
		if low == high {
			return wrong(l.typed, "Leave some room between the two.", "both ends are the same.")
		}
		p.b.Low, p.b.High = &low, &high
		return p.check(low, high)
	case noFurther:
		s, known := sign(n, p.o.Hand, l.side)
		if !known {
			return p.strange(l.side)
		}
		if l.a.side == "" && l.a.sign == 0 {
			l.a.side = l.side
		}
		v, err := p.si(l.a)
		if err != nil {
			return err
		}
		if s < 0 {
			p.b.Low = &v
		} else {
			p.b.High = &v
		}
		return p.check(v, v)
	}
	v, err := p.si(l.a)
	if err != nil {
		return err
	}
	up := l.kind == atLeast
	if l.a.side != "" && v < 0 {
		up = !up // the amount on that side
	}
	if up {
		p.b.Low = &v
	} else {
		p.b.High = &v
	}
	return p.check(v, v)
}

// si is a value with its sign, SI.
func (p *parser) si(v value) (float64, error) {
	x, err := p.amount(v)
	if err != nil {
		return 0, err
	}
	n := p.b.Number
	switch ways := sided(n); {
	case v.side != "":
		s, known := sign(n, p.o.Hand, v.side)
		if !known {
			return 0, p.strange(v.side)
		}
		return s*x + 0, nil // no minus in front of nothing
	case v.sign != 0:
		return v.sign * x, nil
	case ways != nil && x != 0:
		return 0, wrong(p.typed, "Add the side, as in: between 1 "+ways[0].Word+" and 2 "+ways[1].Word+". For both sides write: within "+trim(v.figure)+".",
			"%s which way, %s or %s?", trim(v.figure), ways[0].Word, ways[1].Word)
	}
	return x, nil
}

func (p *parser) strange(side string) error {
	n := p.b.Number
	ways := sided(n)
	if ways == nil {
		return wrong(p.typed, "Leave it out.", "the %s has no '%s'.", n, side)
	}
	return wrong(p.typed, "Say "+ways[0].Word+" or "+ways[1].Word+".", "the %s has no '%s'.", n, side)
}

// amount is a value without its sign, SI.
func (p *parser) amount(v value) (float64, error) {
	k := p.b.Number.Info().Kind
	si, name := p.o.unitOf(k)
	if v.unit != "" {
		u := units[v.unit]
		if u.kind != k {
			return 0, wrong(p.typed, "Leave the unit out or write "+name+".", "the %s is not measured in %s.", p.b.Number, v.unit)
		}
		si = u.si
	}
	return v.figure * si, nil
}

// check refuses what nobody hits.
func (p *parser) check(low, high float64) error {
	n := p.b.Number
	info := n.Info()
	if top := max(-info.Least, info.Most); math.Abs(low) > top || math.Abs(high) > top {
		return wrong(p.limits.typed, "Check the figure and its unit.", "no ball has such a %s.", n)
	}
	if info.Least >= 0 && low < 0 {
		return wrong(p.limits.typed, "Check the figure and its sign.", "the %s is never below nothing.", n)
	}
	return nil
}
