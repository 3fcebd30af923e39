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
// A session with full shots plainly in their places, or that comes late, does not count,
// whatever a host does; one in doubt waits. Among five equals over ten balls the best of
// five leads 2.8 to 2.9 times its share without them, narrow and nearest. With them, where
// a host lets in whatever waits, it leads 0 late, 0.1 redated, 1.1 to 1.3 of what fits
// into the time, 0.4 to 1.5 with half shots at places that are guessed, and 1.3 to 1.4 as
// the better of two days; it wins 1.04 times its share at most (200 contests each, standard
// error of a lead 0.14: TestDrawnBallsEndTheBestOfFive -drawn 200, testdata/year-study.md).
//
// The better of two days is what choosing gives, whatever is in the files: somebody who
// gives a day up when its score is worse than a place M among their own, from 0 to 1,
// leads among five equals 1 + M - M^5 times their share, 1.42 where M is the middle of
// five sessions of theirs, Beta(3, 3) [C]. Whoever only lost a file would pay for any
// handicap that takes that away, so it is left to the host, who is told to ask.

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

// Grace is how much later a session with drawn half shots still waits for a host, who
// may know why: a tenth of the time, which is enough to find a signal and not to hit
// another. Later it does not count.
func (t Terms) Grace() time.Duration { return (t.PostedWithin() / 10).Round(time.Minute) }

// MostAnnounced is how often a player may announce a session with drawn half shots: a
// second time for whoever the first came to nothing, since whoever may choose among
// several days chooses the best.
const MostAnnounced = 2

// MostMinutes is the most that a host may give.
const MostMinutes = 24 * 60

// halfUnder are the numbers that show a half shot, the best first: under the one share
// of the player's usual it is one, from the other on it is plainly a full one. Between
// them are the shots of wild players, thinned ones mostly; a thin shot keeps its club
// speed, most of its ball speed, and little of its carry. Half shots of the golfers of
// TestHalfShotsTell lie under the first in 95 to 100 of 100 and from the second on in 1 at
// most, full ones under the first in 0 to 10.
var halfUnder = []struct {
	number     analysis.Number
	half, full float64
}{{analysis.ClubSpeed, 0.85, 0.92}, {analysis.BallSpeed, 0.82, 0.92}, {analysis.Carry, 0.70, 0.85}}

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
	short // neither plainly full nor a half shot
	half
)

// A length is how a place looks, and what share it is of the usual; unseen it is 0.
type length struct {
	finish
	share float64
}

// lengths tells half shots from full ones among some places, by the best number that
// most of them have. ok is false where none of them has any.
func lengths(s analysis.Session, places []place) (told []length, ok bool) {
	told = make([]length, len(places))
	for _, by := range halfUnder {
		var values []float64
		for _, p := range places {
			if p.row >= 0 && s.Shots[p.row].Has(by.number) {
				v, _ := s.Shots[p.row].Value(by.number)
				values = append(values, v)
			}
		}
		ok = ok || len(values) > 0
		if len(values) < leastTold+HalfShots || 2*len(values) < len(places) {
			continue
		}
		usual, _ := stat.Median(values)
		for i, p := range places {
			if p.row < 0 || !s.Shots[p.row].Has(by.number) {
				continue
			}
			v, _ := s.Shots[p.row].Value(by.number)
			told[i] = length{short, v / usual}
			switch {
			case told[i].share < by.half:
				told[i].finish = half
			case told[i].share >= by.full:
				told[i].finish = full
			}
		}
		return told, true
	}
	return told, ok
}

// A drawing is what a session shows of the balls that were drawn.
type drawing struct {
	at    []int // the places that stand for them, by index
	shown int   // of these half shots
	short int   // of those shown merely short
	full  int   // of these plainly full ones
	other int   // other places as short as they are
	half  int   // other places that are half shots
}

// Where the balls of a session stand that are counted otherwise than the player's: so
// many places early for each that was drawn. A device that lost a ball without a gap in
// its numbering has the later ones a place early, and that is the device's. Two lost, or
// one that nobody hit, are for a host, where no other ball is as short.
var (
	oneLost   = [][HalfShots]int{{0, 0}, {0, 1}, {1, 1}}
	miscounts = [][HalfShots]int{{0, 2}, {1, 2}, {2, 2}, {0, -1}, {-1, -1}}
)

// drawnAmong is what some places show of the drawn balls, after so many places in
// sessions before.
func (t Terms) drawnAmong(told []length, before int) drawing {
	d := t.drawnAt(told, before, oneLost)
	if m := t.drawnAt(told, before, miscounts); d.full > 0 && m.shown > 0 && m.shown == len(d.at) && m.other == 0 {
		d.full = 0
	}
	return d
}

// drawnAt takes the counting that shows the most.
func (t Terms) drawnAt(told []length, before int, early [][HalfShots]int) (best drawing) {
	for k, by := range early {
		if d := t.drawnBy(told, before, by); k == 0 || d.shown > best.shown || d.shown == best.shown && d.full < best.full {
			best = d
		}
	}
	return best
}

// drawnBy takes one counting. A ball that has no figure may be a half shot if another is
// one, and so may one that is merely short.
func (t Terms) drawnBy(told []length, before int, early [HalfShots]int) (d drawing) {
	var halves int
	longest := 0.0
	for k, n := range t.draw {
		i := n - 1 - before - early[k]
		if i < 0 || i >= len(told) {
			continue
		}
		d.at = append(d.at, i)
		longest = max(longest, told[i].share)
		switch told[i].finish {
		case half:
			halves++
		case short:
			d.short++
		case full:
			d.full++
		}
	}
	if halves > 0 {
		d.shown = len(d.at) - d.full
	}
	for i, l := range told {
		if halves > 0 && d.full == 0 && l.finish != unseen && l.share <= longest && !slices.Contains(d.at, i) {
			d.other++
		}
		if l.finish == half && !slices.Contains(d.at, i) {
			d.half++
		}
	}
	return d
}
