package stranger

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"time"
)

// act is the troubled time: people use the bot while everything happens to it.
func (y *play) act() {
	y.d.open.Store(true)
	defer y.d.open.Store(false)
	ctx, stop := context.WithTimeout(y.ctx, y.Trouble)
	defer stop()
	trouble := make(chan struct{})
	go func() {
		defer close(trouble)
		y.trouble(ctx)
	}()
	for y.sleep(ctx, time.Duration(60+y.r.IntN(500))*time.Millisecond) {
		y.turn()
	}
	<-trouble
}

// turn lets one person do one thing.
func (y *play) turn() {
	p, r := y.p, y.r
	s := p.Students[r.IntN(len(p.Students))]
	th := p.Threads[s.ID]
	place := []*Channel{th, th, p.Range}[r.IntN(3)]
	switch k := r.IntN(20); {
	case k < 6:
		p.Slash(s, place, "post", option{"file", y.file(s, 0.25)})
	case k < 9:
		p.Write(s, place, "<@"+p.Bot.ID+"> from this morning", y.file(s, 0.2))
	case k < 10:
		u := y.file(s, 0)
		m, _ := p.Write(s, p.Range, "my last bucket", u)
		p.OnMessage(s, "Read this session", m, u)
	case k < 11:
		p.Slash(s, place, "cause")
	case k < 12:
		p.Slash(s, place, "timeline", option{"number", "face"})
	case k < 13:
		p.slash(autocompletes, s, place, "cause", option{"session", ""})
	case k < 14:
		p.Slash(p.Coach, []*Channel{th, p.Range}[r.IntN(2)], []string{"roster", "review", "catch-up"}[r.IntN(3)])
	case k < 15:
		p.Slash(p.Coach, []*Channel{th, p.Range}[r.IntN(2)], "cause", option{"student", s})
	case k < 16:
		nosy := []*Person{p.Outsider, p.Manager, p.Students[r.IntN(len(p.Students))]}[r.IntN(3)]
		switch r.IntN(3) {
		case 0:
			p.Slash(nosy, p.Range, "cause", option{"student", s})
		case 1:
			p.Slash(nosy, p.Range, "timeline", option{"number", "face"}, option{"student", s})
		default:
			p.slash(autocompletes, nosy, p.Range, "cause", option{"student", s}, option{"session", ""})
		}
	case k < 17:
		y.consent(s)
	case k < 18:
		y.handOver(s)
	default:
		y.press()
	}
}

// file is a new file, or with the chance given one that was posted before.
func (y *play) file(s *Person, again float64) *Upload {
	if y.r.Float64() < again {
		for _, u := range y.ups {
			if u.Owner == s && y.r.IntN(3) == 0 {
				return u
			}
		}
	}
	y.count[s]++
	u := y.p.upload(s, y.count[s], y.r)
	y.ups = append(y.ups, u)
	return u
}

// handOver lets a student post with the message that stands in their thread.
func (y *play) handOver(s *Person) {
	y.p.mu.Lock()
	all := y.p.standing(y.p.Threads[s.ID])
	y.p.mu.Unlock()
	if len(all) == 0 {
		return
	}
	u := y.file(s, 0.25)
	a := y.p.Press(s, all[len(all)-1], "post a session")
	go func() {
		if _, told := y.p.wait(a, 5*time.Second); told {
			y.p.Submit(a, "", u)
		}
	}()
}

// press lets somebody press a button of a message that they see.
func (y *play) press() {
	p := y.p
	p.mu.Lock()
	var seen []*Message
	for _, m := range p.order {
		if m.Author == p.Bot && !m.Deleted && !m.Loading && len(list(m.body, "components")) > 0 {
			seen = append(seen, m)
		}
	}
	p.mu.Unlock()
	if len(seen) == 0 {
		return
	}
	m := seen[len(seen)-1-y.r.IntN(min(len(seen), 12))]
	p.mu.Lock()
	audience := p.audience(m)
	p.mu.Unlock()
	if len(audience) == 0 {
		return
	}
	who := p.people[audience[y.r.IntN(len(audience))]]
	labels := p.buttons(m)
	if len(labels) == 0 {
		p.Choose(who, m, y.r.IntN(3))
		return
	}
	label := labels[y.r.IntN(len(labels))]
	switch {
	case label == "share here", label == "delete it all", label == "take it back", label == "i agree", label == "no", label == "":
		return // shown openly by wish, or played elsewhere
	}
	var u *Upload
	if strings.HasPrefix(label, "post ") && slices.Contains(p.Students, who) {
		u = y.file(who, 0.25)
	}
	a := p.Press(who, m, label)
	go func() { // a form that opens is filled in
		if _, told := p.wait(a, 5*time.Second); !told {
			return
		}
		if p.takesFile(a) {
			p.Submit(a, "", u) // and nothing else: rows as well would be one too many
			return
		}
		p.Submit(a, "12 to 20 new, the rest old", nil)
	}()
}

// consent lets a student take consent back, wait, and agree again.
func (y *play) consent(s *Person) {
	p := y.p
	y.mu.Lock()
	busy := y.wavering[s]
	y.wavering[s] = true
	y.mu.Unlock()
	if busy {
		return
	}
	y.going.Add(1)
	go func() {
		defer y.going.Done()
		defer func() {
			y.mu.Lock()
			y.wavering[s] = false
			y.mu.Unlock()
		}()
		a := p.Slash(s, p.Range, "mine consent")
		if _, told := p.wait(a, 10*time.Second); !told {
			return
		}
		p.mu.Lock()
		m := a.original
		p.mu.Unlock()
		if m == nil {
			return
		}
		y.mu.Lock()
		delete(y.bound, s)
		y.mu.Unlock()
		b := p.Press(s, m, "take it back")
		if _, told := p.wait(b, 10*time.Second); !told {
			return
		}
		p.mu.Lock()
		at := b.toldAt
		p.mu.Unlock()
		text, _ := p.wait(b, 0)
		y.note("taking consent back was answered: %s", cutTo(text, 120))
		if !withdrawal.MatchString(text) {
			return
		}
		p.judge.withdrawn(s, at)
		time.Sleep(time.Second)
		p.Slash(p.Coach, p.Threads[s.ID], "cause", option{"student", s})
		p.Slash(s, p.Threads[s.ID], "cause")
		time.Sleep(time.Second)
		c := p.Slash(p.Coach, p.Threads[s.ID], "bind", option{"student", s})
		if _, told := p.wait(c, 10*time.Second); told {
			y.agree(s, c)
		}
	}()
}

// withdrawal is how a confirmed withdrawal reads, as seen.
var withdrawal = regexp.MustCompile(`(?i)sees? nothing|no longer|taken back|ended`)
