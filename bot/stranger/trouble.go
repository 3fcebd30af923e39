package stranger

import (
	"context"
	"math/rand/v2"
	"slices"
	"time"
)

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
