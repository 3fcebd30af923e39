package clubyear

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"rangepost/analysis"
)

// A Host decides about entries that wait.
type Host string

// The hosts. A careful one looks, asks, and always learns the truth; a trusting
// one accepts whatever waits. A real one is somewhere between.
const (
	Careful  Host = "careful"
	Trusting Host = "trusting"
)

// accepts is what the host decides about a part's entry.
func (h Host) accepts(p *Part) bool { return h == Trusting || p.Due == Accepted || p.Due == Either }

// An Entry is what became of a part.
type Entry struct {
	Challenge int
	Rule      RuleKind
	Member    string
	Way       Way
	Mishap    Mishap
	Due       State
	Said      Verdict // of the last session entered, before a host decided
	Scored    bool    // it is in the placings
}

// A Year is what a product made of a club's.
type Year struct {
	Entries []Entry
	Results []Result             // by challenge, as Skills
	Skills  []map[string]float64 // true skill of those who took part; less is better
	Seasons [seasons]map[string]float64
}

// How often things happen to a part, of all parts.
const (
	forgets = 0.03 // posts and never enters
	errs    = 0.35
	cheats  = 0.08
)

// Parts is what the members do, by challenge, those who do anything. Of ways and
// mishaps the one that came least so far comes next.
func (l *Links) Parts() [][]*Part {
	ways, mishaps := map[Way]int{}, map[Mishap]int{}
	var all [][]*Part
	for _, c := range l.Challenges {
		rng := chance(l.seed, c.Number, "parts")
		var parts, gamed []*Part
		for _, m := range l.Members {
			gone, leaves := l.leaves[m.Name]
			if rng.Float64() > l.plays[m.Name] || leaves && gone.Before(c.Closes) {
				continue
			}
			p := newPart(m, c, l.years(c.Opens), l.seed)
			parts = append(parts, p)
			switch u := rng.Float64(); {
			case u < forgets:
				p.Acts = p.Acts[:len(p.Acts)-1]
				p.Due = ""
			case u < forgets+errs:
				p.befall(least(p.suit(), mishaps), rng)
			case u < forgets+errs+cheats:
				gamed = append(gamed, p)
			case m.Left:
				p.Mishap = LeftHander
			case m.Junior:
				p.Mishap = ShortJunior
			}
		}
		for _, p := range gamed {
			p.game(least(Ways(c.Rule.Kind), ways), parts)
		}
		all = append(all, parts)
	}
	return all
}

// least is the one that came least, and counts it.
func least[K comparable](of []K, came map[K]int) K {
	k := slices.MinFunc(of, func(a, b K) int { return cmp.Compare(came[a], came[b]) })
	came[k]++
	return k
}

// Play plays the club's year to a product.
func (l *Links) Play(product Product, host Host) Year {
	y := Year{Results: make([]Result, len(l.Challenges))}
	run := run{product: product, host: host}
	for _, m := range l.Members {
		run.add(l.Begins.AddDate(0, 0, -1), func() { product.Join(m, l.Begins.AddDate(0, 0, -1)) })
		if at, leaves := l.leaves[m.Name]; leaves {
			run.add(at, func() { product.Leave(m.Name, at) })
		}
	}
	for i, parts := range l.Parts() {
		c := l.Challenges[i]
		skills := map[string]float64{}
		for _, p := range parts {
			skills[p.Member.Name] = p.Skill()
		}
		y.Skills = append(y.Skills, skills)
		run.challenge(c, parts, func(r Result, entries []Entry) {
			y.Results[i] = r
			y.Entries = append(y.Entries, entries...)
		})
	}
	run.play()
	for s := range seasons {
		y.Seasons[s] = product.Season(s + 1)
	}
	return y
}

// A Contest is one challenge of a field of equals, who differ by hand, device and
// units alone and are all honest, but for one of them if there is a way.
type Contest struct {
	Rule Rule
	Size int
	Way  Way
	Seed uint64
	Zone *time.Location
	Side bool // all files have club and side alone, in whole units
}

