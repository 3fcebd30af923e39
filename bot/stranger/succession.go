package stranger

import (
	"net/http"
	"time"
)

// keepEvents is how long a session without a connection can be resumed. The
// documentation says "in time"; some minutes are common practice, no source.
const keepEvents = 3 * time.Minute

// jitter is the share of a limit that two processes' ways here may make of
// difference: beyond the limit is refused, beyond this as well is their fault.
const jitter = 0.1

// startsTooSoon counts an IDENTIFY, and says whether it is refused: one in five
// seconds of each group, a thousand a day (events/gateway.mdx, "Rate Limiting",
// "Session Start Limit" [P]).
func (p *Platform) startsTooSoon(c *connection, shard int, now time.Time) bool {
	group := shard % p.world.Concurrency
	last, before := p.gate.groups[group]
	p.gate.groups[group] = now
	p.gate.identifies = append(p.gate.identifies, now)
	gap := p.drawer.identifyGap
	if p.pids != nil && before && now.Sub(last).Seconds() < (1-jitter)*gap.Seconds() {
		p.judge.break_("identified too fast", "%sshard %d at %.3f, %v after the last of its group, want %v",
			by(c.pid), shard, now.Sub(p.judge.start).Seconds(), now.Sub(last).Round(time.Millisecond), gap)
	}
	if n := len(p.gate.identifies); p.pids != nil && n > 1000 {
		p.judge.break_("identified too often", "%d times in a day", n)
	}
	return before && now.Sub(last) < gap
}

// succeed lets a session's connection take the place of what its shard had
// before. Nobody takes a shard from a process that lives and runs: it either
// gave it up or had to notice that it lost it.
func (p *Platform) succeed(l *link, c *connection) {
	for _, old := range p.gate.sessions {
		if old.shard != l.shard || old.invalid || old.conn == c {
			continue
		}
		if h := old.conn; h != nil {
			if p.judge.taken != nil {
				p.judge.taken(l.shard, h.pid, c.pid)
			}
			if old == l || !p.world.Rivals {
				old.conn, old.left = nil, time.Now()
				go h.close(4000)
			}
		}
		if old != l && !p.world.Rivals {
			old.invalid = true
		}
	}
	if p.judge.served != nil {
		p.judge.served(l.shard, c.pid)
	}
}

// limitAll is the limit on all calls by token together. Answers to interactions
// are not bound to it (topics/rate-limits.mdx [P]).
func (p *Platform) limitAll(c *call) *answer {
	if p.world.PerSecond == 0 || !c.bot || c.webhook {
		return nil
	}
	for len(p.global) > 0 && p.arrived.Sub(p.global[0]) > time.Second {
		p.global = p.global[1:]
	}
	p.global = append(p.global, p.arrived)
	if len(p.global) <= p.world.PerSecond {
		return nil
	}
	p.overGlobal++
	if float64(len(p.global)) > (1+jitter)*float64(p.world.PerSecond) {
		p.judge.break_("global limit", "more than %d calls by token in a second, by a tenth and more", p.world.PerSecond)
	}
	after := time.Second - p.arrived.Sub(p.global[0])
	return &answer{status: 429, header: http.Header{
		"Retry-After": {"1"}, "X-Ratelimit-Global": {"true"}, "X-Ratelimit-Scope": {"global"},
	}, body: obj{"message": "You are being rate limited.", "retry_after": after.Seconds(), "global": true}}
}
