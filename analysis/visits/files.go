package visits

import (
	"math/rand/v2"
	"slices"
	"time"

	"rangepost/analysis"
)

// A File is a session as it was posted, with the truth. Numbers and Times are by
// ball, nil where the file has none.
type File struct {
	Session analysis.Session
	Truth   []int // the turn of every ball by its place in the card, -1 of none
	Numbers []int // the device's shot numbers
	Times   []time.Time
}

// A Case is a file that is posted to a card.
type Case struct {
	Turns   []Turn
	Golfer  Golfer
	Effects []Effect // by set

	Before []File // in already, and where every ball of them belongs is known
	File          // to be placed

	Kind  Trouble
	Due   []int // the turn of every ball that the card has next, after Before: a visit, or what is left of it
	Of    int   // the file of Before whose balls these are, -1 of none
	Clues Clue
}

// Files simulates n files; file i of a seed is the same whatever n is.
func Files(seed uint64, n int) []Case {
	cases := make([]Case, n)
	for i := range cases {
		cases[i] = newCase(rand.New(rand.NewPCG(seed, 1900+uint64(i))))
	}
	return cases
}

// A poster is a golfer at a card, with what their files look like.
type poster struct {
	turns    []Turn
	golfer   Golfer
	effects  []Effect
	habit    habit
	dress    dress
	numbered bool
	timed    bool
	dated    bool // the day is known though no ball's time is
	rng      *rand.Rand
}

// newCase draws one. Half of the files have shot numbers, two thirds times.
func newCase(rng *rand.Rand) Case {
	kind := newTrouble(rng)
	turns := Card(rng)
	for kind == TwoVisits && numVisits(turns) < 2 {
		turns = Card(rng)
	}
	g := NewGolfer(rng)
	effects := []Effect{{}}
	for _, t := range turns {
		if t.Set >= len(effects) {
			effects = append(effects, make([]Effect, t.Set+1-len(effects))...)
		}
	}
	for i := range effects[1:] {
		effects[i+1] = draw(g, rng)
	}
	p := poster{
		turns: turns, golfer: g, effects: effects, habit: newHabit(rng), dress: newDress(rng),
		numbered: rng.IntN(2) == 0, timed: rng.IntN(3) > 0, dated: rng.IntN(2) == 0, rng: rng,
	}
	return p.post(kind)
}

// post has a golfer post the visits before one of the card's, and then that one
// with its trouble.
func (p *poster) post(kind Trouble) Case {
	c := Case{Turns: p.turns, Golfer: p.golfer, Effects: p.effects, Kind: kind, Of: -1}
	visits := numVisits(p.turns)
	if kind == TwoVisits {
		visits--
	}
	visit := p.rng.IntN(visits)
	for v := range visit {
		c.Before = append(c.Before, p.file(p.hit(v, laidOut(p.turns, v, p.golfer.Club)), p.dress))
	}
	planned := laidOut(p.turns, visit, p.golfer.Club)
	c.Due = places(planned)

	switch kind {
	case TwoVisits:
		first := p.hit(visit, planned)
		second := p.hit(visit+1, laidOut(p.turns, visit+1, p.golfer.Club))
		if p.rng.IntN(3) == 0 { // later on the same day
			second.move(first.at[len(first.at)-1].Add(time.Duration(2+p.rng.IntN(5)) * time.Hour).Sub(second.at[0]))
		}
		both := first.and(second)
		if p.rng.IntN(2) == 0 {
			both.renumber()
		}
		c.File = p.file(both, p.dress)
	case SplitVisit:
		h := p.hit(visit, planned)
		cut := p.cut(h)
		if p.rng.IntN(2) == 0 {
			c.File = p.file(h.part(0, cut), p.dress)
			break
		}
		c.Before = append(c.Before, p.file(h.part(0, cut), p.dress))
		c.File = p.file(h.part(cut, len(h.balls)), p.dress)
		c.Due = c.Due[cut:]
	case PostedAgain:
		p.postAgain(&c, visit, planned)
	case NotThisPlan:
		c.File = p.file(p.hit(visit, []stretch{strays(p.bucket(len(c.Due)), planned[0])}), p.dress)
	case MissesReadings:
		h := p.hit(visit, planned)
		for range 1 + p.rng.IntN(3) {
			h = h.without(p.rng.IntN(len(h.balls)))
		}
		if p.rng.IntN(2) == 0 {
			h.renumber()
		}
		c.File = p.file(h, p.dress)
	default:
		h := p.hit(visit, kind.befall(planned, p.rng))
		if kind == WarmsUpOther && p.rng.IntN(5) == 0 { // the device was not told of the change
			for i := range h.balls {
				h.balls[i].shot.Club = p.golfer.Club
			}
		}
		c.File = p.file(h, p.dress)
	}
	c.Clues = c.clues()
	return c
}

