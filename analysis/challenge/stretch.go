package challenge

import (
	"fmt"
	"math"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A Ball is what a challenge knows of one ball. What is neither known nor needed
// is zero.
type Ball struct {
	N              int     // shot number in the session
	Carry, Lateral float64 // m
	Number         float64 // the brief's, SI; face-to-path positive open for either hand
}

// A Stretch is the balls of one entry.
type Stretch struct {
	Balls   []Ball
	Ball    analysis.Ball
	Passed  int // rows passed over: misreads, repeated rows, balls without the number
	Moved   int // balls whose flight was brought from the session's air to standard air
	Mishits int // among Balls, as the pattern of the whole set flags them

	Inferred int // balls of which a number was worked back rather than measured
}

// Take is the first balls of a session that count. Its error is an *analysis.Refusal.
func (t Terms) Take(s analysis.Session) (Stretch, error) {
	st := Stretch{Ball: s.Ball}
	if t.OfTheBall() && s.Ball != t.Ball {
		if s.Ball == analysis.UnknownBall || s.Ball == "" {
			return st, analysis.Refuse("Say it with the option `ball`.", "Distances compare only among balls of one kind, and I do not know what kind these were.")
		}
		return st, analysis.Refuse(fmt.Sprintf("Enter a session hit with %s balls.", t.Ball), "These were %s balls, and this challenge is for %s balls.", s.Ball, t.Ball)
	}
	air := newAirs(s)
	most := (t.Balls + 9) / 10
	for _, shot := range s.Shots {
		if shot.Club != t.Club {
			continue
		}
		if !counts(shot) || !t.measured(shot) {
			st.Passed++
			continue
		}
		b := Ball{N: shot.N}
		b.Carry, _ = shot.Value(analysis.Carry)
		b.Lateral, _ = shot.Value(analysis.Lateral)
		if t.Rule == Brief {
			b.Number, _ = shot.Value(t.Number)
			if t.Number == analysis.FaceToPath {
				b.Number *= s.Hand.Mirror() // open and closed are the golfer's own
			}
		} else if air.bring(shot, &b) {
			st.Moved++
		}
		for _, n := range t.needs() {
			if shot.Inferred(n) {
				st.Inferred++
				break
			}
		}
		if shot.Aside == analysis.Mishit {
			st.Mishits++
		}
		if st.Balls = append(st.Balls, b); len(st.Balls) == t.Balls {
			break
		}
	}
	if n := len(st.Balls); n < t.Balls {
		problem := fmt.Sprintf("That session has %d balls with the %s that can be scored, and this challenge is over %d.", n, t.Club, t.Balls)
		if n == 0 {
			problem = fmt.Sprintf("That session has no ball with the %s that can be scored.", t.Club)
		}
		return st, analysis.Refuse(fmt.Sprintf("Post one with %d or more of them.", t.Balls), "%s", problem)
	}
	if st.Passed > most {
		return st, analysis.Refuse("Post another session.", "Of the first balls %d were misread or not measured, and at most %d may be.", st.Passed, most)
	}
	return st, nil
}

// counts reports whether a row is a ball that was struck.
func counts(s analysis.Shot) bool { return s.Aside == analysis.Used || s.Aside == analysis.Mishit }

func (t Terms) measured(s analysis.Shot) bool {
	for _, n := range t.needs() {
		if !s.Has(n) {
			return false
		}
	}
	return true
}

// airs brings balls flown in a session's own air and wind to standard air
// without wind, by what the flight model makes of their launch in either. Range
// balls stay as they flew: the model's ball is a new one.
type airs struct {
	known         bool
	own, standard flight.Model
}

func newAirs(s analysis.Session) airs {
	c := s.Conditions
	a := airs{known: s.Ball == analysis.NewBall && (c.Temperature != nil || c.Altitude != nil || c.WindSpeed != nil)}
	if a.known {
		a.own, a.standard = flight.Of(c), flight.Standard()
	}
	return a
}

func (a *airs) bring(s analysis.Shot, b *Ball) bool {
	launch, missing := s.Launch()
	if !a.known || len(missing) > 0 || launch.Speed <= 0 {
		return false
	}
	there, here := a.own.Fly(launch), a.standard.Fly(launch)
	b.Carry += here.Carry - there.Carry
	b.Lateral += here.Lateral - there.Lateral
	return true
}

// Same reports whether two stretches share balls: as many as five in a row (all
// of the shorter one, if it has fewer) that agree to what another unit or
// another rounding of the same export leaves, half a metre or a tenth of a
// degree. By chance two people's do in a few pairs of a million, and that only
// where nothing but the lateral is known.
func Same(a, b Stretch) bool {
	const run = 5
	need := min(run, len(a.Balls), len(b.Balls))
	if need == 0 {
		return false
	}
	for i := range a.Balls {
		for j := range b.Balls {
			n := 0
			for i+n < len(a.Balls) && j+n < len(b.Balls) && alike(a.Balls[i+n], b.Balls[j+n]) {
				if n++; n >= need {
					return true
				}
			}
		}
	}
	return false
}

func alike(a, b Ball) bool {
	near := func(x, y, within float64) bool { return math.Abs(x-y) <= within }
	return near(a.Carry, b.Carry, 0.5) && near(a.Lateral, b.Lateral, 0.5) &&
		near(a.Number, b.Number, 0.1*analysis.Degree+0.005*math.Abs(b.Number))
}
