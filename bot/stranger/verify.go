package stranger

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// verify asks, on a plain day again, what is stored, and judges the rest.
func (y *play) verify() {
	p, s := y.p, y.s
	missed, acked, slowest := p.judge.answers()
	y.note("%d requests acknowledged, %d not taken in 3 s, slowest answer %v, %d files", acked, missed, slowest.Round(time.Millisecond), len(y.ups))
	if missed > 0 && y.d.REST+y.d.Gateway+y.d.Process == 0 {
		p.judge.break_("not acknowledged in time", "%d of %d, and nothing was in the way", missed, missed+acked)
	}
	y.pinned()
	y.stored("at the end")
	read := map[*Upload]bool{}
	for _, u := range y.ups {
		read[u] = y.readOnce(u)
	}
	for _, u := range y.ups {
		if !read[u] {
			continue
		}
		a := p.Slash(u.Owner, p.Range, "post", option{"file", u})
		text, told := p.wait(a, 20*time.Second)
		switch {
		case !told:
			p.judge.break_("never answered", "%s posted again at the end, on a plain day", u.Name)
		case !strings.Contains(text, "one session"):
			p.judge.break_("not one session", "%s posted again: %s", u.Name, cutTo(text, 200))
		}
	}
	y.stored("after posting everything again")
	most := p.judge.refusals(200)
	y.note("at most %d refused requests in a minute, %d starts, %.0f MiB at most", most, s.starts, float64(s.peak)/1024)
	s.measure()
	if s.peak > 256<<10 {
		p.judge.break_("memory", "%d MiB", s.peak>>10)
	}
	s.terminate(20 * time.Second)
	for _, found := range s.secrets() {
		p.judge.break_("secret in the log", "%s", found)
	}
	if s.has("panic:") || s.has("fatal error:") || s.has("DATA RACE") {
		p.judge.break_("panic", "see bot.log")
	}
}

// pinned looks, in each lesson thread, for the one message with buttons that is
// to stand there for as long as its student agrees, and for none besides.
func (y *play) pinned() {
	p := y.p
	wrong := func() (all []string) {
		y.mu.Lock()
		defer y.mu.Unlock()
		p.mu.Lock()
		defer p.mu.Unlock()
		for _, s := range p.Students {
			least := y.bound[s]
			standing := p.standing(p.Threads[s.ID])
			if len(standing) < least || len(standing) > 1 || len(standing) == 1 && !standing[0].Pinned {
				all = append(all, fmt.Sprintf("%d messages with buttons stand in the thread of %s, want one, pinned (at least %d)", len(standing), s.Name, least))
			}
		}
		return all
	}
	// What is done of the bot's own accord is tried again every 20 s.
	y.until(75*time.Second, func() bool { return len(wrong()) == 0 })
	for _, w := range wrong() {
		p.judge.break_("not one pinned message", "%s", w)
	}
}

// readOnce says whether some answer showed a file as read.
func (y *play) readOnce(u *Upload) bool {
	p := y.p
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, a := range p.judge.asks {
		if a.File != u {
			continue
		}
		shown := slices.Clone(a.alone)
		if a.original != nil {
			shown = append(shown, a.original)
		}
		for _, m := range append(shown, a.follow...) {
			if text := p.text(m); balls(text)[u.Balls] && strings.Contains(text, "post.png") {
				return true
			}
		}
	}
	return false
}

// stored counts what is kept, by the files that `/mine export` hands over.
func (y *play) stored(when string) {
	p := y.p
	for _, s := range p.Students {
		text, told := p.wait(p.Slash(s, p.Range, "mine export"), 20*time.Second)
		if !told {
			p.judge.break_("never answered", "/mine export %s, on a plain day", when)
			continue
		}
		for _, u := range y.ups {
			if u.Owner != s {
				continue
			}
			n := strings.Count(text, "posted-"+u.Name)
			switch {
			case n > 1:
				p.judge.break_("stored twice", "%s is %d sessions %s", u.Name, n, when)
			case n == 0 && y.readOnce(u):
				p.judge.break_("lost", "%s was answered and is not kept %s", u.Name, when)
			}
		}
	}
}
