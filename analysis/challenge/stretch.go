package challenge

import (
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/integrity"
	"rangepost/analysis/stat"
)

// A Ball is what a challenge knows of one ball. What is neither known nor needed
// is zero.
type Ball struct {
	N              int     // shot number in its session
	Session        int     // which of the sessions, 0 for the first
	Unmeasured     bool    // misread, not measured, or missing in the numbering: the rest is zero
	Carry, Lateral float64 // m
	Number         float64 // the brief's, SI; sideways ones positive open, in to out and away for either hand
}

// A Stretch is the balls of one entry.
type Stretch struct {
	Balls   []Ball
	Ball    analysis.Ball
	Least   float64 // the floor it was held to, m
	Passed  int     // among Balls those without a figure
	Moved   int     // balls whose flight was brought from the session's air to standard air
	Mishits int     // among Balls, as the pattern of the whole set flags them

	Twice    int // among Passed those that are another over again
	Flown    int // balls that count where they started and curved to, which does not go with the file's figures
	Inferred int // balls of which a number was worked back rather than measured
	Strays   int // balls of another club, each alone between balls that count
	Bare     int // sessions passed over of which a needed number was not measured at all

	// Of an announced session with half shots: how many were drawn, how many of these the
	// file shows, and how many it plainly shows as full shots; and how many other balls
	// are as short as the drawn ones. Apart are the balls that stand for the drawn ones,
	// which are not among Balls.
	Drawn, Shown, Short, Full, OtherHalf int
	HalfShots                            int // besides the drawn ones
	Apart                                []Ball

	hit int // places so far, Balls and drawn ones
}

// MostPassed is how many balls of so many may have no figure before somebody
// should look: a device that loses one in twenty loses more in one stretch of
// ten out of ninety.
func MostPassed(balls int) int { return (balls + 4) / 5 }

// leastBare is how many balls without a number are a session that was meant.
const leastBare = 5

// Take is the first balls that count, of sessions in the order they were
// posted. Stopping early gains nothing: the next session goes on from there.
// Nor does leaving a figure out, or a row: a ball of the club that has no
// figure, that is missing in the file's own numbering, or that is another over
// again, holds its place and counts a little beyond the worst of the others. least is the player's own floor, m, 0 if
// it is not known. Its error is an *analysis.Refusal.
func (t Terms) Take(least float64, sessions ...analysis.Session) (Stretch, error) {
	st := Stretch{Ball: t.Ball, Least: least}
	if t.Dispersion() {
		st.Least = max(least, t.Least)
	}
	st.Drawn = len(t.draw)
	var why error
	var bare []int // sessions passed over
	for i, s := range sessions {
		if len(st.Balls) == t.Balls {
			break
		}
		bare = slices.DeleteFunc(bare, func(k int) bool { return exportedAnew(sessions[k].Shots, s.Shots) })
		s.Shots = beyond(s.Shots, sessions[:i])
		if err := t.takeWorse(&st, i, s); err != nil {
			why = err
		}
		if st.Bare > 0 {
			st.Bare, bare = 0, append(bare, i)
		}
	}
	st.Bare = len(bare)
	n := len(st.Balls)
	switch {
	case n == t.Balls:
		return st, nil
	case n == 0 && why != nil:
		return st, why
	case n == 0 && clubless(sessions):
		return st, analysis.Refuse("Hand the same balls over again with their club: with `/post`, option `club`, or at the start of each row.",
			"Your session names no club, so none of its balls counts with the %s.", t.Club)
	case n == 0:
		return st, analysis.Refuse(fmt.Sprintf("Post one with %d or more of them.", t.Balls), "That session has no ball with the %s that can be scored.", t.Club)
	}
	besides := ""
	if len(t.draw) > 0 {
		besides = ", the drawn ones apart"
	}
	return st, analysis.Refuse("Post more of them: the first ones after these count with these.",
		"So far you have %d balls with the %s that can be scored%s, and this challenge is over %d.", n, t.Club, besides, t.Balls)
}

// clubless reports whether no ball of any session has a club.
func clubless(sessions []analysis.Session) bool {
	for _, s := range sessions {
		if slices.ContainsFunc(s.Shots, func(shot analysis.Shot) bool { return !shot.Club.Unknown() }) {
			return false
		}
	}
	return len(sessions) > 0
}

// beyond are the balls of a file that were not in one posted before: whoever posts a
// part of their balls, and then all of them, hit each once.
func beyond(shots []analysis.Shot, before []analysis.Session) []analysis.Shot {
	const least = 3 // fewer may be alike by chance
	for _, b := range before {
		if n := len(b.Shots); n >= least && len(shots) >= n && analysis.SameBalls(shots[:n], b.Shots) {
			shots = shots[n:]
		}
	}
	return shots
}

// takeWorse takes what counts of one session. Where its figures do not hang together
// by the flight they are taken as they stand or as the launches give them, whichever
// is worse: whoever changed one of the two gains nothing by it, even if a host
// lets the entry count.
func (t Terms) takeWorse(st *Stretch, at int, s analysis.Session) error {
	before := *st
	if err := t.takeOf(st, at, s); err != nil || !t.OfTheBall() || t.Rule == Brief || t.Rule == OnRequest {
		return err
	}
	flown, off := integrity.Flown(s)
	if len(off) == 0 {
		return nil
	}
	aside := slices.ContainsFunc(off, func(w analysis.Warning) bool { return w.Code == integrity.SideOff })
	for i, shot := range flown.Shots {
		if v, ok := shot.Value(analysis.Lateral); ok && aside {
			flown.Shots[i] = shot.With(analysis.Lateral, furtherOut*v)
		}
	}
	other := before
	other.Balls = slices.Clone(before.Balls)
	if t.takeOf(&other, at, flown) == nil && t.worth(st.Balls[len(before.Balls):]) < t.worth(other.Balls[len(before.Balls):]) {
		*st = other
		st.Flown += len(other.Balls) - len(before.Balls)
	}
	return nil
}

