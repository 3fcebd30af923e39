package stranger

import (
	"slices"
	"syscall"
	"time"
)

// play does to the processes what the options say, while people use the bot.
func (f *fleet) play() {
	f.crowd()
	for _, what := range f.Plays {
		f.p.record.addf("play", "%s", what)
		switch what {
		case "day":
			f.wait(2 * f.Lease)
		case "kills":
			f.kills()
		case "stop":
			f.stop()
		case "cut":
			f.cut()
		case "upgrade":
			f.upgrade()
		case "throughput":
			f.compare()
			continue
		default:
			f.shake(what)
		}
		f.recovered()
		f.even("after " + what)
	}
	f.busy.Store(false)
	f.recovered()
	f.going.Wait()
	f.calm()
}

// between is a time drawn between two shares of a lease.
func (f *fleet) between(from, to float64) time.Duration {
	return time.Duration((from + (to-from)*f.r.Float64()) * float64(f.Lease))
}

// kills kills processes at random, and starts them again later.
func (f *fleet) kills() {
	for n := range f.Kills {
		f.until(f.Lease, func() bool { return len(f.here()) > 1 })
		here := f.here()
		if len(here) < 2 {
			f.p.judge.break_("not restarted", "one process alone is left before kill %d", n+1)
			return
		}
		m := here[f.r.IntN(len(here))]
		pid := m.cmd.Process.Pid
		shards := f.unserved(pid)
		f.p.record.addf("play", "kill %d: %s (%d), which has %v", n+1, m.name, pid, f.held()[pid])
		m.kill()
		f.hit("a kill", shards)
		f.killed++
		if !f.Patient {
			f.again(m, f.between(0.05, 0.25))
			f.wait(f.between(0.25, 0.4))
			continue
		}
		f.again(m, f.between(0.05, 1.3))
		if f.r.IntN(4) > 0 { // else the next one dies over it
			f.recovered()
		}
		f.wait(f.between(0.05, 0.6))
	}
}

// busiest is the process that has most shards.
func (f *fleet) busiest() *member {
	held := f.held()
	here := f.here()
	f.r.Shuffle(len(here), func(i, j int) { here[i], here[j] = here[j], here[i] })
	return slices.MaxFunc(here, func(a, b *member) int {
		return len(held[a.cmd.Process.Pid]) - len(held[b.cmd.Process.Pid])
	})
}

// stop stops a process for three leases. When it goes on it does not know.
func (f *fleet) stop() {
	m := f.busiest()
	pid := m.cmd.Process.Pid
	f.p.record.addf("play", "SIGSTOP %s (%d)", m.name, pid)
	from := time.Now()
	f.mu.Lock()
	f.stopped[pid] = true
	f.mu.Unlock()
	m.cmd.Process.Signal(syscall.SIGSTOP)
	f.hit("a process stopped", f.unserved(pid))
	f.wait(3 * f.Lease)
	to := time.Now()
	f.p.record.addf("play", "SIGCONT %s (%d)", m.name, pid)
	m.cmd.Process.Signal(syscall.SIGCONT)
	f.wait(f.Lease / 30) // it needs a moment to see what has become of its links
	f.mu.Lock()
	delete(f.stopped, pid)
	f.stops = append(f.stops, stint{pid, m.name, from, to})
	f.mu.Unlock()
	f.wait(f.Lease)
}

// cut cuts a process off from the database for four leases.
func (f *fleet) cut() {
	m := f.busiest()
	pid := m.cmd.Process.Pid
	how := []string{"refuse", "swallow"}[f.r.IntN(2)]
	f.p.record.addf("play", "%s (%d) is cut off: %s", m.name, pid, how)
	from := time.Now()
	m.proxy.cut(how)
	f.hit("a process cut off", f.unserved(pid))
	f.wait(4 * f.Lease)
	f.mu.Lock()
	f.cuts = append(f.cuts, stint{pid, m.name, from, time.Now()})
	f.shaken = time.Now()
	f.mu.Unlock()
	f.p.record.addf("play", "%s (%d) is let through again", m.name, pid)
	m.proxy.mend()
}