// postAgain posts one of the files that are in, this visit's included: mostly
// the last.
func (p *poster) postAgain(c *Case, visit int, planned []stretch) {
	again := visit
	if p.rng.IntN(5) == 0 {
		again = p.rng.IntN(visit + 1)
	}
	c.Before = nil
	for v := range visit + 1 {
		h := p.hit(v, laidOut(p.turns, v, p.golfer.Club))
		c.Before = append(c.Before, p.file(h, p.dress))
		if v != again {
			continue
		}
		for i := range h.balls {
			h.balls[i].turn = -1 // they count once
		}
		other := *p
		other.numbered = p.numbered && p.rng.IntN(2) == 0
		other.timed = p.timed && p.rng.IntN(2) == 0
		c.File, c.Of = other.file(h, p.dress.otherwise(p.rng)), again
	}
	c.Due = places(laidOut(p.turns, visit+1, p.golfer.Club))
}

// cut is where a visit falls into two files: mostly between turns.
func (p *poster) cut(h hits) int {
	for {
		at := 1 + p.rng.IntN(len(h.balls)-1)
		if p.rng.IntN(10) < 3 || h.balls[at].starts {
			return at
		}
	}
}

// bucket is how many balls are hit on a day of no plan: mostly a bucket of
// them, and in one of ten just as many as the card has.
func (p *poster) bucket(due int) int {
	switch x := p.rng.IntN(10); {
	case x == 0:
		return due
	case x < 7:
		return [...]int{20, 25, 30, 40, 50, 60}[p.rng.IntN(6)]
	}
	return 12 + p.rng.IntN(60)
}

// hits are the balls of a visit before they are written down.
type hits struct {
	balls  []ball
	at     []time.Time
	number []int
}

// firstDay is when the first visit is, at the earliest.
var firstDay = time.Date(2031, time.March, 3, 9, 0, 0, 0, time.UTC)

// hit plays stretches on the day of a visit, three days after the one before.
func (p *poster) hit(visit int, s []stretch) hits {
	h := hits{balls: p.golfer.play(s, p.effects, p.rng)}
	start := firstDay.Add(time.Duration(visit)*3*day + time.Duration(p.rng.IntN(9*3600))*time.Second)
	h.at = p.habit.times(h.balls, start, p.rng)
	from := 1
	if p.rng.IntN(6) == 0 { // the device goes on counting from what it saw before
		from += 1 + p.rng.IntN(80)
	}
	for i := range h.balls {
		h.number = append(h.number, from+i)
	}
	return h
}

func (h hits) part(from, to int) hits {
	return hits{h.balls[from:to], h.at[from:to], h.number[from:to]}
}

func (h hits) without(i int) hits {
	return h.part(0, i).and(h.part(i+1, len(h.balls)))
}

// and is both, the numbers as they are.
func (h hits) and(more hits) hits {
	return hits{slices.Concat(h.balls, more.balls), slices.Concat(h.at, more.at), slices.Concat(h.number, more.number)}
}

func (h hits) move(by time.Duration) {
	for i := range h.at {
		h.at[i] = h.at[i].Add(by)
	}
}

func (h hits) renumber() {
	for i := range h.number {
		h.number[i] = h.number[0] + i
	}
}

// file writes a visit down.
func (p *poster) file(h hits, d dress) File {
	f := File{Session: session(p.golfer.Hand, h.balls), Truth: turnsOf(h.balls)}
	for i := range f.Session.Shots {
		f.Session.Shots[i] = d.written(f.Session.Shots[i])
	}
	if p.numbered {
		f.Numbers = slices.Clone(h.number)
	}
	switch at := h.at[0]; {
	case p.timed:
		f.Times = slices.Clone(h.at)
		f.Session.When, f.Session.Dated = at, analysis.ByClock
	case p.dated:
		f.Session.When, f.Session.Dated = at.Truncate(day), analysis.ByDay
	}
	return f
}
