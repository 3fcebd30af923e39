package stranger

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
)

// A Break is a promise that was broken.
type Break struct {
	Kind, Text string
	At         time.Duration // since the start
	Times      int
}

func (b Break) String() string {
	s := fmt.Sprintf("%8.3f %s: %s", b.At.Seconds(), b.Kind, b.Text)
	if b.Times > 1 {
		s += fmt.Sprintf(" (%d times)", b.Times)
	}
	return s
}

// A Judge looks on and keeps what was wrong. It knows only what people saw and
// what the documentation says.
type Judge struct {
	p     *Platform
	start time.Time

	mu     sync.Mutex
	breaks []Break
	gaps   map[string]int
	asks   []*Ask
	notice func(*Message) bool // what is said to nobody's asking, if the play has such

	// where several processes serve: that a shard's connection goes from one to
	// another, and that a process has it. The platform is locked.
	taken  func(shard, from, to int)
	served func(shard, pid int)

	// guarded by the platform's lock
	consent map[string]grant // by student: to the coach, and to their lesson thread
}

func newJudge(p *Platform) *Judge {
	return &Judge{p: p, start: time.Now(), gaps: map[string]int{}, consent: map[string]grant{}}
}

// break_ notes a broken promise; the same one is counted.
func (j *Judge) break_(kind, format string, a ...any) {
	text := fmt.Sprintf(format, a...)
	j.p.record.addf("BROKEN", "%s: %s", kind, text)
	j.mu.Lock()
	defer j.mu.Unlock()
	for i := range j.breaks {
		if j.breaks[i].Kind == kind && j.breaks[i].Text == text {
			j.breaks[i].Times++
			return
		}
	}
	j.breaks = append(j.breaks, Break{kind, text, time.Since(j.start), 1})
}

// gap notes that the stand-in lacks something that the platform has.
func (j *Judge) gap(format string, a ...any) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.gaps[fmt.Sprintf(format, a...)]++
}

func (j *Judge) asked(a *Ask) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.asks = append(j.asks, a)
}

// tells says whether a text holds numbers of a student's. Of a file that is taken
// for two patterns, which luck makes of one in some hundreds, each half has
// figures of its own, so there only names tell.
func (j *Judge) tells(s *Person, text string) bool {
	if strings.Contains(strings.ToLower(text), "two patterns") {
		return strings.Contains(text, s.style.word)
	}
	return s.style.fingerprint.MatchString(strings.ToLower(text))
}

// A grant is what a student allows: from, until when (zero: still).
type grant struct {
	given bool
	until time.Time
}

func (g grant) at(t time.Time) bool { return g.given && (g.until.IsZero() || t.Before(g.until)) }

// mayRead says whether somebody may see a student's numbers, when the request
// that shows them reached the platform at t.
func (j *Judge) mayRead(s *Person, reader string, t time.Time) bool {
	return reader == s.ID || reader == s.in.Coach.ID && j.consent[s.ID].at(t)
}

// agreed notes that a student may have agreed to their coach from now on;
// withdrawn, that it is confirmed to them that their coach sees nothing more.
func (j *Judge) agreed(s *Person) {
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	j.consent[s.ID] = grant{given: true}
}

func (j *Judge) withdrawn(s *Person, at time.Time) {
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	j.consent[s.ID] = grant{given: true, until: at}
	j.p.record.addf("consent", "%s has taken it back", s.Name)
}

// shown looks at a message that people now see.
func (j *Judge) shown(m *Message, how string) {
	text := j.p.text(m)
	who := j.p.audience(m)
	j.p.record.addf("shown", "%s %s %s to %d: %s", how, m.ID, j.where(m), len(who), cutTo(strings.ReplaceAll(text, "\n", " | "), 4000))
	if m.Author != j.p.Bot {
		return
	}
	for _, s := range j.p.around(m.Channel).Students {
		if !j.tells(s, text) {
			continue
		}
		if m.Only == nil && m.Channel == s.in.Threads[s.ID] && j.consent[s.ID].at(j.p.arrived) {
			continue // in the student's own lesson thread
		}
		for _, r := range who {
			if !j.mayRead(s, r, j.p.arrived) {
				since := ""
				if g := j.consent[s.ID]; r == s.in.Coach.ID && g.given && !g.until.IsZero() {
					since = fmt.Sprintf(", %v after that was taken back and confirmed", j.p.arrived.Sub(g.until).Round(time.Millisecond))
				}
				j.break_("numbers shown", "%s reads of %s%s in message %s (%s): %s", j.p.people[r].Name, s.Name, since, m.ID, j.where(m), cutTo(text, 200))
				break
			}
		}
	}
}

func (j *Judge) where(m *Message) string {
	s := place(m.Channel)
	if m.Only != nil {
		s += " for " + m.Only.Name + " alone"
	}
	if m.Ask != nil {
		s += fmt.Sprintf(" (ask %d)", m.Ask.N)
	}
	return s
}

func cutTo(s string, n int) string {
	if len(s) > n {
		return s[:n] + "..."
	}
	return s
}

// choices looks at suggestions, which the asker alone sees.
func (j *Judge) choices(a *Ask) {
	var all []string
	for _, c := range a.choices {
		all = append(all, str(c, "name"))
	}
	j.private(a, "suggestions", strings.Join(all, "\n"))
}

// modal looks at a form, which the asker alone sees.
func (j *Judge) modal(a *Ask) {
	var all []string
	all = append(all, str(a.modal, "title"))
	each(a.modal["components"], func(m obj) {
		all = append(all, str(m, "label"), str(m, "value"), str(m, "placeholder"), str(m, "description"), str(m, "content"))
	})
	j.private(a, "form", strings.Join(all, "\n"))
}

func (j *Judge) private(a *Ask, what, text string) {
	j.p.record.addf("shown", "%s of ask %d to %s: %s", what, a.N, a.Who.Name, strings.ReplaceAll(text, "\n", " | "))
	for _, s := range a.Who.in.Students {
		if j.tells(s, text) && !j.mayRead(s, a.Who.ID, j.p.arrived) {
			j.break_("numbers shown", "%s reads of %s in a %s: %s", a.Who.Name, s.Name, what, cutTo(text, 300))
		}
	}
}

// refusals looks for a minute with too many answers in the 400s. Those that
// the platform does not hold against a bot (429s of scope shared) count too:
// the bound is on knocking at a shut door.
func (j *Judge) refusals(limit int) int {
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	most := 0
	from := 0
	for to := range j.p.refused {
		for j.p.refused[to].at.Sub(j.p.refused[from].at) > time.Minute {
			from++
		}
		most = max(most, to-from+1)
	}
	if most >= limit {
		by := map[string]int{}
		for _, r := range j.p.refused {
			by[fmt.Sprintf("%d %s", r.status, r.what)]++
		}
		j.break_("too many refused requests", "%d in a minute: %v", most, by)
	}
	return most
}

// all are the breaks, gaps of the stand-in's behind them.
func (j *Judge) all() (breaks []Break, gaps []string) {
	j.mu.Lock()
	defer j.mu.Unlock()
	for g, n := range j.gaps {
		gaps = append(gaps, fmt.Sprintf("%s (%d times)", g, n))
	}
	slices.Sort(gaps)
	return slices.Clone(j.breaks), gaps
}
