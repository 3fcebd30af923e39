package clubyear

import (
	"cmp"
	"math"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A Way is how somebody makes an honest part a winning one.
type Way string

// The ways.
const (
	OtherClub       Way = "bad file again, another club named"
	OtherBall       Way = "bad file again, another ball named"
	NineBalls       Way = "stops at nine when it goes badly"
	EntersAnew      Way = "withdraws and enters anew"
	NoDate          Way = "best of five before, undated"
	Dated2031       Way = "best of five before, dated 2031"
	Redated         Way = "best of five before, moved to today"
	DeletesRows     Way = "deletes the worst of 40 rows"
	BlanksSide      Way = "blanks the side of the three worst"
	YardsAsFeet     Way = "calls yards feet"
	OthersReversed  Way = "another's balls, reversed"
	OthersScaled    Way = "another's balls, scaled"
	OthersMirrored  Way = "another's balls, mirrored"
	BestOfFive      Way = "best of five, four not posted"
	Sandbag15       Way = "past aimed 15 m right"
	Sandbag30       Way = "past aimed 30 m right"
	ShortChips      Way = "20-yard chips"
	Quartered       Way = "sideways figures quartered"
	TypesFigures    Way = "figures typed by hand"
	BetterHalf      Way = "best run out of 40, numbered anew"
	WorstOtherClub  Way = "worst three rows given another club"
	CalledWarmUp    Way = "bad start called warm-up"
	GoodTwice       Way = "best rows in place of the worst"
	HalvedAlike     Way = "everything sideways halved alike"
	SomebodyBetter  Way = "somebody better hits the balls"
	PastWithAnother Way = "past hit with loose swings"
)

// A trick is a way with what it does. alone are the kinds of rule it is for, every
// kind if there are none. Beyond says that the file is whole and true as far as a
// file can tell.
type trick struct {
	way    Way
	alone  []RuleKind
	beyond bool
	game   func(p *Part)
}

var (
	sideways = []RuleKind{Narrow, Area, Nearest, Progress}
	scatters = []RuleKind{Narrow, Area, Progress}
	progress = []RuleKind{Progress}
)

// tricks begins with those of few rules, so that a year has them all.
var tricks = []trick{
	{way: Sandbag15, alone: progress, game: func(p *Part) { p.sandbag(form{aim: 15, wide: 1}) }},
	{way: Sandbag30, alone: progress, game: func(p *Part) { p.sandbag(form{aim: 30, wide: 1}) }},
	{way: PastWithAnother, alone: progress, game: func(p *Part) { p.sandbag(form{wide: 1.8}) }},
	{way: OtherClub, game: func(p *Part) { p.again(Said{Club: "8-iron", Ball: p.said().Ball}) }},
	{way: OtherBall, game: func(p *Part) {
		other := "range"
		if p.Member.RangeBalls {
			other = "new"
		}
		p.again(Said{Ball: other})
	}},
	{way: NineBalls, game: func(p *Part) {
		var all []Session
		for k := range 4 {
			s := p.session()
			if k > 0 {
				s = p.more(k, len(p.session().Balls))
			}
			nine := s.clone()
			nine.Balls = nine.Balls[:9]
			if k < 3 && p.bad(nine) {
				s = nine
			}
			all = append(all, s)
			if len(s.Balls) > 9 {
				break
			}
		}
		p.anew(all...)
	}},
	{way: EntersAnew, game: func(p *Part) {
		for k := 1; k <= 3 && p.bad(p.session()); k++ {
			p.Acts = append(p.Acts, Act{At: p.last().Add(time.Minute), Do: Withdraws})
			p.enter(p.post(p.more(k, len(p.session().Balls)), p.said()))
		}
	}},
	{way: NoDate, game: func(p *Part) { p.before(func(s *Session) { s.Undated = true }) }},
	{way: Dated2031, game: func(p *Part) {
		p.before(func(s *Session) { s.move(s.Start().AddDate(2, 0, 0)) })
	}},
	{way: Redated, game: func(p *Part) {
		at := p.session().Start()
		p.before(func(s *Session) { s.move(at) })
	}},
	{way: DeletesRows, game: func(p *Part) {
		s := p.more(0, 40)
		for len(s.Balls) > p.Challenge.Rule.Balls {
			s.Balls = slices.Delete(s.Balls, p.worst(s), p.worst(s)+1)
		}
		p.anew(s)
	}},
	{way: BlanksSide, game: func(p *Part) {
		n := analysis.Lateral
		if p.Challenge.Rule.Kind == Within {
			n = p.Challenge.Rule.needs()[0]
		}
		s := p.more(0, p.Challenge.Rule.Balls+8)
		for range 3 {
			w := p.worst(s)
			s.Balls[w].Shot = s.Balls[w].With(n, math.NaN())
		}
		p.anew(s)
	}},
	{way: YardsAsFeet, alone: scatters, game: func(p *Part) { p.rewrite(func(s *Session) { s.Unit = "ft" }) }},
	{way: OthersReversed, game: func(p *Part) {
		p.copy(func(s *Session) { slices.Reverse(s.Balls) })
	}},
	{way: OthersScaled, game: func(p *Part) {
		p.copy(func(s *Session) {
			s.each(func(b *Ball, n analysis.Number, v float64) float64 { return 0.98 * v })
		})
	}},
	{way: OthersMirrored, game: func(p *Part) {
		p.copy(func(s *Session) {
			for i := range s.Balls {
				s.Balls[i].Shot = s.Balls[i].Mirrored()
			}
		})
	}},
	{way: BestOfFive, game: func(p *Part) {
		best := p.session()
		for k := range 4 {
			if s := p.more(k+1, len(best.Balls)); p.score(s) < p.score(best) {
				best = s
			}
		}
		p.anew(best)
	}},
	{way: ShortChips, alone: scatters, game: func(p *Part) {
		f := p.form(chance(p.seed, "chips", p.Member.Name))
		f.speed, f.wind = p.Member.reach(p.Challenge.Rule.club(), 20*analysis.Yard), panel.Wind{}
		p.anew(p.hit(1, len(p.session().Balls), p.session().Start(), f))
	}},
	{way: Quartered, alone: sideways, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			s.each(func(b *Ball, n analysis.Number, v float64) float64 {
				if n == analysis.Lateral {
					return v / 4
				}
				return v
			})
		})
	}},
	{way: TypesFigures, alone: sideways, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			carry, _ := analysis.Values(s.shots(), analysis.Carry)
			unit := analysis.Yard
			if s.Device.metric() {
				unit = 1
			}
			s.each(func(b *Ball, n analysis.Number, v float64) float64 {
				typed := func(v float64) float64 { return unit / 2 * math.Round(2*v/unit) } // .0 and .5
				switch n {
				case analysis.Lateral:
					return typed(v / 2)
				case analysis.Carry:
					return typed(carry[0] + (v-carry[0])/2)
				}
				return v
			})
		})
	}},
	{way: BetterHalf, beyond: true, game: func(p *Part) {
		all, n := p.more(0, 40), p.Challenge.Rule.Balls
		best := all.part(0, n)
		for i := range len(all.Balls) - n {
			if s := all.part(i+1, n); p.score(s) < p.score(best) {
				best = s
			}
		}
		best.number()
		p.anew(best)
	}},
	{way: WorstOtherClub, game: func(p *Part) {
		s := p.more(0, p.Challenge.Rule.Balls+8)
		for range 3 {
			s.Balls[p.worst(s)].Club = analysis.Club{Family: analysis.Iron, Number: 8}
		}
		p.anew(s)
	}},
	{way: CalledWarmUp, game: func(p *Part) {
		s, n, best := p.more(0, p.Challenge.Rule.Balls+10), p.Challenge.Rule.Balls, 0
		for k := range 11 {
			if p.score(s.part(k, n)) < p.score(s.part(best, n)) {
				best = k
			}
		}
		p.anew(s)
		if best > 0 {
			p.Acts[p.posted()].Said.Sets = warmUp(best)
		}
	}},
	{way: GoodTwice, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			rank := p.rank(*s)
			for i := range min(5, len(rank)/3) {
				good, bad := &s.Balls[rank[i]], &s.Balls[rank[len(rank)-1-i]]
				n := bad.N
				bad.Shot = good.Shot
				bad.N = n
			}
		})
	}},
	{way: HalvedAlike, beyond: true, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			s.each(func(b *Ball, n analysis.Number, v float64) float64 {
				if n.Info().Sideways {
					return v / 2
				}
				return v
			})
		})
	}},
	{way: SomebodyBetter, beyond: true, game: func(p *Part) {
		f := p.form(chance(p.seed, "better", p.Member.Name))
		f.wide, f.face = 0.7*f.wide, 0.7*f.face
		p.anew(p.hit(1, len(p.session().Balls), p.session().Start(), f))
	}},
}

