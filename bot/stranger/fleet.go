package stranger

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// FleetOptions say what to play with many processes that are one bot.
type FleetOptions struct {
	Binary, Dir string
	Description *Description // nil leaves requests unchecked
	Database    Database
	Seed        uint64
	World       World
	Processes   int
	Args, Env   []string // of every process, beside what a single one gets

	// Plays are what is done to them, in this order: "day" (nothing), "kills", "stop", "cut",
	// "fast", "immediate", "kill", "connections" (of the database), "upgrade",
	// "throughput".
	Plays   []string
	Kills   int
	Patient bool          // waits after most kills until all is served again
	Measure time.Duration // how long each half of "throughput" counts

	// Lease is how long a lease lives at most. Shards of the dead are served
	// again within two, all of them within one of the database's return; a
	// process is stopped for three and cut off for four.
	Lease    time.Duration
	Pace     time.Duration // between two things that the people of a server do
	Patience time.Duration // how long answers may take in the end
}

// A member is one place for a process of the fleet, and the one there now.
type member struct {
	*Process
	name  string
	proxy *proxy
	gone  bool // for good
}

// A stint is a time in which a process was stopped, or cut off.
type stint struct {
	pid      int
	name     string
	from, to time.Time
}

// A fleet is being played.
type fleet struct {
	FleetOptions
	ctx   context.Context
	p     *Platform
	r     *rand.Rand
	res   *Result
	going sync.WaitGroup

	mu      sync.Mutex // never held while the platform's is asked for
	members []*member
	names   map[int]string // by process id, of all there were
	running map[int]bool
	stopped map[int]bool
	stops   []stint
	cuts    []stint
	outages map[int]*outage
	past    []*outage
	gaps    []time.Duration
	shaken  time.Time // when the database last came back
	ups     []*Upload
	count   map[*Person]int
	lateBy  time.Duration
	busy    atomic.Bool // people use the bot
	sagas   atomic.Int64
	killed  int
}

// PlayFleet plays one seed with many processes against each other's deaths.
func PlayFleet(ctx context.Context, o FleetOptions) (*Result, error) {
	if err := os.RemoveAll(o.Dir); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(o.Dir, 0o755); err != nil {
		return nil, err
	}
	name := filepath.Join(o.Dir, "transcript.txt")
	w, err := os.Create(name)
	if err != nil {
		return nil, err
	}
	defer w.Close()
	d := NewDrawer(0)
	d.identifyGap = o.Lease / 3
	p, err := newPlatform(o.World, d, o.Description, NewTranscript(w))
	if err != nil {
		return nil, err
	}
	defer p.Close()
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	f := &fleet{
		FleetOptions: o, ctx: ctx, p: p, r: rand.New(rand.NewPCG(o.Seed, 0xf1ee7)), res: &Result{Seed: o.Seed, Transcript: name},
		names: map[int]string{}, running: map[int]bool{}, stopped: map[int]bool{}, outages: map[int]*outage{}, count: map[*Person]int{},
	}
	p.pids = f.pids
	p.judge.taken, p.judge.served, p.judge.notice = f.taken, f.served, f.saga
	p.record.addf("seed", "fleet, seed %d, %+v, %v", o.Seed, o.World, o.Plays)
	defer func() {
		for _, m := range f.members {
			if m.alive() {
				m.cmd.Process.Signal(syscall.SIGCONT)
				m.kill()
			}
			m.proxy.close()
		}
	}()
	for range o.Processes {
		if _, err := f.add(); err != nil {
			return nil, err
		}
	}
	go f.watch()
	if err := f.settle(); err != nil {
		p.judge.break_("a plain day fails", "%v", err)
	} else {
		f.play()
	}
	f.verify()
	f.res.Breaks, f.res.Gaps = p.judge.all()
	for _, b := range f.res.Breaks {
		p.record.addf("verdict", "%s", b)
	}
	return f.res, nil
}

func (f *fleet) note(format string, a ...any) {
	n := fmt.Sprintf(format, a...)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.p.record.addf("note", "%s", n)
	f.res.Notes = append(f.res.Notes, n)
}

// wait sleeps, or less if the play is over.
func (f *fleet) wait(d time.Duration) bool {
	select {
	case <-f.ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
}

func (f *fleet) until(d time.Duration, what func() bool) bool {
	for end := time.Now().Add(d); time.Now().Before(end) && f.ctx.Err() == nil; time.Sleep(20 * time.Millisecond) {
		if what() {
			return true
		}
	}
	return what()
}

// add puts another process beside those there are.
func (f *fleet) add() (*member, error) {
	x, err := newProxy(f.Database.Dial)
	if err != nil {
		return nil, err
	}
	m := &member{name: fmt.Sprintf("process %d", len(f.members)+1), proxy: x}
	dir := filepath.Join(f.Dir, fmt.Sprint(len(f.members)+1))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	if m.Process, err = newProcess(f.p, f.Binary, dir); err != nil {
		return nil, err
	}
	m.db, m.env = f.Database.Address(x.address()), f.Env
	m.args = append([]string{"--shards", fmt.Sprint(f.World.Shards)}, f.Args...)
	f.mu.Lock()
	f.members = append(f.members, m)
	f.mu.Unlock()
	return m, f.begin(m)
}

// begin starts a member's process.
func (f *fleet) begin(m *member) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := m.start(); err != nil {
		return err
	}
	pid := m.cmd.Process.Pid
	f.names[pid], f.running[pid] = m.name, true
	go func(exited chan struct{}) {
		<-exited
		f.mu.Lock()
		defer f.mu.Unlock()
		delete(f.running, pid)
		delete(f.stopped, pid)
	}(m.exited)
	return nil
}

func (f *fleet) pids() (all []int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for pid := range f.running {
		all = append(all, pid)
	}
	return all
}

