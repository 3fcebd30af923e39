package plan

// A course is one way a file may have come about: what was hit of the card, and
// what else. Balls are counted in slots: a ball of the file, or one the device
// missed.
type course struct {
	missed bool // balls without a reading take their slots
	later  bool // begun with a later visit
	finish int  // first balls that finish the turn before first
	first  int  // turn it begins with
	warm   int
	change [2]change // in the order of the card
	after  int       // slots after a visit's end
	prior  float64   // logarithm
}

// A change is what happened to one turn; none if What is "".
type change struct {
	what  What
	turn  int
	balls int // more, or fewer
}

// A stretch is slots in a row of one turn.
type stretch struct{ turn, slots int }

// run lays a course out over so many slots: the stretches in order, appended to
// into, and where it stopped. ok is false if that is no such course: the card's
// part does not end where balls after it begin, or a change is of a turn that
// was not reached.
func (p Plan) run(c course, slots int, into []stretch) (stretches []stretch, stopped Part, ok bool) {
	left := slots - c.warm - c.finish - c.after
	if left < 1 {
		return nil, Part{}, false
	}
	put := func(turn, n int) {
		if n > 0 {
			into = append(into, stretch{turn, n})
		}
	}
	put(Nowhere, c.warm)
	put(c.first-1, c.finish)
	reached, whole := c.first, true // the turn after the last that was begun; whether that was hit to its end
	next := 0
	for t := c.first; t < len(p.Turns) && left > 0; t++ {
		n, times, changed := p.Turns[t].Balls, 1, false
		if next < len(c.change) && c.change[next].what != "" && c.change[next].turn == t {
			switch ch := c.change[next]; ch.what {
			case Skipped:
				times = 0
			case Twice:
				times = 2
			case More:
				n += ch.balls
			case Short:
				n -= ch.balls
			}
			next++
			changed = true
		}
		if n < 1 {
			return nil, Part{}, false
		}
		if times > 0 {
			whole = left >= n*times
			if changed && !whole {
				return nil, Part{}, false // nobody could tell
			}
			n = min(n*times, left)
			put(t, n)
			left -= n
			reached = t + 1
			stopped = Part{Stopped, t + 1, 0}
			if !whole {
				stopped = Part{Stopped, t, n}
			}
		}
	}
	if next < len(c.change) && c.change[next].what != "" {
		return nil, Part{}, false // not reached
	}
	if left > 0 {
		return nil, Part{}, false // the card was over
	}
	ended := whole && p.ends(reached-1)
	if c.after > 0 && !ended {
		return nil, Part{}, false
	}
	put(Nowhere, c.after)
	if ended {
		stopped = Part{}
	}
	return into, stopped, true
}

// parts say a course; stopped is where it did, if it did.
func (c course) parts(missed int, stopped Part) []Part {
	var parts []Part
	if c.missed {
		parts = append(parts, Part{What: Missed, Balls: missed})
	}
	if c.later {
		parts = append(parts, Part{What: Later, Turn: c.first + 1})
	}
	if c.warm > 0 {
		parts = append(parts, Part{What: Warm, Balls: c.warm})
	}
	if c.finish > 0 {
		parts = append(parts, Part{What: Finish, Turn: c.first, Balls: c.finish})
	}
	for _, ch := range c.change {
		if ch.what != "" {
			parts = append(parts, Part{ch.what, ch.turn + 1, ch.balls})
		}
	}
	if stopped.What != "" {
		parts = append(parts, stopped)
	}
	if c.after > 0 {
		parts = append(parts, Part{What: After, Balls: c.after})
	}
	if len(parts) == 0 || len(parts) == 1 && (c.missed || c.later || c.finish > 0) {
		parts = append(parts, Part{What: Whole})
	}
	return parts
}