// Ways lists the ways there are for a kind of rule, in a fixed order.
func Ways(k RuleKind) (all []Way) {
	for _, t := range tricks {
		if len(t.alone) == 0 || slices.Contains(t.alone, k) {
			all = append(all, t.way)
		}
	}
	return all
}

// Beyond reports whether the way's file is one that some honest golfer may have
// brought, as far as a file can tell: what to do about it is the rules', not the
// reader's.
func (w Way) Beyond() bool {
	i := slices.IndexFunc(tricks, func(t trick) bool { return t.way == w })
	return i >= 0 && tricks[i].beyond
}

// game makes the part the way's, beside the honest among the others' parts.
func (p *Part) game(w Way, others []*Part) {
	for _, o := range others {
		if o != p && o.Way == "" && o.Mishap == "" && o.posted() >= 0 {
			p.others = append(p.others, o.session())
		}
	}
	p.Way, p.Due = w, ""
	i := slices.IndexFunc(tricks, func(t trick) bool { return t.way == w })
	tricks[i].game(p)
}

// again posts a bad session, posts it again with something else said, and goes on
// to the next, three times at most.
func (p *Part) again(said Said) {
	s := p.session()
	p.Acts = p.Acts[:p.posted()]
	posted := p.post(s, p.said())
	for k := 1; k <= 3 && p.bad(s); k++ {
		p.post(s, said)
		s = p.more(k, len(s.Balls))
		posted = p.post(s, p.said())
	}
	p.enter(posted)
}