// shake breaks the database and has it back.
func (f *fleet) shake(how string) {
	all := make([]int, f.World.Shards)
	for i := range all {
		all[i] = i
	}
	f.p.record.addf("play", "the database: %s", how)
	f.mu.Lock()
	f.shaken = time.Now().Add(time.Hour)
	f.mu.Unlock()
	f.expect("the database's "+how, all, time.Hour)
	if err := f.Database.Break(how); err != nil {
		f.p.judge.break_("a plain day fails", "%v", err)
	}
	if how != "connections" {
		f.wait(f.between(0.05, 0.8))
	}
	if err := f.Database.Back(); err != nil {
		f.p.judge.break_("a plain day fails", "%v", err)
	}
	f.p.record.addf("play", "the database is back")
	f.mu.Lock()
	f.shaken = time.Now()
	for _, o := range f.outages {
		o.since, o.limit, o.what = f.shaken, f.Lease, "the database's return ("+how+")"
	}
	f.mu.Unlock()
}

// upgrade puts new processes beside the old ones and asks the old ones to end.
// Nothing is excused.
func (f *fleet) upgrade() {
	old := f.here()
	for range old {
		if _, err := f.add(); err != nil {
			f.p.judge.break_("not restarted", "%v", err)
			return
		}
	}
	f.until(2*f.Lease, func() bool {
		held := f.held()
		return !slices.ContainsFunc(f.here(), func(m *member) bool { return len(held[m.cmd.Process.Pid]) == 0 })
	})
	for _, m := range old {
		f.retire(m)
		f.wait(f.between(0.05, 0.3))
	}
	f.until(2*f.Lease, func() bool { return len(f.unserved(0)) == 0 })
	if left := f.unserved(0); len(left) > 0 {
		f.p.judge.break_("not served again", "shards %v, %v after all old processes ended on SIGTERM", left, 2*f.Lease)
	}
}

// retire asks a process to end, for good.
func (f *fleet) retire(m *member) {
	began := time.Now()
	f.mu.Lock()
	m.gone = true
	f.mu.Unlock()
	if !m.terminate(20 * time.Second) {
		f.p.judge.break_("SIGTERM ignored", "%s still ran after 20 s", m.name)
	} else if m.code != 0 {
		f.p.judge.break_("SIGTERM", "%s ended with status %d: %s", m.name, m.code, m.lastLine())
	}
	f.note("%s ended %v after SIGTERM", m.name, time.Since(began).Round(10*time.Millisecond))
}

// even judges that the shards are spread evenly, and stay so.
func (f *fleet) even(when string) {
	spread := func() (least, most int) {
		held := f.held()
		least = f.World.Shards
		for _, m := range f.here() {
			n := len(held[m.cmd.Process.Pid])
			least, most = min(least, n), max(most, n)
		}
		return least, most
	}
	f.until(3*f.Lease, func() bool { l, m := spread(); return m-l <= 1 })
	if l, m := spread(); m-l > 1 {
		f.p.judge.break_("not spread evenly", "%s, %v later, a process has %d shards and another %d: %v", when, 3*f.Lease, l, m, f.held())
	}
}

// compare measures one process, and two.
func (f *fleet) compare() {
	f.busy.Store(false)
	for _, m := range f.here()[1:] {
		f.retire(m)
	}
	f.until(2*f.Lease, func() bool { return len(f.unserved(0)) == 0 })
	f.wait(f.Lease)
	one := f.throughput()
	if _, err := f.add(); err != nil {
		f.p.judge.break_("not restarted", "%v", err)
		return
	}
	f.wait(f.Lease)
	f.even("with a second process")
	two := f.throughput()
	f.note("posts a minute: one process %.0f, two %.0f", one, two)
	if two <= one {
		f.p.judge.break_("no faster", "one process answers %.0f posts a minute, two %.0f", one, two)
	}
}

// calm waits until everything is answered, or for too long.
func (f *fleet) calm() {
	f.until(10*time.Second, func() bool { return len(f.here()) > 0 })
	f.until(f.Patience, func() bool {
		f.p.expire()
		f.wait(200 * time.Millisecond)
		if f.p.judge.open() > 0 {
			return false
		}
		f.wait(2 * time.Second) // for what may come twice
		return f.p.judge.open() == 0
	})
}
