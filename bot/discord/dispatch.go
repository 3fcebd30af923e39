package discord

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"rangepost/bot"
)

// The platform gives three seconds from the event; what the network took to
// bring it is not ours to spend.
const ackWithin = 2800 * time.Millisecond

// job is one request on its way.
type job struct {
	queue   *queue
	request bot.Request
	note    note
	resumed bool          // of the intake: a run before this one may have answered it
	urgent  bool          // does not wait behind its asker's other requests
	ready   chan struct{} // closed when written down and acknowledged
	drop    bool          // set before ready closes: nothing more to do
	given   bool          // to the other processes; queue.mu guards it
}

// queue takes requests in, each at once, and works through them: a few at a
// time, those of one person one after the other and in the order they came.
// What is urgent has a line and slots of its own.
type queue struct {
	a      *Adapter
	member *bot.Member // of a crew; nil where this process serves alone
	slots  *slots      // for work
	fetch  *slots      // for waiting for files
	urgent *slots      // for what must not wait behind work
	asked  *slots      // for answers that must come at once

	mu      sync.Mutex
	ctx     context.Context
	people  map[string][]*job // by line; the first one is under way
	active  map[string]bool   // request ids in the queue
	owed    map[string]int    // replies the line no longer waits for
	closing chan struct{}     // closed when no new work may start
	seating context.Context   // ends then too
	noSeats context.CancelFunc
	once    sync.Once
	wg      sync.WaitGroup

	ends sync.Mutex
	over bool // nothing may be added to wg any more
}

func newQueue(a *Adapter, m *bot.Member) *queue {
	return &queue{
		a:       a,
		member:  m,
		slots:   newSlots(a.cfg.Workers, a.cfg.Workers/2),
		fetch:   newSlots(a.cfg.Fetches, a.cfg.Fetches/4),
		urgent:  newSlots(4, 1),
		asked:   newSlots(16, 4),
		people:  map[string][]*job{},
		active:  map[string]bool{},
		owed:    map[string]int{},
		closing: make(chan struct{}),
	}
}

func (q *queue) start(ctx context.Context) {
	q.ctx = ctx
	q.seating, q.noSeats = context.WithCancel(ctx)
}

// event takes in an event of the gateway, and settles it when it is written down
// or there is nothing to write. It never blocks: the link's reader calls it.
func (q *queue) event(r bot.Request, n note, settle func()) {
	if q.member != nil && q.isClosing() {
		return // it is sent again to the process that serves next
	}
	n.Got = time.Now()
	r.Incident = bot.NewIncident()
	n.Ack = q.a.cfg.Bot.Ack(r)
	n.Hidden = n.Hidden && n.Ack == bot.AckUpdate || n.Ack == bot.AckPrivate
	j := &job{queue: q, request: r, note: n, urgent: q.a.cfg.Bot.Urgent(r), ready: make(chan struct{})}
	j.request.ReplyTo = n.text()

	if n.Ack == bot.AckImmediate {
		q.spawn(func() { q.answerAtOnce(j) })
		settle()
		return
	}
	switch q.enter(j) {
	case entered:
		q.spawn(func() { q.takeIn(j, settle) })
	case twice:
		q.a.metrics.duplicates.Inc()
		settle()
	case full:
		q.a.metrics.turnedAway.Inc()
		q.spawn(func() { q.turnAway(j) })
		settle()
	}
}

