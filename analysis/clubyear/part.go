package clubyear

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// Doing is what somebody does.
type Doing string

// The doings.
const (
	Announces Doing = "announces"
	Posts     Doing = "posts"
	Enters    Doing = "enters"
	Withdraws Doing = "withdraws"
)

// An Act is one thing done at a time.
type Act struct {
	At      time.Time
	Do      Doing
	Session Session // of Posts
	Said    Said    // of Posts
	Posted  int     // of Enters: which of the part's acts posted it
}

// A Part is what one member does about one challenge, practice before it included,
// with the truth. Acts are in the order of their times.
type Part struct {
	Member    Member
	Challenge Challenge
	Acts      []Act

	Way    Way    // "" of the honest
	Mishap Mishap // "" where all went well
	Due    State  // what an honest entry is owed at the end; "" of the gamed and the forgotten

	start  time.Time
	skill  func() float64
	golfer golfer // as they are at the time
	reach  float64
	others []Session // what the others posted for the challenge
	seed   uint64
}

// newPart is an honest part in which all goes well, so many years into the year.
func newPart(m Member, c Challenge, years float64, seed uint64) *Part {
	p := &Part{Member: m, Challenge: c, Due: Accepted, seed: seed}
	p.skill = sync.OnceValue(func() float64 { return c.Rule.skill(m, years) })
	if c.Rule.Kind == Within && !m.Device.hasClub() {
		p.Member.Device = Bay // nobody measures a face with a box: the club's bay is free
	}
	p.reach = m.reach(c.Rule.club(), c.Rule.Target)
	p.golfer = m.golfer.at(years)
	rng := chance(seed, c.Number, m.Name, "part")
	if c.Rule.Kind == Progress {
		for k := range 4 {
			// In the weeks in which no challenge runs.
			at := c.Opens.AddDate(0, 0, -4-14*(3-k)).Add(time.Duration(540+rng.IntN(60)) * time.Minute)
			p.golfer = m.golfer.at(years - pastYears*float64(3-k)/3)
			p.post(p.hit(100+k, 25, at, p.form(rng)), p.said())
		}
		p.golfer = m.golfer.at(years)
	}
	p.start = c.Opens.AddDate(0, 0, rng.IntN(5)).Add(time.Duration(540+rng.IntN(90)) * time.Minute)
	if rng.IntN(5) == 0 {
		p.Acts = append(p.Acts, Act{At: p.start.Add(-5 * time.Minute), Do: Announces})
	}
	p.enter(p.post(p.hit(0, c.Rule.Balls+2+rng.IntN(9), p.start, p.form(rng)), p.said()))
	return p
}

// Skill is the golfer's long-run score under the rule: less is better.
func (p *Part) Skill() float64 { return p.skill() }

// form is how the golfer is on a day: face 0.4 deg off, scatter 7 % more or less.
func (p *Part) form(rng *rand.Rand) form {
	return form{
		face: 0.4 * analysis.Degree * rng.NormFloat64(), wide: math.Exp(0.07 * rng.NormFloat64()), speed: p.reach,
		wind: panel.Wind{Speed: 0.6 * rng.ExpFloat64(), From: 2 * math.Pi * rng.Float64()},
	}
}

// hit is session k of the part: same k, same balls.
func (p *Part) hit(k, balls int, start time.Time, f form) Session {
	m := p.Member
	m.golfer = p.golfer
	return m.hit(p.Challenge.Rule.club(), balls, start, f, chance(p.seed, p.Challenge.Number, m.Name, "hit", k))
}

// more is another session of the same evening, k times 45 minutes on; number 0 is
// in place of the first.
func (p *Part) more(k, balls int) Session {
	return p.hit(k, balls, p.start.Add(time.Duration(k)*45*time.Minute), p.form(chance(p.seed, p.Challenge.Number, p.Member.Name, "form", k)))
}

func (p *Part) said() Said {
	if p.Member.RangeBalls {
		return Said{Ball: "range"}
	}
	return Said{Ball: "new"}
}

// post hands a session over ten minutes after its last ball, or five after what was
// done last.
func (p *Part) post(s Session, said Said) (act int) {
	at := p.last()
	if n := len(s.Balls); n > 0 && s.Balls[n-1].At.Add(5*time.Minute).After(at) {
		at = s.Balls[n-1].At.Add(5 * time.Minute)
	}
	p.Acts = append(p.Acts, Act{At: at.Add(5 * time.Minute), Do: Posts, Session: s, Said: said})
	return len(p.Acts) - 1
}

func (p *Part) enter(posted int) {
	p.Acts = append(p.Acts, Act{At: p.last().Add(3 * time.Minute), Do: Enters, Posted: posted})
}

func (p *Part) last() time.Time {
	if len(p.Acts) == 0 {
		return time.Time{}
	}
	return p.Acts[len(p.Acts)-1].At
}

// posted is the act that posted what is entered last.
func (p *Part) posted() int {
	for _, a := range slices.Backward(p.Acts) {
		if a.Do == Enters {
			return a.Posted
		}
	}
	return -1
}

// session is what is entered last.
func (p *Part) session() Session { return p.Acts[p.posted()].Session }

// rewrite changes the session that is entered.
func (p *Part) rewrite(change func(s *Session)) {
	a := &p.Acts[p.posted()]
	a.Session = a.Session.clone()
	change(&a.Session)
}

// anew forgets that anything was posted since the challenge opened, and hands over
// sessions instead, of which the last is entered.
func (p *Part) anew(sessions ...Session) {
	p.Acts = p.Acts[:p.posted()]
	posted := -1
	for _, s := range sessions {
		posted = p.post(s, p.said())
	}
	p.enter(posted)
}

// past is what was posted before the challenge opened.
func (p *Part) past() (all [][]analysis.Shot) {
	for _, a := range p.Acts {
		if a.Do == Posts && a.At.Before(p.Challenge.Opens) {
			all = append(all, a.Session.shots())
		}
	}
	return all
}

// score is the plain one of a session, infinite where it has none.
func (p *Part) score(s Session) float64 {
	v, ok := p.Challenge.Rule.Score(s.shots(), p.Member.Left, p.past()...)
	if !ok {
		return math.Inf(1)
	}
	return v
}

// bad reports whether a session went worse than the golfer usually does, as far as
// its first balls tell.
func (p *Part) bad(s Session) bool {
	r := p.Challenge.Rule
	r.Balls = min(r.Balls, len(s.Balls))
	v, ok := r.Score(s.shots(), p.Member.Left, p.past()...)
	return ok && v > p.Skill()
}
