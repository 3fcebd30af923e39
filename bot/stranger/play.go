package stranger

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
)

// Options say what to play.
type Options struct {
	Binary, Dir string       // the real binary, and a folder of this seed's own
	Description *Description // nil leaves requests unchecked
	Seed        uint64
	Without     []string      // of the drawer's (see Drawer.Without)
	Trouble     time.Duration // how long the drawer stays open
	Patience    time.Duration // how long answers may take once it is shut
	// Kills, if it is not 0, plays in place of the trouble: three requests
	// are acknowledged and cannot be finished, since the files do not come,
	// and the process is killed so many times.
	Kills int
}

// A Result is what came of a seed.
type Result struct {
	Seed       uint64
	Drawer     string
	Breaks     []Break
	Gaps       []string
	Notes      []string
	Transcript string
}

// A play is one seed being played.
type play struct {
	Options
	ctx context.Context
	p   *Platform
	d   *Drawer
	s   *Process
	r   *rand.Rand
	res *Result
	ups []*Upload

	mu       sync.Mutex
	count    map[*Person]int
	wavering map[*Person]bool
	bound    map[*Person]int // how many messages are to stand in their thread, nothing while nobody knows
	going    sync.WaitGroup
}

// Play plays one seed against the real binary.
func Play(ctx context.Context, o Options) (*Result, error) {
	if err := os.RemoveAll(o.Dir); err != nil { // a seed begins with an empty database
		return nil, err
	}
	if err := os.MkdirAll(o.Dir, 0o755); err != nil {
		return nil, err
	}
	name := filepath.Join(o.Dir, "transcript.txt")
	f, err := os.Create(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	d := NewDrawer(o.Seed)
	d.Without = o.Without
	p, err := NewPlatform(d, o.Description, NewTranscript(f))
	if err != nil {
		return nil, err
	}
	defer p.Close()
	p.record.addf("seed", "%s", d)
	s, err := newProcess(p, o.Binary, o.Dir)
	if err != nil {
		return nil, err
	}
	y := &play{Options: o, count: map[*Person]int{}, wavering: map[*Person]bool{}, bound: map[*Person]int{}, ctx: ctx, p: p, d: d, s: s, r: rand.New(rand.NewPCG(o.Seed, 0x5eed)), res: &Result{Seed: o.Seed, Drawer: d.String(), Transcript: name}}
	if err := s.start(); err != nil {
		return nil, err
	}
	defer s.kill()
	if err := y.settle(); err != nil {
		p.judge.break_("a plain day fails", "%v", err)
	} else if o.Kills > 0 {
		y.siege()
	} else {
		y.act()
	}
	y.calm()
	y.verify()
	y.res.Breaks, y.res.Gaps = p.judge.all()
	for _, b := range y.res.Breaks {
		p.record.addf("verdict", "%s", b)
	}
	return y.res, nil
}

func (y *play) note(format string, a ...any) {
	n := fmt.Sprintf(format, a...)
	y.mu.Lock()
	defer y.mu.Unlock()
	y.p.record.addf("note", "%s", n)
	y.res.Notes = append(y.res.Notes, n)
}

// until waits for something, or for too long.
func (y *play) until(d time.Duration, what func() bool) bool {
	for end := time.Now().Add(d); time.Now().Before(end) && y.ctx.Err() == nil; time.Sleep(20 * time.Millisecond) {
		if what() {
			return true
		}
	}
	return what()
}

// settle is the plain day before the trouble: the server gets its coaches and
// the students agree to theirs.
func (y *play) settle() error {
	p := y.p
	if !y.until(20*time.Second, func() bool { return p.Ready() && p.registered("post", 1) != nil }) {
		return fmt.Errorf("not ready in 20 s, or /post is not registered")
	}
	if _, told := p.wait(p.Slash(p.Manager, p.Range, "clubhouse coach", option{"role", roleID(p.CoachRole)}), 5*time.Second); !told {
		return fmt.Errorf("/clubhouse coach was not answered")
	}
	for _, s := range p.Students {
		th := p.Threads[s.ID]
		a := p.Slash(p.Coach, th, "bind", option{"student", s})
		if _, told := p.wait(a, 5*time.Second); !told {
			return fmt.Errorf("/bind was not answered")
		}
		if err := y.agree(s, a); err != nil {
			return err
		}
		if _, told := p.wait(p.Slash(s, th, "mine hand", option{"hand", "right"}), 5*time.Second); !told {
			return fmt.Errorf("/mine hand was not answered")
		}
	}
	return nil
}

// agree presses the button with which a student agrees.
func (y *play) agree(s *Person, a *Ask) error {
	p := y.p
	p.mu.Lock()
	m := a.original
	p.mu.Unlock()
	p.judge.agreed(s) // from the moment that they may have
	text, told := p.wait(p.Press(s, m, "agree"), 5*time.Second)
	if !told {
		return fmt.Errorf("agreeing was not answered")
	}
	if strings.Contains(text, "Agreed") {
		y.mu.Lock()
		y.bound[s] = 1
		y.mu.Unlock()
	}
	return nil
}

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

func (y *play) sleep(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
}

// siege kills the process again and again over the same unfinished requests.
func (y *play) siege() {
	p, s := y.p, y.s
	y.d.shut.Store(true)
	defer y.d.shut.Store(false)
	var asks []*Ask
	for _, student := range p.Students {
		asks = append(asks, p.Slash(student, p.Threads[student.ID], "post", option{"file", y.file(student, 0)}))
	}
	if !y.until(3*time.Second, func() bool {
		return !slices.ContainsFunc(asks, func(a *Ask) bool { acked, _, _ := p.state(a); return !acked })
	}) {
		p.judge.break_("a plain day fails", "three posts were not acknowledged")
	}
	for range y.Kills {
		s.kill()
		if err := s.start(); err != nil {
			p.judge.break_("not restarted", "%v", err)
			return
		}
		y.until(5*time.Second, p.Ready)
		y.sleep(y.ctx, 300*time.Millisecond)
	}
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

// trouble shakes process and link until the time is over.
func (y *play) trouble(ctx context.Context) {
	p, s := y.p, y.s
	r := rand.New(rand.NewPCG(y.Seed, 0x7e0))
	fatalUntil := time.Time{}
	for y.sleep(ctx, time.Duration(200+r.IntN(700))*time.Millisecond) {
		if s.alive() {
			s.measure()
		} else {
			if time.Now().Before(fatalUntil) {
				continue
			}
			if !s.meant {
				y.note("the process ended by itself: %s", s.lastLine())
			}
			p.judge.disturbed()
			if err := s.start(); err != nil {
				p.judge.break_("not restarted", "%v", err)
				return
			}
			continue
		}
		if how := y.d.shake(); how != "" {
			p.judge.disturbed()
			p.shake(how)
			fatalUntil = time.Now().Add(time.Second)
		}
		switch how := y.d.disturb(); how {
		case "kill":
			p.judge.disturbed()
			s.kill()
			fatalUntil = time.Now().Add(time.Duration(r.IntN(1500)) * time.Millisecond)
		case "three restarts":
			for range 3 {
				p.judge.disturbed()
				s.kill()
				s.start()
				y.sleep(ctx, time.Duration(r.IntN(400))*time.Millisecond)
			}
		case "terminate":
			p.judge.disturbed()
			began := time.Now()
			if !s.terminate(20 * time.Second) {
				p.judge.break_("SIGTERM ignored", "it still ran 20 s after SIGTERM")
			} else if d := time.Since(began); d > 5*time.Second {
				y.note("SIGTERM took %v", d.Round(10*time.Millisecond))
			}
		case "second":
			// What should come of it is not written anywhere; the other
			// promises hold with two as with one.
			before := p.connections()
			p.judge.disturbed()
			if took := s.second(15 * time.Second); took > 0 {
				y.note("a second process on the same database gave up after %v", took.Round(100*time.Millisecond))
			} else if p.connections() > before {
				y.note("a second process on the same database served beside the first for 15 s")
			} else {
				y.note("a second process on the same database waits, unconnected, for 15 s")
			}
		}
	}
}

// calm shuts the drawer and waits until everything is answered, or for too
// long.
func (y *play) calm() {
	p, s := y.p, y.s
	y.d.open.Store(false)
	p.record.addf("seed", "the drawer is shut")
	restart := func() {
		if err := s.start(); err != nil {
			p.judge.break_("not restarted", "%v", err)
		}
	}
	if !s.alive() {
		restart()
	} else if y.d.hours.Load() > 0 {
		// It was told to stay away for hours: nobody waits for that. A
		// restart makes it ask again.
		p.judge.disturbed()
		s.kill()
		restart()
	}
	back := y.until(45*time.Second, func() bool {
		if !s.alive() { // a close or a refusal from before may still end it
			y.note("the process ended by itself after the trouble: %s", s.lastLine())
			restart()
		}
		return p.Ready()
	})
	if !back {
		p.judge.break_("not back", "no session on the gateway 45 s after the trouble")
		s.kill()
		restart()
		y.until(20*time.Second, p.Ready)
	}
	y.going.Wait()
	shut := time.Now()
	y.until(y.Patience, func() bool {
		p.expire()
		time.Sleep(100 * time.Millisecond)
		if p.judge.open() > 0 {
			return false
		}
		y.sleep(y.ctx, 2*time.Second) // for what is acknowledged late, and for what may come twice
		return p.judge.open() == 0
	})
	y.note("all was answered %v after the trouble", time.Since(shut).Round(time.Second/10))
}

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
