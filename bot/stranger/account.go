package stranger

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
)

// verify judges, at the end, what people saw and which process did what.
func (f *fleet) verify() {
	p := f.p
	_, acked, slowest := p.judge.answers()
	f.acknowledged()
	f.once()
	f.own()
	f.underOldLeases()
	f.cutOff()
	f.stored()
	for _, m := range f.members {
		for _, found := range m.secrets() {
			p.judge.break_("secret in the log", "%s of %s", found, m.name)
		}
		if m.has("panic:") || m.has("fatal error:") || m.has("DATA RACE") {
			p.judge.break_("panic", "see the log of %s", m.name)
		}
	}
	most := p.judge.refusals(400) // of which each death brings what was asked in the seconds before it
	f.mu.Lock()
	var dead, back []time.Duration
	for _, o := range f.past {
		if strings.Contains(o.what, "return") {
			back = append(back, o.to.Sub(o.since))
		} else {
			dead = append(dead, o.to.Sub(o.since))
		}
	}
	gaps := slices.Clone(f.gaps)
	files, late, kills := len(f.ups), f.lateBy, f.killed
	f.mu.Unlock()
	f.note("%d requests, %d acknowledged, %d files, slowest answer %v", len(p.judge.asks), acked, files, slowest.Round(time.Millisecond))
	f.note("%d kills; shards of processes that died, were stopped or cut off were served again after: %s", kills, distribution(dead))
	f.note("shards were served after the database's return: %s", distribution(back))
	f.note("a shard's links, from one to the next: %s", distribution(gaps))
	f.note("%d identifies, %d calls over the global limit, at most %d refused requests in a minute; this process itself was woken up to %v late", len(p.gate.identifies), p.overGlobal, most, late.Round(time.Millisecond))
}

// since is a time for people who read the transcript.
func (f *fleet) since(t time.Time) string {
	return fmt.Sprintf("%.3f", t.Sub(f.p.judge.start).Seconds())
}

// hands are the processes that an ask was given to.
func (f *fleet) hands(a *Ask) string {
	var all []string
	for _, t := range a.taken {
		all = append(all, f.nameOf(t.pid)+" at "+f.since(t.at))
	}
	if len(all) == 0 {
		return "nobody"
	}
	return strings.Join(all, ", ")
}

// acknowledged judges that what was asked of a shard in service was acknowledged
// in three seconds.
func (f *fleet) acknowledged() {
	excused, refused := 0, 0
	for _, a := range f.p.judge.asks {
		for _, x := range a.acts {
			if strings.HasSuffix(x.what, "/callback") && x.status >= 400 {
				refused++
			}
		}
		if a.acked() || a.Kind == byMention {
			continue
		}
		if f.excused(a) {
			excused++
			continue
		}
		late := ""
		for _, x := range a.acts {
			late += fmt.Sprintf(", %s tried at %s", f.nameOf(x.pid), f.since(x.at))
		}
		f.p.judge.break_("not acknowledged in 3 s", "ask %d of %s, %s, on shard %d, sent at %s to %s%s",
			a.N, a.Who.Name, a.What, f.p.shardOf(a.Channel.in), f.since(a.sent), f.hands(a), late)
	}
	f.note("%d requests fell into outages and were not taken, %d first responses came too late or second", excused, refused)
}

// once judges that what one process answered no other one answers anew: the
// same words in the same place are the same answer.
func (f *fleet) once() {
	same := 0
	for _, a := range f.p.judge.asks {
		var first *act
		for i, x := range a.acts {
			switch {
			case x.answer == "" || strings.HasSuffix(x.what, "/callback"):
			case first == nil || x.pid == first.pid:
				first = &a.acts[i]
			case x.answer == first.answer && !strings.HasPrefix(x.what, "POST"):
				same++
			default:
				f.p.judge.break_("answered twice", "ask %d of %s, %s: %s at %s (%s), then %s at %s (%s)", a.N, a.Who.Name, a.What,
					f.nameOf(first.pid), f.since(first.at), cutTo(first.answer, 80), f.nameOf(x.pid), f.since(x.at), cutTo(x.answer, 80))
			}
		}
	}
	f.note("%d answers were written again in their place, word for word, by a second process", same)
}

