package plan

import (
	"slices"
	"strings"

	"rangepost/analysis"
)

// filed are the balls of a file that may be the card's, in the order they were
// hit.
type filed struct {
	shots []analysis.Shot
	at    []int // of a ball that may be the card's its index in shots

	// gaps are balls the device counted and has no reading of: so many in front
	// of each of at, by the numbers of the shots.
	gaps   []int
	missed int // all of them

	again int  // balls left out since they were posted before
	doubt bool // something but the count speaks against finding places without a question
}

// newFiled picks the balls that may be the card's: of its club or of a club that
// was never named, no row that is there twice, none that somebody called a warm-up
// ball, and none that was posted before.
func (p Plan) newFiled(before []Placed, s analysis.Session) filed {
	f := filed{shots: s.Shots}
	from, to := fresh(before, s.Shots)
	f.again = len(s.Shots) - (to - from)
	last, named, unnamed := -1, false, false
	increasing := slices.IsSortedFunc(s.Shots, func(a, b analysis.Shot) int {
		if a.N > b.N {
			return 1
		}
		return -1 // the same number twice is no order either
	})
	for i := from; i < to; i++ {
		shot := s.Shots[i]
		if shot.Aside == analysis.Duplicate || shot.Aside == analysis.WarmUp || shot.Aside == analysis.Extra || !p.ofClub(shot) {
			last = -1
			named = named || !shot.Club.Unknown()
			continue
		}
		if shot.Club.Unknown() {
			unnamed = true
		} else {
			named = true
		}
		gap := 0
		// A gap beside a ball of another club may be of either.
		switch {
		case increasing && last >= 0:
			gap = shot.N - s.Shots[last].N - 1
		case increasing && i == 0 && shot.N <= mostFront+1:
			gap = shot.N - 1
		}
		f.at = append(f.at, i)
		f.gaps = append(f.gaps, gap)
		f.missed += gap
		last = i
	}
	if f.missed > len(f.at) {
		// Numbers that run over so much are not those of balls.
		f.missed, f.doubt = 0, true
		clear(f.gaps)
	}
	f.doubt = f.doubt || named && unnamed && !p.Club.Unknown() || earlier(before, s) || p.otherwiseLabelled(f)
	return f
}

// mostFront is how many readings in front may be missing by the number of the
// first: a file that begins with a higher one goes on counting from another.
const mostFront = 3

func (p Plan) ofClub(s analysis.Shot) bool {
	return p.Club.Unknown() || s.Club.Unknown() || s.Club == p.Club
}

// earlier reports whether a session was hit before one that has its places: the
// next free turn is then not the next that was hit.
func earlier(before []Placed, s analysis.Session) bool {
	return s.Dated != analysis.Undated && s.Dated != analysis.ByPosting &&
		slices.ContainsFunc(before, func(b Placed) bool {
			return b.Session.Dated == s.Dated && s.When.Before(b.Session.When) && b.last() != Nowhere
		})
}

// last is the last turn of the card that got a ball.
func (b Placed) last() int {
	last := Nowhere
	for _, t := range b.Turn {
		last = max(last, t)
	}
	return last
}

// nowhere is a session none of whose balls has a place.
func nowhere(s analysis.Session) Placed {
	turns := make([]int, len(s.Shots))
	for i := range turns {
		turns[i] = Nowhere
	}
	return Placed{s, turns}
}

// set is the set of the plan a label names, or Nowhere.
func (p Plan) set(label string) int {
	label = strings.TrimSpace(label)
	if label == "" {
		return Nowhere
	}
	for i, l := range p.Labels {
		if strings.EqualFold(strings.TrimSpace(l), label) {
			return i
		}
	}
	if analysis.UsualLabel(label) {
		return 0
	}
	return Nowhere
}

// otherwiseLabelled reports whether balls carry labels that are none of the plan's.
func (p Plan) otherwiseLabelled(f filed) bool {
	return slices.ContainsFunc(f.at, func(i int) bool {
		return strings.TrimSpace(f.shots[i].Label) != "" && p.set(f.shots[i].Label) == Nowhere
	})
}
