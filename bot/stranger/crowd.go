package stranger

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// quota is how many files one student hands over at most: the bot takes 120 an
// hour of one person (README).
const quota = 110

// crowd lets the people of every server use the bot until busy ends.
func (f *fleet) crowd() {
	f.busy.Store(true)
	for i, s := range f.p.servers {
		r := rand.New(rand.NewPCG(f.Seed, uint64(i)))
		f.going.Add(1)
		go func() {
			defer f.going.Done()
			for open := false; f.busy.Load() && f.wait(f.Pace/2+time.Duration(r.Int64N(int64(f.Pace)))); {
				open = f.turn(s, r, open)
			}
		}()
	}
}

// turn lets somebody of a server do one thing; open says whether a challenge is.
func (f *fleet) turn(s *Server, r *rand.Rand, open bool) bool {
	p := f.p
	m := s.Students[r.IntN(len(s.Students))]
	th := s.Threads[m.ID]
	switch k := r.IntN(20); {
	case k < 9:
		f.post(m, []*Channel{th, th, s.Range}[r.IntN(3)], r)
	case k < 12:
		p.Slash(m, th, "timeline", option{"number", "face"})
	case k < 15:
		f.figures(s, r)
	case k < 17:
		p.Slash(s.Coach, th, "cause", option{"student", m})
	case k < 18:
		p.Slash(s.Coach, s.Range, "roster")
	case k < 19:
		p.Slash(s.Coach, th, "lesson", option{"note", f.word()}, option{"student", m})
	default:
		// A challenge is told to everybody, at its opening and at its closing.
		if open {
			p.Slash(s.Coach, s.Range, "challenge close")
		} else {
			p.Slash(s.Coach, s.Range, "challenge open", option{"name", f.word()}, option{"rule", "nearest"},
				option{"club", "7i"}, option{"balls", 10}, option{"target", "150m"})
		}
		return !open
	}
	return open
}

// post lets a student hand a new file over.
func (f *fleet) post(m *Person, where *Channel, r *rand.Rand) *Ask {
	f.mu.Lock()
	f.count[m]++
	n := f.count[m]
	f.mu.Unlock()
	if n > quota {
		return nil
	}
	u := f.p.upload(m, n, r)
	f.mu.Lock()
	f.ups = append(f.ups, u)
	f.mu.Unlock()
	return f.p.Slash(m, where, "post", option{"file", u})
}

// figures presses a button of an answer that somebody of the server sees.
func (f *fleet) figures(s *Server, r *rand.Rand) {
	p := f.p
	var who *Person
	var on *Message
	p.mu.Lock()
	seen := 0
	for i := len(p.order) - 1; i >= 0 && seen < 4; i-- {
		m := p.order[i]
		if m.Channel.in != s || m.Author != p.Bot || m.Loading || m.Deleted || m.Ask == nil || len(list(m.body, "components")) == 0 {
			continue
		}
		if seen++; on == nil || r.IntN(seen) == 0 {
			on, who = m, m.Ask.Who
		}
	}
	p.mu.Unlock()
	if on == nil {
		return
	}
	for _, label := range p.buttons(on) {
		if strings.Contains(label, "figures") || strings.HasPrefix(label, "why") {
			p.Press(who, on, label)
			return
		}
	}
}

// sagas are words that nobody else uses, so that what is told of one is known.
var sagas = regexp.MustCompile(`saga \d+`)

func (f *fleet) word() string { return fmt.Sprintf("saga %d", f.sagas.Add(1)) }

// saga says whether a message is told of the bot's own accord: it is of a thing
// with such a word, or it is a direct message to a coach.
func (f *fleet) saga(m *Message) bool {
	if m.Channel.Type == directMessage {
		return f.p.owner(m) == f.p.around(m.Channel).Coach
	}
	return sagas.MatchString(f.p.text(m))
}

// throughput counts how many posts a minute are answered when everybody posts
// again as soon as they are.
func (f *fleet) throughput() float64 {
	var n atomic.Int64
	end := time.Now().Add(f.Measure)
	var all sync.WaitGroup
	for i, s := range f.p.servers {
		for j, m := range s.Students {
			r := rand.New(rand.NewPCG(f.Seed+7, uint64(100*i+j)))
			all.Go(func() {
				for time.Now().Before(end) && f.ctx.Err() == nil {
					a := f.post(m, s.Threads[m.ID], r)
					if a == nil {
						return
					}
					if _, told := f.p.wait(a, 20*time.Second); told && time.Now().Before(end) {
						n.Add(1)
					}
				}
			})
		}
	}
	all.Wait()
	return float64(n.Load()) / f.Measure.Minutes()
}
