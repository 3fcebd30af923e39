package asked

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// A Band is the values of one part that count as done, both included.
type Band struct {
	OK        bool    // the part was asked for
	Implied   bool    // not by a word of its own: a shape that has to come back to the target
	Relative  bool    // to the usual ball, which was seen as this one is
	At        float64 // what is worked back to
	Low, High float64
}

// Holds reports whether a value is done.
func (b Band) Holds(v float64) bool { return b.Low <= v && v <= b.High }

// A Want is a shot at a golfer's own distance with a club: rad for the start, m
// for the rest, right and up positive.
type Want [NumParts]Band

// What the words mean and how near is done (common practice where it is told at
// all, the figures our choice).
const (
	curveOfCarry = 0.035 // a draw's, a few yards of a mid-iron's
	leastCurve   = 4 * analysis.Yard
	curveWide    = 0.35 // of the amount that was asked for
	curveWidest  = 0.02 // of the carry, at least
	leastWide    = 3 * analysis.Yard

	startWord  = 3 * analysis.Degree // "start right"
	startWide  = 1.5 * analysis.Degree
	startShare = 0.3 // of the amount

	heightWord = 0.2 // of the usual apex, "high" and "low"
	heightWide = 0.15
	carryWord  = 0.12 // of the usual carry, "short"
	carryWide  = 0.05
	leastCarry = 4 * analysis.Yard
)

// What no golf shot does.
const (
	mostCurve = 0.4 // of the carry
	mostStart = 30 * analysis.Degree
	mostApex  = 0.8 // of the carry
	mostMore  = 1.15
)

// Of is the shot for a golfer whose usual ball flies like this, at a target of
// this half-width, m. The error, a *analysis.Refusal, says what of it no ball
// does.
func (s Shot) Of(usual ball.Flight, half float64) (w Want, err error) {
	carry := usual.Carry
	if a := s.Asks[Carry]; a.OK {
		if w[Carry], err = s.carry(a, usual.Carry); err != nil {
			return w, err
		}
		carry = w[Carry].At
	}
	if a := s.Asks[Curve]; a.OK {
		if w[Curve], err = s.curve(a, carry); err != nil {
			return w, err
		}
	}
	switch a := s.Asks[Start]; {
	case a.OK:
		if w[Start], err = s.start(a, carry); err != nil {
			return w, err
		}
	case s.Asks[Curve].OK:
		at := -math.Atan2(w[Curve].At, carry)
		wide := max(startWide, math.Atan2(half, carry))
		w[Start] = Band{OK: true, Implied: true, At: at, Low: at - wide, High: at + wide}
	}
	if a := s.Asks[Height]; a.OK {
		if w[Height], err = s.height(a, usual.Apex, carry); err != nil {
			return w, err
		}
	}
	return w, nil
}

func (s Shot) curve(a Ask, carry float64) (Band, error) {
	if a.Side == 0 {
		wide := max(leastWide, curveWidest*carry)
		return Band{OK: true, Low: -wide, High: wide}, nil
	}
	at, low, high := a.Amount, 0.0, 0.0
	if at == 0 {
		at = max(leastCurve, curveOfCarry*carry) * max(1, a.Times)
		low, high = at/3, 2*at
	} else {
		wide := max(leastWide, curveWidest*carry, curveWide*at)
		low, high = max(at-wide, at/4), at+wide
	}
	if at > mostCurve*carry {
		return Band{}, s.never("Ask for at most two fifths of the carry.", "a ball that flies that far does not curve that much.")
	}
	return sided(a.Side, at, low, high), nil
}

func (s Shot) start(a Ask, carry float64) (Band, error) {
	at := a.Amount
	if a.Metres {
		at = math.Atan2(a.Amount, carry)
	}
	if at > mostStart {
		return Band{}, s.never("Ask for at most 30 degrees.", "no shot at a target starts that far from it.")
	}
	switch {
	case a.Side == 0:
		return Band{OK: true, Low: -startWide, High: startWide}, nil
	case at == 0:
		return sided(a.Side, startWord, startWord/3, 2*startWord), nil
	}
	wide := max(startWide, startShare*at)
	return sided(a.Side, at, max(at-wide, at/4), at+wide), nil
}

func (s Shot) height(a Ask, apex, carry float64) (Band, error) {
	if a.Amount > 0 {
		if a.Amount > mostApex*carry {
			return Band{}, s.never("Ask for an apex of at most four fifths of the carry.", "a ball that flies that far does not go that high.")
		}
		wide := max(heightWide*a.Amount, 2*analysis.Yard)
		return Band{OK: true, At: a.Amount, Low: a.Amount - wide, High: a.Amount + wide}, nil
	}
	by := heightWord * float64(a.Side) * apex
	low, high := apex+by/2, apex+3*by
	return Band{OK: true, Relative: true, At: apex + by, Low: min(low, high), High: max(low, high)}, nil
}

func (s Shot) carry(a Ask, usual float64) (Band, error) {
	if a.Amount > 0 {
		if usual > 0 && a.Amount > mostMore*usual {
			return Band{}, s.never("Ask for a carry that the club has, or take another club.", "that is farther than this club goes for this golfer.")
		}
		wide := max(carryWide*a.Amount, leastCarry)
		return Band{OK: true, At: a.Amount, Low: a.Amount - wide, High: a.Amount + wide}, nil
	}
	at := (1 - carryWord) * usual
	return Band{OK: true, Relative: true, At: at, Low: (1 - 2*carryWord) * usual, High: (1 - carryWord/2) * usual}, nil
}

// sided is a band on one side: at, low and high are amounts on it.
func sided(side int, at, low, high float64) Band {
	if side < 0 {
		return Band{OK: true, At: -at, Low: -high, High: -low}
	}
	return Band{OK: true, At: at, Low: low, High: high}
}

func (s Shot) never(hint, format string, args ...any) error {
	return analysis.Refuse(hint, format, args...).In(s.Text).Coded("impossible_shot")
}

// Goal is the flight to work back to; NaN where nothing is asked.
func (w Want) Goal() ball.Flight {
	at := [NumParts]float64{}
	for p, b := range w {
		if at[p] = b.At; !b.OK {
			at[p] = math.NaN()
		}
	}
	return ball.Flight{Start: at[Start], Curve: at[Curve], Apex: at[Height], Carry: at[Carry], Lateral: math.NaN()}
}