// own judges that what the bot tells of its own accord it tells once.
func (f *fleet) own() {
	p := f.p
	p.mu.Lock()
	defer p.mu.Unlock()
	told := map[string]*Message{}
	standing := map[*Channel]int{}
	n := 0
	for _, m := range p.order {
		if m.Author != p.Bot || m.Ask != nil || m.Deleted {
			continue
		}
		if stands(m) {
			if standing[m.Channel]++; standing[m.Channel] == 2 {
				p.judge.break_("not one pinned message", "a second one stands in %s, of %s", f.p.judge.where(m), f.nameOf(m.by))
			}
			continue
		}
		n++
		key := m.Channel.ID + p.text(m)
		if was := told[key]; was != nil {
			p.judge.break_("told twice", "in %s by %s at %s and by %s at %s: %s", p.judge.where(m),
				f.nameOf(was.by), f.since(was.At), f.nameOf(m.by), f.since(m.At), cutTo(p.text(m), 120))
		}
		told[key] = m
	}
	// A challenge is posted within a minute of its opening, so the bot says; the
	// next process gets as long as it needs to take that over.
	for _, a := range p.judge.asks {
		if !strings.HasPrefix(a.What, "/challenge open") || !a.told() || time.Since(a.toldAt) < time.Minute+2*f.Lease ||
			a.original == nil || !strings.Contains(p.text(a.original), "It is posted in") {
			continue
		}
		word := sagas.FindString(a.What)
		if !slices.ContainsFunc(p.order, func(m *Message) bool {
			return m.Author == p.Bot && m.Ask == nil && m.Channel == a.Channel && slices.Contains(sagas.FindAllString(p.text(m), -1), word)
		}) {
			p.judge.break_("never told", "ask %d of %s, %s, was confirmed at %s, and nobody in #%s has read of it", a.N, a.Who.Name, a.What, f.since(a.toldAt), a.Channel.Name)
		}
	}
	f.p.record.addf("note", "%d messages of the bot's own accord", n)
}

// underOldLeases judges that a process that was stopped past its leases did
// nothing more about what it had before.
func (f *fleet) underOldLeases() {
	for _, s := range f.stops {
		for _, a := range f.p.judge.asks {
			before := slices.ContainsFunc(a.taken, func(t taking) bool { return t.pid == s.pid && t.at.Before(s.to) })
			after := slices.ContainsFunc(a.taken, func(t taking) bool { return t.pid == s.pid && t.at.After(s.to) })
			if !before || after {
				continue
			}
			for _, x := range a.acts {
				if x.pid == s.pid && x.at.After(s.to) {
					f.p.judge.break_("acts under an old lease", "%s, stopped from %s to %s, sends %s about ask %d of %s at %s, answered with %d",
						f.nameOf(s.pid), f.since(s.from), f.since(s.to), x.what, a.N, a.Who.Name, f.since(x.at), x.status)
				}
			}
			for _, m := range a.alone {
				if m.by == s.pid && m.At.After(s.to) {
					f.p.judge.break_("acts under an old lease", "%s, stopped from %s to %s, writes a message in answer to ask %d at %s",
						f.nameOf(s.pid), f.since(s.from), f.since(s.to), a.N, f.since(m.At))
				}
			}
		}
	}
}

// cutOff judges that a process that cannot reach the database does nothing once
// its leases must have ended.
func (f *fleet) cutOff() {
	for _, s := range f.cuts {
		n := 0
		for _, w := range f.p.writes {
			if w.pid != s.pid || w.at.Before(s.from.Add(f.Lease)) || w.at.After(s.to) {
				continue
			}
			if n++; n <= 3 {
				f.p.judge.break_("acts though cut off", "%s, cut off from %s to %s, sends %s at %s", f.nameOf(s.pid), f.since(s.from), f.since(s.to), w.what, f.since(w.at))
			}
		}
		f.p.record.addf("note", "%s sent %d calls while it was cut off", s.name, n)
	}
}

// stored judges, by the export that every student may ask for, that each
// acknowledged post is kept once.
func (f *fleet) stored() {
	p := f.p
	by := map[*Upload][]*Ask{}
	for _, a := range p.judge.asks {
		if a.File != nil && a.acked() {
			by[a.File] = append(by[a.File], a)
		}
	}
	reader := &play{p: p}
	kept, honest := 0, 0
	var mu sync.Mutex
	var all sync.WaitGroup
	for _, s := range p.servers {
		all.Go(func() {
			for _, m := range s.Students {
				text, told := p.wait(p.Slash(m, s.Threads[m.ID], "mine export"), f.Patience)
				if !told {
					p.judge.break_("never answered", "/mine export of %s at the end", m.Name)
					return
				}
				mu.Lock()
				for _, u := range f.ups {
					if u.Owner != m {
						continue
					}
					n := strings.Count(text, "posted-"+u.Name)
					switch {
					case n > 1:
						p.judge.break_("stored twice", "%s of %s is %d sessions", u.Name, m.Name, n)
					case n == 1:
						kept++
					case reader.readOnce(u):
						p.judge.break_("lost", "%s of %s was answered and is not kept", u.Name, m.Name)
					case len(by[u]) > 0:
						a := by[u][0]
						_, _, text := p.state(a)
						for _, w := range a.alone {
							text += p.text(w)
						}
						if f.away(a) && failed.MatchString(text) {
							honest++ // and its student told so
							continue
						}
						p.judge.break_("lost", "%s of %s was acknowledged at %s and is not kept; its answer: %s", u.Name, m.Name, f.since(a.ackAt), cutTo(text, 160))
					}
				}
				mu.Unlock()
			}
		})
	}
	all.Wait()
	f.note("%d posts acknowledged, %d kept, %d more were told that the database was away and nothing kept", len(by), kept, honest)
}
