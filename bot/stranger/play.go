package stranger

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
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

func (y *play) sleep(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
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