// resume takes in a request of the intake, unless it came to this run itself.
func (q *queue) resume(r bot.Request, began time.Time) {
	if r.Incident == "" { // taken in by an older version
		r.Incident = bot.NewIncident()
	}
	j := &job{queue: q, request: r, resumed: true, urgent: q.a.cfg.Bot.Urgent(r), ready: make(chan struct{})}
	if err := json.Unmarshal([]byte(r.ReplyTo), &j.note); err != nil {
		// Without a note there is still the channel.
		j.note = note{Ack: bot.AckPrivate, Hidden: true, Direct: r.Server == ""}
	}
	if q.member == nil && j.note.Got.After(began) {
		return
	}
	switch q.enter(j) {
	case full:
		if q.member != nil {
			q.spawn(func() { q.release(j) })
			return
		}
		q.a.log.Warn("more unanswered requests than the queue holds; the rest waits for the next start")
		return
	case twice:
		if q.member != nil {
			// It was sent again as well, and that is on its way to be dropped as one
			// that is known: given back, it is taken over at the next look.
			q.spawn(func() { q.release(j) })
		}
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

// line is whose line j stands in.
func (j *job) line() string {
	if j.urgent {
		return "urgent " + j.request.Asker.ID
	}
	return j.request.Asker.ID
}

// enter puts j at the end of its line, and starts on the line if nobody is
// working through it.
func (q *queue) enter(j *job) entry {
	q.mu.Lock()
	defer q.mu.Unlock()
	line := j.line()
	switch {
	case q.active[j.request.ID]:
		return twice
	case len(q.active) >= q.a.cfg.Queue || len(q.people[line]) >= q.a.cfg.PerUser:
		return full
	}
	q.active[j.request.ID] = true
	q.people[line] = append(q.people[line], j)
	q.count()
	if len(q.people[line]) == 1 {
		q.spawn(func() { q.walk(line) })
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

// walk works through a line until there is nobody in it.
func (q *queue) walk(line string) {
	for {
		q.mu.Lock()
		j := q.people[line][0]
		q.mu.Unlock()

		if reply, ok := q.work(j); ok {
			q.bring(j, reply)
		} else {
			q.leave(j)
			if q.isClosing() && !j.drop && !q.gave(j) {
				q.release(j)
			}
		}

		q.mu.Lock()
		q.people[line] = q.people[line][1:]
		if len(q.people[line]) == 0 {
			delete(q.people, line)
			q.mu.Unlock()
			return
		}
		q.mu.Unlock()
	}
}

// leave forgets j, which has been answered or is left to the next start.
func (q *queue) leave(j *job) {
	q.mu.Lock()
	defer q.mu.Unlock()
	delete(q.active, j.request.ID)
	q.count()
}

// count says how many are in the queue.
func (q *queue) count() {
	q.a.metrics.waiting.Set(float64(len(q.active)))
	q.a.health.waiting.Store(int64(len(q.active)))
}

// release gives j, on which no work was begun, to the other processes, if there
// are any.
func (q *queue) release(j *job) {
	if q.member == nil {
		return
	}
	ctx, cancel := context.WithTimeout(q.ctx, 2*time.Second)
	defer cancel()
	if err := q.member.Release(ctx, j.request.ID); err != nil && ctx.Err() == nil {
		q.a.log.Warn("could not give a request back; the end of this process does", "incident", j.request.Incident, "err", err)
	}
}

// bringWithin is how long a line waits for a reply to get through before it
// goes on. Deliveries may be owed for hours.
const bringWithin = 5 * time.Second

// bring delivers a reply. One that does not get through soon is delivered
// beside the line, unless too many of that line are already.
func (q *queue) bring(j *job, reply bot.Reply) {
	brought := make(chan struct{})
	q.wg.Go(func() { // not spawn: what was worked on is delivered while there is grace
		defer close(brought)
		defer q.leave(j)
		q.a.deliver(q.ctx, j, reply)
	})
	select {
	case <-brought:
		return
	case <-time.After(bringWithin):
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	line := j.line()
	if q.owed[line] >= q.a.cfg.PerUser {
		q.mu.Unlock()
		<-brought
		q.mu.Lock()
		return
	}
	q.owed[line]++
	q.wg.Go(func() {
		<-brought
		q.mu.Lock()
		defer q.mu.Unlock()
		if q.owed[line]--; q.owed[line] == 0 {
			delete(q.owed, line)
		}
	})
}

// work does j when it is ready, unless the adapter is stopping or there is
// nothing to do.
func (q *queue) work(j *job) (reply bot.Reply, ok bool) {
	select {
	case <-j.ready:
	case <-q.ctx.Done():
		return reply, false
	}
	if j.drop || q.isClosing() || q.gave(j) {
		return reply, false // the intake has it; the next start takes it up
	}
	return q.reply(j)
}

// reply works out the answer to j, as soon as there is a seat for it.
func (q *queue) reply(j *job) (reply bot.Reply, ok bool) {
	for attempt := 0; ; attempt++ {
		reply, ok = q.replyOnce(j)
		if !ok || !reply.Away || q.member == nil {
			return reply, ok
		}
		// Not a word of it: it goes on when the database is back, here or elsewhere.
		if !bot.Alive(q.ctx) || sleepWithin(q.seating, backOff(min(attempt, soon))) != nil {
			return reply, false
		}
	}
}

func (q *queue) replyOnce(j *job) (reply bot.Reply, ok bool) {
	at := &seat{work: q.slots, fetch: q.fetch, who: j.request.Asker.ID}
	if j.urgent {
		at.work = q.urgent
	}
	if at.work.take(q.seating, at.who) != nil {
		return reply, false
	}
	if q.isClosing() {
		at.over()
		return reply, false
	}
	began := time.Now()
	reply = q.handle(j, q.a.cfg.Within, at)
	if q.ctx.Err() != nil {
		return reply, false // cut short by the end of the grace period
	}
	q.a.metrics.worked(string(j.request.Kind), time.Since(began))
	return reply, true
}

func (q *queue) isClosing() bool {
	select {
	case <-q.closing:
		return true
	default:
		return false
	}
}

// handle asks the conversation for a reply. Should that take far too long or
// panic, the reply says so; its seat is given back when the conversation has
// returned, which may be later.
func (q *queue) handle(j *job, within time.Duration, at *seat) bot.Reply {
	ctx, cancel := context.WithTimeout(q.ctx, within)
	defer cancel()
	ctx = bot.WithAside(context.WithValue(ctx, seatKey{}, at), at.aside)
	replies := make(chan bot.Reply, 1)
	go func() {
		defer at.over()
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

// close makes that no new work is started. What waits in a line is given to the
// other processes, if there are any, without waiting for who is before it.
func (q *queue) close() {
	q.once.Do(func() {
		close(q.closing)
		q.noSeats()
		if q.member == nil {
			return
		}
		q.mu.Lock()
		defer q.mu.Unlock()
		for _, line := range q.people {
			for _, j := range line[1:] {
				j.given = true
				q.spawn(func() {
					select {
					case <-j.ready:
					case <-q.ctx.Done():
						return
					}
					if !j.drop {
						q.release(j)
					}
				})
			}
		}
	})
}

// gave reports whether j was given to the other processes.
func (q *queue) gave(j *job) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return j.given
}

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
