package plan

import (
	"strconv"
	"strings"
)

// What is one thing that happened between the card and the file.
type What string

// What may have happened.
const (
	Whole   What = "whole"   // whole visits, or all that was left of one
	Labels  What = "labels"  // labels given by hand say which ball is of which set
	Again   What = "again"   // balls that were posted before
	Full    What = "full"    // the card had no free turn
	None    What = "none"    // not this plan
	Missed  What = "missed"  // balls the device gave a number and no reading
	Later   What = "later"   // begun with a later visit than the one that was under way
	Finish  What = "finish"  // the first balls finish the turn that was begun the time before
	Warm    What = "warm"    // warm-up balls in front
	Skipped What = "skipped" // a turn that was not hit
	Twice   What = "twice"   // a turn that was hit twice
	More    What = "more"    // balls more in a turn than the card says
	Short   What = "short"   // balls fewer in a turn, hit or read
	Stopped What = "stopped" // stopped before a visit was over
	After   What = "after"   // balls after the visit was over
)

// A Part is one thing that happened, with the figures a sentence needs. A
// figure is 0 where it does not apply or is not known.
type Part struct {
	What  What
	Turn  int // from 1: the turn it happened to; of Stopped the last whole one, of Later the first
	Balls int // how many; of Stopped those of the turn that was begun
}

// A Reading is one way to find the balls of a file on the card.
type Reading struct {
	// Key is short and stable: its parts, "warm:6", "stopped:6", "stopped:6.3"
	// (three balls of the seventh turn), "warm:6,stopped:10". Without figures
	// ("skipped") it is known what happened and not to which turn: only balls
	// that are of the same set wherever it was are placed.
	Key   string
	Parts []Part // in the order of the card; never none

	First, Last int     // turns that got balls, from 1; 0 if none did
	Balls       int     // that are placed
	Chance      float64 // how likely it is among all readings of this file, by its count and its figures; 0..1

	// Doubt is how likely it is that a ball is of another set than the reading that
	// was taken without a question says; 0 where labels or nothing at all are taken.
	Doubt float64
}

// trusted is how much doubt goes without a word: of files whose balls are of other
// sets than was taken without a question, 13 of 13 had more, and half of the others
// had less (our choice, on 2,000 files of another hand, seed 41).
const trusted = 0.01

// OnTrust reports whether the reading was taken by its count and the card alone, the
// figures leaving others likely enough to be told of.
func (r Reading) OnTrust() bool { return r.Doubt >= trusted }

// Is reports whether something is among what happened.
func (r Reading) Is(w What) bool {
	for _, p := range r.Parts {
		if p.What == w {
			return true
		}
	}
	return false
}

// keyOf writes parts with their figures, or, for a family, without.
func keyOf(parts []Part, figures bool) string {
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(string(p.What))
		if !figures {
			continue
		}
		write := func(before byte, n int) {
			b.WriteByte(before)
			b.WriteString(strconv.Itoa(n))
		}
		switch {
		case p.What == Stopped && p.Balls > 0:
			write(':', p.Turn)
			write('.', p.Balls)
		case p.Turn > 0:
			write(':', p.Turn)
			if p.Balls > 1 && (p.What == More || p.What == Short) {
				write('.', p.Balls)
			}
		case p.Balls > 0:
			write(':', p.Balls)
		case p.What == Stopped:
			write(':', 0)
		}
	}
	return b.String()
}

// unsure are parts that it is known of that they happened and not where.
func unsure(parts []Part) []Part {
	out := make([]Part, len(parts))
	for i, p := range parts {
		out[i] = Part{What: p.What}
		if p.What == Short || p.What == More {
			out[i].Balls = p.Balls
		}
	}
	return out
}
