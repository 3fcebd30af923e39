package plan

import "math"

// How often what happens to students, of files that are a plan's. All of it is
// common practice, no source; the answer hangs on orders of magnitude only.
const (
	oftenWhole   = 0.6   // one visit, or what was left of one, as the card says
	oftenMore    = 0.04  // two visits in one file; a third of that for each one more
	oftenTurn    = 0.06  // stopped after some turn
	oftenMid     = 0.03  // stopped in the middle of one
	oftenWarm    = 0.08  // warm-up balls in front
	oftenAfter   = 0.03  // balls after the end
	oftenSkipped = 0.03  // a turn not hit
	oftenTwice   = 0.02  // a turn hit twice
	oftenBall    = 0.02  // a ball more in a turn, or one fewer
	oftenUnread  = 0.02  // two readings that are missing without a trace, or three
	oftenBasket  = 0.02  // as many balls as the card says, of which the first were warm-up balls
	oftenMadeUp  = 3     // times as often as by chance, a change is undone by another: whoever counts the visit's balls ends with as many
	oftenBegun   = 0.5   // a turn that was begun is finished the next time, in the same visit
	oftenLater   = 0.1   // what was left of a visit is left for good
	oftenPassed  = 0.1   // numbers that were passed over and belong to no ball
	oftenNone    = 0.04  // not of this plan though of its club
	ofSomeCount  = 0.075 // such a file has just so many balls: many buckets do
)

// mostWarm is how many warm-up balls are usual; more are rarer by the ball.
const mostWarm = 15

// mostOff is how far a file is from whole visits by anything but stopping.
const mostOff = 60

func warmPrior(n int) float64 { return math.Log(oftenWarm/oftenWhole/mostWarm) - tooMany(n) }

func afterPrior(n int) float64 { return math.Log(oftenAfter/oftenWhole/mostWarm) - tooMany(n) }

// tooMany is how much rarer, as a logarithm, more warm-up balls are than usual.
func tooMany(n int) float64 { return min(10, max(0, float64(n-mostWarm)/4)) }

// courses are the ways that a file of the card's club may have come about,
// whose counts agree with it.
func (p Plan) courses(f filed, from next) []course {
	all := make([]course, 0, 512)
	for _, missed := range []bool{false, true} {
		slots, prior := len(f.at), 0.0
		switch {
		case missed && f.missed == 0:
			continue
		case missed:
			slots, prior = slots+f.missed, math.Log(1-oftenPassed)
		case f.missed > 0:
			prior = math.Log(oftenPassed)
		}
		begin := func(first, finish int, later bool, often float64) {
			all = p.coursesFrom(course{missed: missed, later: later, first: first, finish: finish, prior: prior + math.Log(often)}, slots, all)
		}
		begin(from.turn, 0, false, 1)
		if from.begun > 0 {
			begin(from.turn, from.begun, false, oftenBegun)
		}
		if v := p.visitEnd(from.turn); from.turn > 0 && v < len(p.Turns) && p.Turns[from.turn-1].Visit == p.Turns[from.turn].Visit {
			begin(v, 0, true, oftenLater)
		}
	}
	return all
}

// next is where on the card the next file goes on: the turn after the last that
// got a ball, and how many balls that one lacks.
type next struct{ turn, begun int }

func (p Plan) next(before []Placed) next {
	last := Nowhere
	for _, b := range before {
		last = max(last, b.last())
	}
	n := next{turn: last + 1}
	if last == Nowhere {
		return n
	}
	n.begun = p.Turns[last].Balls
	for _, b := range before {
		for _, t := range b.Turn {
			if t == last {
				n.begun--
			}
		}
	}
	n.begun = max(n.begun, 0)
	return n
}

// visitEnd is the turn after the last of a turn's visit.
func (p Plan) visitEnd(turn int) int {
	end := turn
	for end < len(p.Turns) && p.Turns[end].Visit == p.Turns[turn].Visit {
		end++
	}
	return end
}

// ends reports whether a turn is the last of its visit.
func (p Plan) ends(turn int) bool {
	return turn+1 == len(p.Turns) || p.Turns[turn+1].Visit != p.Turns[turn].Visit
}

// coursesFrom appends the courses that begin as one does.
func (p Plan) coursesFrom(begin course, slots int, all []course) []course {
	add := func(prior float64, change func(c *course)) {
		c := begin
		c.prior += prior
		change(&c)
		all = append(all, c)
	}
	balls := begin.finish
	visits := 0 // behind
	for end := begin.first; end < len(p.Turns); {
		from := end
		end = p.visitEnd(from)
		for _, t := range p.Turns[from:end] {
			balls += t.Balls
		}
		if off := slots - balls; off >= -mostOff && (off <= mostOff || end == len(p.Turns)) {
			p.whole(off, begin.first, end, func(prior float64, change func(c *course)) {
				add(prior+visitsPrior(visits), change)
			})
		}
		visits++
	}
	p.stops(slots, begin, add)
	return all
}

// visitsPrior is how much rarer a file of more visits than one is.
func visitsPrior(more int) float64 {
	if more == 0 {
		return 0
	}
	return math.Log(oftenMore/oftenWhole) - float64(more-1)*math.Log(3)
}

