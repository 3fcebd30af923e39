package challenge

import (
	"math/rand/v2"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A file cannot tell when it was hit, nor what was hit and never posted. So a player
// who announces a session may be told two of its balls, drawn by then and not before,
// to hit as half shots, and a time that one session takes and not five. A session that
// was hit before cannot hold them, whatever its date says. They do not count.
//
// Among five equals over ten balls, narrow and nearest, 500 contests each, times a fair
// share (TestDrawnBallsEndTheBestOfFive -drawn 500): the best of five leads 2.6 to 2.8
// times without them. With them what fits into the time leads 1.0, a session of before
// waits for a host in 99 %, and five of before with three half shots each, at places
// that are guessed, lead 0.5 to 1.1. A host who lets in whatever waits has the best of
// five back. An honest session waits for them in 0.4 %.

// HalfShots is how many balls are drawn: by chance one session in 15 of ten balls has
// its only two half shots where they pass for another draw's.
const HalfShots = 2

// HalfOfUsual is how far a half shot is asked to carry at most, as a share of the
// usual carry.
const HalfOfUsual = 0.5

// For returns the terms as they are for a player of whose announced session the balls
// at some places were drawn, in order and from 1 on; for none they stay as they are.
func (t Terms) For(draw []int) Terms {
	t.draw = draw
	return t
}

// Draw draws the places by a seed: neither the first ball nor the last, so that other
// balls stand on either side.
func (t Terms) Draw(seed uint64) []int {
	draw := rand.New(rand.NewPCG(seed, HalfShots)).Perm(t.Balls)[:HalfShots]
	for i := range draw {
		draw[i] += 2
	}
	slices.Sort(draw)
	return draw
}

// PostedWithin is how long after it was announced a session has to be posted: a day
// where nothing is drawn. Otherwise it is what the host said, or what usual takes: 45
// seconds a ball, and eight minutes to begin and to post (common practice, no source).
func (t Terms) PostedWithin() time.Duration {
	switch {
	case !t.Drawn:
		return 24 * time.Hour
	case t.Minutes > 0:
		return time.Duration(t.Minutes) * time.Minute
	}
	return (8*time.Minute + time.Duration(t.Balls+HalfShots)*45*time.Second).Round(time.Minute)
}

// MostMinutes is the most that a host may give.
const MostMinutes = 24 * 60

// halfUnder are the numbers that show a half shot, the best first, with the share of
// the player's usual one under which it is one. A thinned full shot keeps its club
// speed, most of its ball speed, and little of its carry.
var halfUnder = []struct {
	number analysis.Number
	share  float64
}{{analysis.ClubSpeed, 0.85}, {analysis.BallSpeed, 0.80}, {analysis.Carry, 0.70}}

// leastTold is how many other balls tell what is usual.
const leastTold = 3

// A place is where a ball of the club stands in a session: its shot number and its row,
// -1 where the file's own numbering says that one is missing.
type place struct{ n, row int }

// places are the first of a session, at most so many.
func (t Terms) places(s analysis.Session, most int) (all []place) {
	for i, shot := range s.Shots {
		if shot.Club != t.Club || shot.Aside == analysis.Duplicate {
			continue
		}
		if i > 0 && s.Shots[i-1].Club == t.Club {
			for n := s.Shots[i-1].N + 1; n < shot.N && len(all) < most; n++ {
				all = append(all, place{n, -1})
			}
		}
		if len(all) == most {
			break
		}
		all = append(all, place{shot.N, i})
	}
	return all
}

// seen is the ball of a place, with how far it carried.
func seen(s analysis.Session, p place, session int) Ball {
	b := Ball{N: p.n, Session: session, Unmeasured: true}
	if p.row >= 0 && s.Shots[p.row].Has(analysis.Carry) {
		b.Unmeasured = false
		b.Carry, _ = s.Shots[p.row].Value(analysis.Carry)
	}
	return b
}

// A finish is how a place looks beside the others.
type finish int

const (
	unseen finish = iota // no row, or no figure to tell it by
	full
	half
)

// halves tells half shots from full ones among some places, by the best number that
// most of them have.
func halves(s analysis.Session, places []place) []finish {
	told := make([]finish, len(places))
	for _, by := range halfUnder {
		var values []float64
		for _, p := range places {
			if p.row >= 0 && s.Shots[p.row].Has(by.number) {
				v, _ := s.Shots[p.row].Value(by.number)
				values = append(values, v)
			}
		}
		if len(values) < leastTold+HalfShots || 2*len(values) < len(places) {
			continue
		}
		usual, _ := stat.Median(values)
		for i, p := range places {
			if p.row < 0 || !s.Shots[p.row].Has(by.number) {
				continue
			}
			told[i] = full
			if v, _ := s.Shots[p.row].Value(by.number); v < by.share*usual {
				told[i] = half
			}
		}
		return told
	}
	return told
}

// drawnAmong are those of some places, by index, that stand for the drawn balls, after
// so many places in sessions before; shown is how many of these the file shows as half
// shots. A device that lost a ball without a gap in its numbering has the later ones a
// place early, so where they are not where they should be they may be there. One that
// has no figure may be any, if the other shows.
func (t Terms) drawnAmong(told []finish, before int) (at []int, shown int) {
	best := -1
	for lost := range 1 << len(t.draw) { // which of them are a place early
		var here []int
		n, order := 0, true
		for k, d := range t.draw {
			i := d - 1 - before - lost>>k&1
			if k > 0 && lost>>(k-1)&1 > lost>>k&1 {
				order = false // what was lost stays lost
			}
			if i < 0 || i >= len(told) {
				continue
			}
			here = append(here, i)
			if told[i] == half {
				n++
			}
		}
		if order && n > best {
			best, at = n, here
		}
	}
	shown = max(best, 0)
	if shown > 0 {
		for _, i := range at {
			if told[i] == unseen {
				shown++
			}
		}
	}
	return at, shown
}
