package clubyear

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"rangepost/analysis"
)

// A Way is how somebody makes an honest part a winning one.
type Way string

// The ways.
const (
	OtherClub      Way = "bad file again, another club named"
	OtherBall      Way = "bad file again, another ball named"
	NineBalls      Way = "stops at nine when it goes badly"
	EntersAnew     Way = "withdraws and enters anew"
	NoDate         Way = "best of five before, undated"
	Dated2031      Way = "best of five before, dated 2031"
	Redated        Way = "best of five before, moved to today"
	DeletesRows    Way = "deletes the worst of 40 rows"
	BlanksSide     Way = "blanks the side of the three worst"
	YardsAsFeet    Way = "calls yards feet"
	OthersReversed Way = "another's balls, reversed"
	OthersScaled   Way = "another's balls, scaled"
	OthersMirrored Way = "another's balls, mirrored"
	BestOfFive     Way = "best of five, four not posted"
	Sandbag15      Way = "past aimed 15 m right"
	Sandbag30      Way = "past aimed 30 m right"
	ShortChips     Way = "20-yard chips"
	Quartered      Way = "sideways figures quartered"
	TypesFigures   Way = "figures typed by hand"
	BetterHalf     Way = "best run out of 40, numbered anew"
	WorstOtherClub Way = "worst three rows given another club"
	CalledWarmUp   Way = "bad start called warm-up"
	GoodTwice      Way = "best rows in place of the worst"
	HalvedAlike    Way = "everything sideways halved alike"
	SomebodyBetter Way = "somebody better hits the balls"
	LoosePast      Way = "past hit with loose swings"
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
	{way: Sandbag15, alone: progress, game: func(p *Part) { p.sandbag(15, 1) }},
	{way: Sandbag30, alone: progress, game: func(p *Part) { p.sandbag(30, 1) }},
	{way: LoosePast, alone: progress, game: func(p *Part) { p.sandbag(0, 1.8) }},
	{way: OtherClub, game: func(p *Part) { p.again(Said{Club: "8-iron", Ball: p.said().Ball}) }},
	{way: OtherBall, game: func(p *Part) {
		other := map[string]string{"new": "range", "range": "new"}
		p.again(Said{Ball: other[p.said().Ball]})
	}},
	{way: NineBalls, game: func(p *Part) {
		all := []Session{p.session()}
		for k := 1; k <= 3 && p.bad(all[k-1].part(0, 9)); k++ {
			all[k-1] = all[k-1].part(0, 9)
			all = append(all, p.more(k, len(p.session().Balls)))
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
	{way: Dated2031, game: func(p *Part) { p.before(func(s *Session) { s.move(s.Start().AddDate(2031-s.Start().Year(), 0, 0)) }) }},
	{way: Redated, game: func(p *Part) { p.before(func(s *Session) { s.move(p.start) }) }},
	{way: DeletesRows, game: func(p *Part) {
		s := p.more(0, 40)
		for len(s.Balls) > p.Challenge.Rule.Balls {
			s.Balls = slices.Delete(s.Balls, p.worst(s), p.worst(s)+1)
		}
		p.anew(s)
	}},
	{way: BlanksSide, game: func(p *Part) {
		p.spoilWorst(func(b *Ball) { b.Shot = b.With(p.sideways(), math.NaN()) })
	}},
	{way: WorstOtherClub, game: func(p *Part) {
		p.spoilWorst(func(b *Ball) { b.Club = analysis.Club{Family: analysis.Iron, Number: 8} })
	}},
	{way: YardsAsFeet, alone: scatters, game: func(p *Part) { p.rewrite(func(s *Session) { s.Unit = "ft" }) }},
	{way: OthersReversed, game: func(p *Part) { p.copy(func(s *Session) { slices.Reverse(s.Balls) }) }},
	{way: OthersScaled, game: func(p *Part) { p.copy(scaled(0.98, func(analysis.Number) bool { return true })) }},
	{way: OthersMirrored, game: func(p *Part) { p.copy(scaled(-1, isSideways)) }},
	{way: BestOfFive, beyond: true, game: func(p *Part) {
		best, _ := p.best(5, func(k int) Session { return p.more(k, len(p.session().Balls)) })
		p.anew(best)
	}},
	{way: BetterHalf, beyond: true, game: func(p *Part) {
		all, n := p.more(0, 40), p.Challenge.Rule.Balls
		best, _ := p.best(41-n, func(k int) Session { return all.part(k, n) })
		best.number()
		p.anew(best)
	}},
	{way: CalledWarmUp, game: func(p *Part) {
		all, n := p.more(0, p.Challenge.Rule.Balls+10), p.Challenge.Rule.Balls
		p.anew(all)
		if _, k := p.best(11, func(k int) Session { return all.part(k, n) }); k > 0 {
			p.Acts[p.posted()].Said.Sets = fmt.Sprintf("1-%d warm-up", k)
		}
	}},
	{way: GoodTwice, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			rank := p.rank(*s)
			for i := range 5 {
				good, bad := s.part(rank[i], 1), &s.Balls[rank[len(rank)-1-i]]
				scaled(1.01, func(analysis.Number) bool { return true })(&good)
				good.Balls[0].N = bad.N
				bad.Shot = good.Balls[0].Shot
			}
		})
	}},
	{way: ShortChips, alone: scatters, game: func(p *Part) {
		p.otherwise(func(f *form) { f.speed = p.Member.reach(p.Challenge.Rule.club(), 20*analysis.Yard) })
	}},
	{way: SomebodyBetter, beyond: true, game: func(p *Part) {
		p.otherwise(func(f *form) { f.wide *= 0.7 })
	}},
	{way: Quartered, alone: sideways, game: func(p *Part) {
		p.rewrite(scaled(0.25, func(n analysis.Number) bool { return n == analysis.Lateral }))
	}},
	{way: HalvedAlike, beyond: true, game: func(p *Part) { p.rewrite(scaled(0.5, isSideways)) }},
	{way: TypesFigures, alone: sideways, game: func(p *Part) {
		p.rewrite(func(s *Session) {
			first, _ := s.Balls[0].Value(analysis.Carry)
			s.each(func(n analysis.Number, v float64) float64 {
				switch n { // half as far from the middle, to .0 and .5
				case analysis.Lateral:
					return s.half(v / 2)
				case analysis.Carry:
					return s.half((v + first) / 2)
				}
				return v
			})
		})
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

// best is the best by score of n sessions, and which.
func (p *Part) best(n int, of func(k int) Session) (best Session, at int) {
	for k := range n {
		if s := of(k); k == 0 || p.score(s) < p.score(best) {
			best, at = s, k
		}
	}
	return best, at
}

// before enters the best of five sessions hit in the days before the challenge
// opened, changed. It is handed over when the honest one would have been.
func (p *Part) before(change func(s *Session)) {
	n, at := len(p.session().Balls), p.Acts[p.posted()].At
	best, _ := p.best(5, func(k int) Session {
		f := p.form(chance(p.seed, "before", p.Member.Name, k))
		return p.hit(k+1, n, p.Challenge.Opens.AddDate(0, 0, -2-k).Add(9*time.Hour), f)
	})
	change(&best)
	p.anew(best)
	p.Acts[p.posted()].At = at
	p.Acts[len(p.Acts)-1].At = at.Add(3 * time.Minute)
}

// copy enters the best of what the others posted, changed, as one's own, an hour
// after it was posted.
func (p *Part) copy(change func(s *Session)) {
	if len(p.others) == 0 {
		return
	}
	best, _ := p.best(len(p.others), func(k int) Session { return p.others[k].clone() })
	best.Player = p.Member.Name
	change(&best)
	best.number()
	best.move(best.Start().Add(70 * time.Minute))
	p.anew(best)
}

// otherwise hits the session that is entered in another form.
func (p *Part) otherwise(change func(f *form)) {
	f := p.form(chance(p.seed, "otherwise", p.Member.Name))
	change(&f)
	p.anew(p.hit(1, len(p.session().Balls), p.start, f))
}

// sandbag hits all sessions of the past aimed so many m right where they land, and
// with wider swings.
func (p *Part) sandbag(aim, wide float64) {
	for i, a := range p.Acts {
		if a.Do != Posts || !a.At.Before(p.Challenge.Opens) {
			continue
		}
		carry, _ := a.Session.Balls[0].Value(analysis.Carry)
		f := p.form(chance(p.seed, "sandbag", p.Member.Name, i))
		f.aim, f.wide = math.Atan(aim/carry), wide
		p.Acts[i].Session = p.hit(200+i, len(a.Session.Balls), a.Session.Start(), f)
	}
}

// spoilWorst hits eight balls more than are asked for, and does something to the
// three worst rows.
func (p *Part) spoilWorst(spoil func(b *Ball)) {
	s := p.more(0, p.Challenge.Rule.Balls+8)
	for range 3 {
		spoil(&s.Balls[p.worst(s)])
	}
	p.anew(s)
}

// sideways is the number without which a ball does not count.
func (p *Part) sideways() analysis.Number {
	needs := p.Challenge.Rule.needs()
	return needs[len(needs)-1]
}

func isSideways(n analysis.Number) bool { return n.Info().Sideways }

// scaled multiplies some numbers of every ball.
func scaled(by float64, which func(n analysis.Number) bool) func(s *Session) {
	return func(s *Session) {
		s.each(func(n analysis.Number, v float64) float64 {
			if which(n) {
				return by * v
			}
			return v
		})
	}
}

// rank orders the balls of a session, the best for the rule first.
func (p *Part) rank(s Session) []int {
	r := p.Challenge.Rule
	carry, _ := analysis.Values(s.shots(), analysis.Carry)
	middle := slices.Sorted(slices.Values(carry))[len(carry)/2]
	far := func(i int) float64 {
		b := s.Balls[i]
		side, _ := b.Value(analysis.Lateral)
		long, _ := b.Value(analysis.Carry)
		switch {
		case b.Club != r.club() || !b.Has(p.sideways()):
			return -1 // no longer in it
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
