package discord

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"golang.org/x/sync/semaphore"

	"rangepost/bot"
)

// The platform gives three seconds from the event; what the network took to
// bring it is not ours to spend.
const ackWithin = 2800 * time.Millisecond

// job is one request on its way.
type job struct {
	request bot.Request
	note    note
	ready   chan struct{} // closed when written down and acknowledged
	drop    bool          // set before ready closes: nothing more to do
}

// queue takes requests in, each at once, and works through them: a few at a
// time, those of one person one after the other and in the order they came.
type queue struct {
	a     *Adapter
	slots *semaphore.Weighted // for work
	asked *semaphore.Weighted // for answers that must come at once

	mu      sync.Mutex
	ctx     context.Context
	people  map[string][]*job // by person; the first one is under way
	active  map[string]bool   // request ids in the queue
	closing chan struct{}     // closed when no new work may start
	once    sync.Once
	wg      sync.WaitGroup

	ends sync.Mutex
	over bool // nothing may be added to wg any more
}

func newQueue(a *Adapter) *queue {
	return &queue{
		a:       a,
		slots:   semaphore.NewWeighted(int64(a.cfg.Workers)),
		asked:   semaphore.NewWeighted(16),
		people:  map[string][]*job{},
		active:  map[string]bool{},
		closing: make(chan struct{}),
	}
}

func (q *queue) start(ctx context.Context) { q.ctx = ctx }

// event takes in an event of the gateway. It never blocks: the link's reader
// calls it.
func (q *queue) event(r bot.Request, n note) {
	n.Got = time.Now()
	r.Incident = bot.NewIncident()
	n.Ack = q.a.cfg.Bot.Ack(r)
	n.Hidden = n.Hidden && n.Ack == bot.AckUpdate || n.Ack == bot.AckPrivate
	j := &job{request: r, note: n, ready: make(chan struct{})}
	b, err := json.Marshal(n)
	if err != nil {
		panic(err) // a struct of strings
	}
	j.request.ReplyTo = string(b)

	if n.Ack == bot.AckImmediate {
		q.spawn(func() { q.answerAtOnce(j) })
		return
	}
	switch q.enter(j) {
	case entered:
		q.spawn(func() { q.takeIn(j) })
	case twice:
		q.a.metrics.duplicates.Inc()
	case full:
		q.a.metrics.turnedAway.Inc()
		q.spawn(func() { q.turnAway(j) })
	}
}

// resume takes in a request of the intake, unless it came to this run itself.
func (q *queue) resume(r bot.Request, began time.Time) {
	if r.Incident == "" { // taken in by an older version
		r.Incident = bot.NewIncident()
	}
	j := &job{request: r, ready: make(chan struct{})}
	if err := json.Unmarshal([]byte(r.ReplyTo), &j.note); err != nil {
		// Without a note there is still the channel.
		j.note = note{Ack: bot.AckPrivate, Hidden: true, Direct: r.Server == ""}
	}
	if j.note.Got.After(began) {
		return
	}
	switch q.enter(j) {
	case full:
		q.a.log.Warn("more unanswered requests than the queue holds; the rest waits for the next start")
		return
	case twice:
		return
	}
	q.spawn(func() {
		defer close(j.ready)
		if time.Since(j.note.Got) < ackWithin {
			// It may have been written down and not yet acknowledged.
			q.acknowledge(j)
		}
	})
}

type entry int

const (
	entered entry = iota
	twice
	full
)

// enter puts j at the end of its person's line, and starts on the line if
// nobody is working through it.
func (q *queue) enter(j *job) entry {
	q.mu.Lock()
	defer q.mu.Unlock()
	who := j.request.Asker.ID
	switch {
	case q.active[j.request.ID]:
		return twice
	case len(q.active) >= q.a.cfg.Queue || len(q.people[who]) >= q.a.cfg.PerUser:
		return full
	}
	q.active[j.request.ID] = true
	q.people[who] = append(q.people[who], j)
	q.a.metrics.waiting.Set(float64(len(q.active)))
	if len(q.people[who]) == 1 {
		q.spawn(func() { q.line(who) })
	}
	return entered
}

// spawn runs f beside everything else, unless the queue has ended: what comes
// then was promised nothing, or is in the intake.
func (q *queue) spawn(f func()) {
	q.ends.Lock()
	defer q.ends.Unlock()
	if !q.over {
		q.wg.Go(f)
	}
}

// line works through a person's requests until there are none.
func (q *queue) line(who string) {
	for {
		q.mu.Lock()
		j := q.people[who][0]
		q.mu.Unlock()

		q.work(j)

		q.mu.Lock()
		delete(q.active, j.request.ID)
		q.a.metrics.waiting.Set(float64(len(q.active)))
		q.people[who] = q.people[who][1:]
		if len(q.people[who]) == 0 {
			delete(q.people, who)
			q.mu.Unlock()
			return
		}
		q.mu.Unlock()
	}
}

// work does j when it is ready, unless the adapter is stopping.
func (q *queue) work(j *job) {
	select {
	case <-j.ready:
	case <-q.ctx.Done():
		return
	}
	if j.drop {
		return
	}
	select {
	case <-q.closing:
		return // the intake has it; the next start takes it up
	default:
	}
	if q.slots.Acquire(q.ctx, 1) != nil {
		return
	}
	select {
	case <-q.closing:
		q.slots.Release(1)
		return
	default:
	}
	began := time.Now()
	reply := q.handle(j, q.a.cfg.Within, func() { q.slots.Release(1) })
	if q.ctx.Err() != nil {
		return // cut short by the end of the grace period
	}
	q.a.metrics.worked(string(j.request.Kind), time.Since(began))
	q.a.deliver(q.ctx, j, reply)
}

// handle asks the conversation for a reply. Should that take far too long or
// panic, the reply says so; done is called when the conversation has returned,
// which may be later.
func (q *queue) handle(j *job, within time.Duration, done func()) bot.Reply {
	ctx, cancel := context.WithTimeout(q.ctx, within)
	defer cancel()
	replies := make(chan bot.Reply, 1)
	go func() {
		defer done()
		defer func() {
			if v := recover(); v != nil {
				q.a.log.Error("a conversation panicked", "incident", j.request.Incident, "panic", fmt.Sprintf("%T", v), "stack", string(debug.Stack()))
				q.a.metrics.panics.Inc()
				replies <- bot.Broken(j.request.Incident)
			}
		}()
		replies <- q.a.cfg.Bot.Handle(ctx, j.request)
	}()
	select {
	case reply := <-replies:
		return reply
	case <-time.After(within + 5*time.Second): // it ignores its deadline
		q.a.log.Error("a conversation does not end", "incident", j.request.Incident, "kind", string(j.request.Kind))
		q.a.health.stuck.Add(1)
		go func() { <-replies; q.a.health.stuck.Add(-1) }()
		return bot.Stuck(j.request.Incident)
	}
}

// close makes that no new work is started.
func (q *queue) close() { q.once.Do(func() { close(q.closing) }) }

// wait takes in nothing more and waits for everything to return, for at most d.
func (q *queue) wait(d time.Duration) {
	q.ends.Lock()
	q.over = true
	q.ends.Unlock()
	ended := make(chan struct{})
	go func() { q.wg.Wait(); close(ended) }()
	select {
	case <-ended:
	case <-time.After(d):
	}
}