// before enters the best of five sessions hit in the week before the challenge
// opened, changed. It is handed over when the honest one would have been.
func (p *Part) before(change func(s *Session)) {
	honest := p.session()
	var best Session
	for k := range 5 {
		s := p.hit(k+1, len(honest.Balls), p.Challenge.Opens.AddDate(0, 0, -2-k).Add(9*time.Hour), p.form(chance(p.seed, "before", p.Member.Name, k)))
		if k == 0 || p.score(s) < p.score(best) {
			best = s
		}
	}
	change(&best)
	at := p.Acts[p.posted()].At
	p.anew(best)
	p.Acts[p.posted()].At = at
	p.Acts[len(p.Acts)-1].At = at.Add(3 * time.Minute)
}

// copy enters the best of what the others posted, changed, as one's own, half an
// hour after it was posted.
func (p *Part) copy(change func(s *Session)) {
	if len(p.others) == 0 {
		return
	}
	best := slices.MinFunc(p.others, func(a, b Session) int { return cmp.Compare(p.score(a), p.score(b)) }).clone()
	best.Player = p.Member.Name
	change(&best)
	best.number()
	best.move(best.Start().Add(70 * time.Minute))
	p.anew(best)
}

// sandbag hits all sessions of the past otherwise; aim is m right where they land.
func (p *Part) sandbag(f form) {
	for i, a := range p.Acts {
		if a.Do != Posts || !a.At.Before(p.Challenge.Opens) {
			continue
		}
		carry, _ := analysis.Values(a.Session.shots(), analysis.Carry)
		with := p.form(chance(p.seed, "sandbag", p.Member.Name, i))
		with.aim, with.wide = math.Atan(f.aim/carry[0]), f.wide
		p.Acts[i].Session = p.hit(200+i, len(a.Session.Balls), a.Session.Start(), with)
	}
}

// rank orders the balls of a session, the best for the rule first.
func (p *Part) rank(s Session) []int {
	r := p.Challenge.Rule
	carry, _ := analysis.Values(s.shots(), analysis.Carry)
	middle := slices.Sorted(slices.Values(carry))[len(carry)/2]
	far := func(i int) float64 {
		b := s.Balls[i]
		side, ok := b.Value(analysis.Lateral)
		long, _ := b.Value(analysis.Carry)
		switch {
		case b.Club != r.club() || !ok && r.Kind != Within:
			return -1 // no longer in it
		case r.Kind == Within && !b.Has(r.needs()[0]):
			return -1
		case r.Kind == Within:
			return math.Abs(r.number(b.Shot, p.Member.Left) - (r.Low+r.High)/2)
		case r.Kind == Nearest:
			return math.Hypot(long-r.Target, side)
		case r.Kind == Area:
			return math.Hypot(long-middle, side)
		}
		return math.Abs(side)
	}
	order := make([]int, len(s.Balls))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(far(i), far(j)) })
	return order
}

func (p *Part) worst(s Session) int { return p.rank(s)[len(s.Balls)-1] }