// An Outcome is how a contest ended.
type Outcome struct {
	Contest Contest
	Members []Member
	Entries []Entry // by member
	Gamer   int     // which of them games it, or would
	Result  Result
}

// Play plays the contest to a product that has seen nothing yet.
func (c Contest) Play(product Product, host Host) Outcome {
	begins := time.Date(2029, time.March, 5, 8, 0, 0, 0, c.Zone)
	ch := Challenge{Number: 1, Season: 1, Rule: c.Rule, Opens: begins, Closes: begins.AddDate(0, 0, 6).Add(12 * time.Hour)}
	rng := chance(c.Seed, "contest")
	o := Outcome{Contest: c}
	run := run{product: product, host: host}
	var parts []*Part
	for i, k := range rng.Perm(c.Size) {
		m := member(fmt.Sprintf("Member%02d", i+1), k, 15, rng)
		m.Zone, m.Left, m.Junior, m.RangeBalls = c.Zone.String(), k%2 == 1, false, false
		m.golfer = golfer{world: "middle", speed: 45, face: m.golfer.face, bias: -2 * analysis.Degree}
		o.Members = append(o.Members, m)
		joins := begins.AddDate(0, 0, -60)
		run.add(joins, func() { product.Join(m, joins) })
		p := newPart(m, ch, 0, c.Seed)
		if c.Side {
			p.rewrite(func(s *Session) { sideAlone(s, nil) })
		}
		parts = append(parts, p)
	}
	if o.Gamer = rng.IntN(c.Size); c.Way != "" {
		parts[o.Gamer].game(c.Way, parts)
	}
	run.challenge(ch, parts, func(r Result, entries []Entry) { o.Result, o.Entries = r, entries })
	run.play()
	return o
}

// A run is a list of things to be done in the order of their times.
type run struct {
	product Product
	host    Host
	todo    []todo
}

type todo struct {
	at time.Time
	do func()
}

func (r *run) add(at time.Time, do func()) { r.todo = append(r.todo, todo{at, do}) }

func (r *run) play() {
	slices.SortStableFunc(r.todo, func(a, b todo) int { return a.at.Compare(b.at) })
	for _, t := range r.todo {
		t.do()
	}
}

// challenge lists all that is done about a challenge; ended hears of its end, once
// everything about it was done.
func (r *run) challenge(c Challenge, parts []*Part, ended func(Result, []Entry)) {
	var id string
	entries := make([]Entry, len(parts))
	r.add(c.Opens, func() { id = r.product.Open(c) })
	for i, p := range parts {
		e := &entries[i]
		*e = Entry{Challenge: c.Number, Rule: c.Rule.Kind, Member: p.Member.Name, Way: p.Way, Mishap: p.Mishap, Due: p.Due}
		sessions := map[int]string{}
		refused := map[int]Verdict{}
		for k, a := range p.Acts {
			r.add(a.At, func() {
				switch a.Do {
				case Announces:
					r.product.Announce(id, e.Member, a.At)
				case Posts:
					var v Verdict
					if sessions[k], v = r.product.Post(e.Member, a.Session.File(), a.Said, a.At); v.State != Accepted {
						refused[k] = v
					}
				case Withdraws:
					r.product.Withdraw(id, e.Member, a.At)
				case Enters:
					if v, ok := refused[a.Posted]; ok {
						e.Said = v
						return
					}
					if e.Said = r.product.Enter(id, e.Member, sessions[a.Posted], a.At); e.Said.State == Waits {
						r.product.Decide(id, e.Member, r.host.accepts(p), a.At)
					}
				}
			})
		}
	}
	var result Result
	r.add(c.Closes, func() { result = r.product.Close(id, c.Closes) })
	// After the latest that come too late.
	r.add(c.Closes.Add(2*time.Hour), func() {
		for i := range entries {
			entries[i].Scored = slices.ContainsFunc(result.Placings, func(p Placing) bool { return p.Member == entries[i].Member })
		}
		ended(result, entries)
	})
}