// furtherOut is how much further out than the model flies them balls count whose
// sideways figures do not hang together: other worlds' lie 6 % wider than the model's, with
// some in hand.
const furtherOut = 1.1

// worth is how badly some balls went, whatever there was before.
func (t Terms) worth(balls []Ball) float64 {
	return t.badness(t.Score(Stretch{Balls: balls}, Past{Balls: Window, Mean: 1, Variance: 1}))
}

// takeOf takes what counts of one session. Its error says why nothing does.
func (t Terms) takeOf(st *Stretch, at int, s analysis.Session) error {
	var balls, apart []Ball
	twins := integrity.Twins(s)
	var inferred, mishits, moved, twice, withFigure int
	air := newAirs(s)
	room := t.Balls - len(st.Balls)
	places := t.places(s, room+len(t.draw))
	var drawn drawing
	if len(t.draw) > 0 {
		told, ok := lengths(s, places)
		if !ok && len(places) >= leastTold+HalfShots {
			return analysis.Refuse("Export it with club speed, ball speed or carry.", "That session's file does not say how far or how fast its balls went, so it cannot show the half shots that were drawn.")
		}
		drawn = t.drawnAmong(told, st.hit)
	}
	hit := 0
	for i, p := range places {
		if len(balls) == room {
			break
		}
		hit++
		if slices.Contains(drawn.at, i) {
			apart = append(apart, seen(s, p, at))
			continue
		}
		if p.row < 0 {
			balls = append(balls, Ball{N: p.n, Session: at, Unmeasured: true})
			continue
		}
		shot := s.Shots[p.row]
		b := Ball{N: shot.N, Session: at}
		_, twin := slices.BinarySearch(twins, p.row)
		if twin || !counts(shot) || !t.measured(shot) {
			if b.Unmeasured = true; twin {
				twice++
			}
			balls = append(balls, b)
			continue
		}
		withFigure++
		b.Carry, _ = shot.Value(analysis.Carry)
		b.Lateral, _ = shot.Value(analysis.Lateral)
		if t.Rule == Brief || t.Rule == OnRequest {
			b.Number, _ = shot.Value(t.Number)
			if t.Number.Info().Sideways {
				b.Number *= s.Hand.Mirror() // a brief is in the golfer's own hand
			}
		} else if air.bring(shot, &b) {
			moved++
		}
		if slices.ContainsFunc(t.needs(), shot.Inferred) {
			inferred++
		}
		if shot.Aside == analysis.Mishit {
			mishits++
		}
		balls = append(balls, b)
	}
	switch {
	case len(balls) == 0:
		return nil
	case t.OfTheBall() && s.Ball != t.Ball && (s.Ball == analysis.UnknownBall || s.Ball == ""):
		return analysis.Refuse("Say it with the option `ball`.", "Distances compare only among balls of one kind, and I do not know what kind these were.")
	case t.OfTheBall() && s.Ball != t.Ball:
		return analysis.Refuse(fmt.Sprintf("Enter a session hit with %s balls.", t.Ball), "These were %s balls, and this challenge is for %s balls.", s.Ball, t.Ball)
	case withFigure == 0:
		if len(balls) >= min(leastBare, t.Balls) {
			st.Bare++
		}
		return t.bare(s.Shots)
	case t.Dispersion() && middleCarry(balls) < st.Least:
		return analysis.Refuse("Full shots count.", "That session's balls with the %s stayed short of the least carry of this challenge, so it is taken for other practice.", t.Club)
	}
	for _, b := range balls {
		if b.Unmeasured {
			st.Passed++
		}
	}
	st.Balls = append(st.Balls, balls...)
	st.Strays += t.strays(s, places[:hit])
	st.Apart = append(slices.Clip(st.Apart), apart...)
	st.hit, st.OtherHalf = st.hit+hit, st.OtherHalf+drawn.other
	st.HalfShots += drawn.half
	st.Shown, st.Short, st.Full = st.Shown+drawn.shown, st.Short+drawn.short, st.Full+drawn.full
	st.Inferred, st.Mishits, st.Moved, st.Twice = st.Inferred+inferred, st.Mishits+mishits, st.Moved+moved, st.Twice+twice
	return nil
}

// strays counts the balls of other clubs that stand alone between two of some places:
// whoever calls their worst another club's leaves such a trail. Where balls of the club
// come one by one throughout, its player took turns.
func (t Terms) strays(s analysis.Session, places []place) (n int) {
	together := false
	last := -1 // row of the place before
	for _, p := range places {
		if p.row < 0 {
			continue
		}
		if last >= 0 {
			switch p.row - last {
			case 1:
				together = true
			case 2:
				if s.Shots[last+1].Club != t.Club {
					n++
				}
			}
		}
		last = p.row
	}
	if !together {
		return 0
	}
	return n
}

func listed(ns []analysis.Number) string {
	var names []string
	for _, n := range ns {
		names = append(names, n.String())
	}
	return strings.Join(names, " or ")
}

func middleCarry(balls []Ball) float64 {
	var carries []float64
	for _, b := range balls {
		if !b.Unmeasured {
			carries = append(carries, b.Carry)
		}
	}
	middle, _ := stat.Median(carries)
	return middle
}

// counts reports whether a row is a ball that was struck.
func counts(s analysis.Shot) bool { return s.Aside == analysis.Used || s.Aside == analysis.Mishit }

func (t Terms) measured(s analysis.Shot) bool {
	for _, n := range t.needs() {
		if !s.Has(n) || s.Inferred(n) && !t.Inferred {
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
