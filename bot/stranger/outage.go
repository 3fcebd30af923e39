package stranger

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

// An outage is a time in which a shard is not served, through no fault of the
// bot's as long as it is short.
type outage struct {
	shard    int
	what     string
	from, to time.Time
	since    time.Time // what has to be waited for from here on
	limit    time.Duration
	told     bool // that it is over the limit
	data     bool // it is the database that is away
}

// failed is how an answer reads that says that nothing was done, as seen: what
// went wrong is an incident (README, "Logs"), what was too much is to be asked
// again.
var failed = regexp.MustCompile(`(?i)incident|not taken this one`)

// hit notes that shards are not served from now on, and asks until they are.
// Shards that are still waiting wait from now on: what was to take them over
// may just have died.
func (f *fleet) hit(what string, shards []int) {
	f.expect(what, shards, 2*f.Lease)
}

func (f *fleet) expect(what string, shards []int, limit time.Duration) {
	now := time.Now()
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, o := range f.outages {
		o.since, o.limit = now, max(limit, o.limit)
	}
	for _, i := range shards {
		if o := f.outages[i]; o != nil {
			o.what, o.limit, o.data = what, limit, o.data || limit == time.Hour
			continue
		}
		o := &outage{shard: i, what: what, from: now, since: now, limit: limit, data: strings.Contains(what, "database") || strings.Contains(what, "cut off")}
		f.outages[i] = o
		go f.probe(o)
	}
	f.p.record.addf("outage", "%s: shards %v", what, shards)
}

// probe lets somebody ask again and again until what was asked since then is
// answered. They take turns, and wait a while for what was acknowledged: the bot
// works off what one person asks in its order.
func (f *fleet) probe(o *outage) {
	in := f.p.servers[slices.IndexFunc(f.p.servers, func(s *Server) bool { return f.p.shardOf(s) == o.shard })]
	turns := []*Person{in.Outsider, in.Manager, in.Coach}
	var asked []*Ask
	for next := time.Now(); f.ctx.Err() == nil; time.Sleep(10 * time.Millisecond) {
		busy := false
		if n := len(asked); n > 0 {
			acked, told, _ := f.p.state(asked[n-1])
			busy = acked && !told && time.Since(asked[n-1].sent) < f.Lease/5
		}
		if time.Now().After(next) && !busy {
			if a := f.p.Slash(turns[len(asked)%len(turns)], in.Range, "timeline", option{"number", "face"}); a != nil {
				asked = append(asked, a)
			}
			next = time.Now().Add(f.Lease / 15)
		}
		f.mu.Lock()
		since, limit := o.since, o.limit
		f.mu.Unlock()
		for _, a := range asked {
			if _, told, text := f.p.state(a); !told || failed.MatchString(text) || a.sent.Before(since) {
				continue
			}
			f.p.mu.Lock()
			at := a.toldAt
			f.p.mu.Unlock()
			f.mu.Lock()
			if o.since == since {
				o.to = at
				delete(f.outages, o.shard)
				f.past = append(f.past, o)
			}
			f.mu.Unlock()
			if !o.to.IsZero() {
				f.p.record.addf("outage", "shard %d is served again %v after %s", o.shard, at.Sub(since).Round(time.Millisecond), o.what)
				return
			}
		}
		if !o.told && time.Since(since) > limit {
			o.told = true
			f.p.judge.break_("not served again", "shard %d, %v after %s, nobody of %s is answered on it", o.shard, limit, o.what, in.Name)
		}
	}
}

// recovered waits until all shards are served.
func (f *fleet) recovered() {
	f.until(4*f.Lease, func() bool {
		f.mu.Lock()
		defer f.mu.Unlock()
		return len(f.outages) == 0
	})
}

// excused says whether an ask fell into an outage of its shard.
func (f *fleet) excused(a *Ask) bool {
	shard := f.p.shardOf(a.Channel.in)
	over := func(o *outage) bool {
		return o.shard == shard && a.sent.After(o.from.Add(-firstResponse)) && (o.to.IsZero() || a.sent.Before(o.to))
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if slices.ContainsFunc(f.past, over) {
		return true
	}
	for _, o := range f.outages {
		if over(o) {
			return true
		}
	}
	return false
}

// away says whether the database was away, for somebody at least, while an ask
// was worked on.
func (f *fleet) away(a *Ask) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	shard := f.p.shardOf(a.Channel.in)
	return slices.ContainsFunc(f.past, func(o *outage) bool {
		return o.shard == shard && o.data && a.sent.Before(o.to) && a.toldAt.After(o.from)
	})
}

// served notes that a process has a shard's connection.
func (f *fleet) served(shard, pid int) {
	var left time.Time
	for _, l := range f.p.gate.sessions {
		if l.shard != shard {
			continue
		}
		if l.conn != nil && l.conn.pid != pid {
			return // beside another's: no gap
		}
		if l.left.After(left) {
			left = l.left
		}
	}
	if left.IsZero() {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.gaps = append(f.gaps, time.Since(left))
	f.p.record.addf("outage", "shard %d goes to %d after %v without a connection", shard, pid, time.Since(left).Round(time.Millisecond))
}

// taken judges that one process takes a shard while another has its connection:
// only from one that is stopped.
func (f *fleet) taken(shard, from, to int) {
	f.mu.Lock()
	ok := from == to || !f.running[from] || f.stopped[from]
	a, b := f.names[to], f.names[from]
	f.mu.Unlock()
	if !ok {
		f.p.judge.break_("two hands on a shard", "%s (%d) takes shard %d while %s (%d) runs and is connected for it", a, to, shard, b, from)
	}
}

// distribution is how long something took.
func distribution(d []time.Duration) string {
	if len(d) == 0 {
		return "none"
	}
	d = slices.Sorted(slices.Values(d))
	at := func(q float64) time.Duration { return d[int(q*float64(len(d)-1)+0.5)].Round(10 * time.Millisecond) }
	return fmt.Sprintf("n %d, median %v, nine of ten %v, longest %v", len(d), at(0.5), at(0.9), at(1))
}