// whole adds the courses that go to a visit's end: so many slots are more than
// the card says of the turns from first up to end.
func (p Plan) whole(off, first, end int, add func(prior float64, change func(c *course))) {
	nothing := func(*course) {}
	warm := func(n int) func(c *course) { return func(c *course) { c.warm = n } }
	switch {
	case off == 0:
		add(0, nothing)
	case off > 0:
		add(warmPrior(off), warm(off))
		add(afterPrior(off), func(c *course) { c.after = off })
		for w := 1; w < off && off <= 2*mostWarm; w++ {
			add(warmPrior(w)+afterPrior(off-w), func(c *course) { c.warm, c.after = w, off-w })
		}
	}
	changes := p.changes(first, end)
	for i, one := range changes {
		rest := off - one.slots
		put := func(c *course) { c.change[0] = one.change }
		switch {
		case rest == 0:
			add(one.prior, put)
		case rest > 0 && rest <= 2*mostWarm:
			add(one.prior+warmPrior(rest), func(c *course) { put(c); c.warm = rest })
			add(one.prior+afterPrior(rest), func(c *course) { put(c); c.after = rest })
		}
		// Two changes that undo each other, far apart only where they are few.
		if off != 0 {
			continue
		}
		for _, two := range changes[i+1:] {
			if near := two.turn - one.turn; near > 0 && near <= mostApart && one.slots+two.slots == 0 {
				add(one.prior+two.prior+madeUpPrior, func(c *course) { c.change = [2]change{one.change, two.change} })
			}
		}
	}
}

// mostApart is how many turns two changes that undo each other are looked for
// within: further, the second is as good as forgotten.
const mostApart = 12

// stops adds the courses that stop before a visit is over.
func (p Plan) stops(slots int, begin course, add func(prior float64, change func(c *course))) {
	turns := float64(max(1, p.visitEnd(begin.first)-begin.first))
	_, basket, _, _ := p.ending(begin, slots)
	prior := func(turn bool, visits int) float64 {
		if turn {
			return math.Log(oftenTurn/oftenWhole/turns) + visitsPrior(visits)
		}
		return math.Log(oftenMid/oftenWhole/turns/4) + visitsPrior(visits)
	}
	for w := 0; w <= 2*mostWarm && w < slots; w++ {
		turn, visit, _, visits := p.ending(begin, slots-w)
		switch {
		case visit: // whole
		case w == 0:
			add(prior(turn, visits), func(*course) {})
		case basket:
			add(math.Log(oftenBasket/oftenWhole/mostWarm)-tooMany(w)+visitsPrior(visits), func(c *course) { c.warm = w })
		default:
			add(prior(turn, visits)+warmPrior(w), func(c *course) { c.warm = w })
		}
	}
	_, _, reached, _ := p.ending(begin, slots)
	for _, one := range p.changes(begin.first, min(reached+1, len(p.Turns))) {
		// As the changed turn is behind, the card's own count says where it ends.
		if turn, visit, _, visits := p.ending(begin, slots-one.slots); !visit {
			add(one.prior+prior(turn, visits), func(c *course) { c.change[0] = one.change })
		}
	}
}

// ending is where so many slots of the card end: whether at a turn's end, at a
// visit's, after which turn, and how many visits further than the first.
func (p Plan) ending(begin course, slots int) (turn, visit bool, reached, visits int) {
	slots -= begin.finish
	reached = begin.first
	for reached < len(p.Turns) && slots > 0 {
		slots -= p.Turns[reached].Balls
		reached++
	}
	if reached == begin.first {
		return false, false, reached, 0
	}
	visits = p.Turns[reached-1].Visit - p.Turns[begin.first].Visit
	return slots == 0, slots == 0 && p.ends(reached-1), reached, visits
}

// A possible change, the slots it adds and the logarithm of its prior.
type possible struct {
	change
	slots int
	prior float64
}

var (
	skippedPrior = math.Log(oftenSkipped / oftenWhole)
	twicePrior   = math.Log(oftenTwice / oftenWhole)
	ballPrior    = math.Log(oftenBall / oftenWhole)
	unreadPrior  = math.Log(oftenUnread / 2 / oftenWhole)
	madeUpPrior  = math.Log(oftenMadeUp)
)

// changes are what may happen to one of the turns from first up to end.
func (p Plan) changes(first, end int) []possible {
	all := make([]possible, 0, 6*(end-first))
	ofOne := -math.Log(float64(max(1, end-first))) // of them
	for t := first; t < end; t++ {
		n := p.Turns[t].Balls
		put := func(what What, balls, slots int, often float64) {
			all = append(all, possible{change{what, t, balls}, slots, often + ofOne})
		}
		put(Skipped, 0, -n, skippedPrior)
		put(Twice, 0, n, twicePrior)
		put(More, 1, 1, ballPrior)
		put(Short, 1, -1, ballPrior)
		put(Short, 2, -2, unreadPrior)
		put(Short, 3, -3, unreadPrior)
	}
	return all
}