func (f *fleet) nameOf(pid int) string {
	f.mu.Lock()
	defer f.mu.Unlock()
	if n := f.names[pid]; n != "" {
		return fmt.Sprintf("%s (%d)", n, pid)
	}
	return fmt.Sprintf("a process unknown (%d)", pid)
}

// here are the members whose process runs.
func (f *fleet) here() (all []*member) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, m := range f.members {
		if m.alive() && !m.gone && !f.stopped[m.cmd.Process.Pid] {
			all = append(all, m)
		}
	}
	return all
}

// held are the shards that each process is connected for.
func (f *fleet) held() map[int][]int {
	f.p.mu.Lock()
	defer f.p.mu.Unlock()
	by := map[int][]int{}
	for _, l := range f.p.gate.sessions {
		if l.conn != nil && !l.invalid && !slices.Contains(by[l.conn.pid], l.shard) {
			by[l.conn.pid] = append(by[l.conn.pid], l.shard)
		}
	}
	return by
}

// unserved are the shards that none but the process given is connected for.
func (f *fleet) unserved(pid int) (all []int) {
	held := f.held()
	for i := range f.World.Shards {
		other := false
		for q, shards := range held {
			other = other || q != pid && slices.Contains(shards, i)
		}
		if !other {
			all = append(all, i)
		}
	}
	return all
}

// watch starts again what ended by itself, as a supervisor would, and notes how
// late this process itself is woken.
func (f *fleet) watch() {
	for f.ctx.Err() == nil {
		before := time.Now()
		time.Sleep(50 * time.Millisecond)
		late := time.Since(before) - 50*time.Millisecond
		f.mu.Lock()
		f.lateBy = max(f.lateBy, late)
		var ended []*member
		for _, m := range f.members {
			if !m.gone && !m.alive() && !m.meant {
				m.meant = true
				ended = append(ended, m)
			}
		}
		shaken := time.Since(f.shaken) < 2*f.Lease
		f.mu.Unlock()
		for _, m := range ended {
			f.hit("an end of its own", f.unserved(m.cmd.Process.Pid))
			if shaken {
				f.note("%s ended by itself, with status %d, as the database was away: %s", m.name, m.code, m.lastLine())
			} else {
				f.p.judge.break_("ended by itself", "%s, with status %d: %s", m.name, m.code, m.lastLine())
			}
			f.again(m, f.Lease/3)
		}
	}
}

// again starts a member once more, later.
func (f *fleet) again(m *member, after time.Duration) {
	f.going.Add(1)
	go func() {
		defer f.going.Done()
		f.wait(after)
		if f.ctx.Err() == nil && !m.alive() && !m.gone {
			if err := f.begin(m); err != nil {
				f.p.judge.break_("not restarted", "%v", err)
			}
		}
	}()
}

// settle is the plain day: all shards are up, the servers get their coaches, the
// students agree to theirs.
func (f *fleet) settle() error {
	p := f.p
	began := time.Now()
	starts := time.Duration(1+f.World.Shards/f.World.Concurrency) * f.p.drawer.identifyGap
	if !f.until(30*time.Second+2*starts+2*f.Lease, func() bool { return len(f.unserved(0)) == 0 && p.registered("post", 1) != nil }) {
		return fmt.Errorf("shards %v are not up, or /post is not registered, %v after the start", f.unserved(0), time.Since(began).Round(time.Second))
	}
	f.note("all %d shards were up %v after the start", f.World.Shards, time.Since(began).Round(100*time.Millisecond))
	errs := make([]error, len(p.servers))
	var all sync.WaitGroup
	for i, s := range p.servers {
		all.Go(func() { errs[i] = f.furnish(s) })
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	f.even("at first")
	return nil
}

// furnish sets one server up. What a process that is handing a shard over lets
// fall is asked once more.
func (f *fleet) furnish(s *Server) error {
	p := f.p
	do := func(what string, ask func() *Ask) (*Ask, error) {
		for range 3 {
			a := ask()
			if _, told := p.wait(a, 20*time.Second); told {
				return a, nil
			}
		}
		return nil, fmt.Errorf("%s was not answered on %s, three times", what, s.Name)
	}
	if _, err := do("/clubhouse coach", func() *Ask {
		return p.Slash(s.Manager, s.Range, "clubhouse coach", option{"role", roleID(s.CoachRole)})
	}); err != nil {
		return err
	}
	if o := p.options("clubhouse channel"); o["use"] == 5 {
		p.Slash(s.Manager, s.Range, "clubhouse channel", option{"use", true})
	} else if o["use"] == 3 {
		p.Slash(s.Manager, s.Range, "clubhouse channel", option{"use", "challenges"})
	}
	for _, m := range s.Students {
		th := s.Threads[m.ID]
		a, err := do("/bind", func() *Ask { return p.Slash(s.Coach, th, "bind", option{"student", m}) })
		if err != nil {
			return err
		}
		p.judge.agreed(m)
		if _, err := do("agreeing", func() *Ask { return p.Press(m, a.original, "agree") }); err != nil {
			return err
		}
		if _, err := do("/mine hand", func() *Ask { return p.Slash(m, th, "mine hand", option{"hand", "right"}) }); err != nil {
			return err
		}
	}
	return nil
}

// options are the types of a command's options as registered, by name.
func (p *Platform) options(name string) map[string]int {
	top, sub, _ := strings.Cut(name, " ")
	level := any(p.registered(top, 1))
	if sub != "" {
		for _, o := range list(level, "options") {
			if str(o, "name") == sub {
				level = o
			}
		}
	}
	kinds := map[string]int{}
	for _, o := range list(level, "options") {
		kinds[str(o, "name")] = num(o, "type")
	}
	return kinds
}
