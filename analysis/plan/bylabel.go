package plan

import "strings"

// byLabelOf places balls whose labels, given by hand, name the plan's sets: each
// set's balls go to its free turns in order. ok is false if no label names a
// set.
//
// Where only other sets are named the rest is the usual one, as in any labelled
// session; where the usual one is named as well, the rest is none of the card's.
func (p Plan) byLabelOf(f filed, first int) (turns []int, ok bool) {
	sets := make([]int, len(f.at))
	usual := false
	for i, at := range f.at {
		sets[i] = p.set(f.shots[at].Label)
		ok = ok || sets[i] != Nowhere
		usual = usual || sets[i] == 0
	}
	if !ok {
		return nil, false
	}
	if !usual {
		for i, at := range f.at {
			if strings.TrimSpace(f.shots[at].Label) == "" {
				sets[i] = 0
			}
		}
	}
	turns = make([]int, len(f.at))
	next := make([]int, len(p.Labels)) // of each set the turn it looks from
	for set := range next {
		next[set] = p.turnOf(set, first)
	}
	var run []int // balls of one set, hit one after the other
	for i, set := range sets {
		turns[i] = Nowhere
		if set == Nowhere {
			continue
		}
		if len(run) > 0 && sets[run[0]] != set {
			p.fill(turns, run, sets[run[0]], next)
			run = run[:0]
		}
		run = append(run, i)
	}
	if len(run) > 0 {
		p.fill(turns, run, sets[run[0]], next)
	}
	return turns, true
}

// fill places a run of one set's balls: in as many turns as come nearest to it,
// the last of which takes what is over.
func (p Plan) fill(turns, run []int, set int, next []int) {
	for len(run) > 0 && next[set] < len(p.Turns) {
		turn, n := next[set], len(run)
		next[set] = p.turnOf(set, turn+1)
		if size := p.Turns[turn].Balls; n-size > size/2 {
			n = size
		}
		for _, i := range run[:n] {
			turns[i] = turn
		}
		run = run[n:]
	}
}

// turnOf is the first turn of a set, from a turn on; the card's end if none is.
func (p Plan) turnOf(set, from int) int {
	for from < len(p.Turns) && p.Turns[from].Set != set {
		from++
	}
	return from
}
