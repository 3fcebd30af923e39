package discord

import (
	"context"
	"time"

	"rangepost/bot"
)

// intakeWithin is how much of the time for an acknowledgement the intake may
// take. Writing a request down takes milliseconds; a disk that is slower than
// this must not cost the acknowledgement.
const intakeWithin = 1500 * time.Millisecond

// takeIn writes j to the intake and acknowledges it, in this order: what was
// acknowledged survives the death of the process at any instant, which it
// could not if the acknowledgement came first.
func (q *queue) takeIn(j *job, settle func()) {
	defer close(j.ready)
	if q.member != nil {
		q.takeInAsOne(j, settle)
	} else {
		q.takeInAlone(j)
	}
}

// takeInAlone is takeIn where one process serves.
func (q *queue) takeInAlone(j *job) {
	a := q.a
	type written struct {
		fresh bool
		err   error
	}
	intake := make(chan written, 1)
	go func() {
		ctx, cancel := context.WithTimeout(q.ctx, 30*time.Second)
		defer cancel()
		fresh, err := a.cfg.Bot.Accept(ctx, j.request)
		intake <- written{fresh, err}
	}()
	var w written
	select {
	case w = <-intake:
		if w.err != nil || w.fresh {
			q.acknowledge(j)
		}
	case <-time.After(time.Until(j.note.Got.Add(intakeWithin))):
		a.log.Warn("the intake is slow; acknowledging before it", "incident", j.request.Incident)
		q.acknowledge(j)
		w = <-intake
	}
	switch {
	case w.err != nil && q.ctx.Err() != nil:
		j.drop = true
	case w.err != nil:
		q.notTaken(j, w.err)
	case !w.fresh:
		j.drop = true
		a.metrics.duplicates.Inc()
	}
}

// soon is how often a pause grows that the database's return ends: to four seconds.
const soon = 4

// takeInAsOne is takeIn where several processes serve. Nothing is acknowledged
// before it is written: one that is cut off from the database could not keep what it
// promised, and the others know nothing of it. It is tried until it is written, or
// this life ends; then whoever resumes the shard is sent it again. What trying does
// not help is said at once.
func (q *queue) takeInAsOne(j *job, settle func()) {
	for attempt := 0; ; attempt++ {
		ctx, cancel := context.WithTimeout(q.ctx, 30*time.Second)
		fresh, err := q.a.cfg.Bot.Accept(ctx, j.request)
		cancel()
		switch {
		case err == nil && fresh:
			q.acknowledge(j)
			settle()
			return
		case err == nil:
			j.drop = true
			q.a.metrics.duplicates.Inc()
			settle()
			return
		case bot.Lasting(err):
			q.acknowledge(j)
			settle()
			q.notTaken(j, err)
			return
		}
		q.a.log.Warn("could not write a request to the intake; trying on", "incident", j.request.Incident, "err", err)
		if !bot.Alive(q.ctx) || sleepWithin(q.ctx, backOff(min(attempt, soon))) != nil {
			j.drop = true
			return
		}
	}
}

// notTaken tells somebody that what they asked could not be written down.
func (q *queue) notTaken(j *job, err error) {
	j.drop = true
	q.a.log.Error("could not write a request to the intake", "incident", j.request.Incident, "err", err)
	q.a.deliver(q.ctx, j, bot.NotTakenIn(err, j.request.Incident))
}

// acknowledge tells the platform that an answer to j is coming. Under a message
// there is nothing to acknowledge; where its answer will appear, the bot is
// seen typing.
func (q *queue) acknowledge(j *job) {
	a := q.a
	ctx, cancel := context.WithDeadline(q.ctx, j.note.Got.Add(ackWithin))
	defer cancel()
	if j.note.Token == "" {
		if j.note.Direct || j.note.Ack == bot.AckPublic {
			err := a.rest.do(ctx, call{method: "POST", route: "/channels/{channel}/typing", args: []string{j.request.Channel}, quick: true})
			if err != nil {
				a.log.Debug("could not be seen typing", "incident", j.request.Incident, "err", err)
			}
		}
		return
	}
	err := a.callback(ctx, j.request, j.note, jsonBody(ackOf(j.note.Ack)))
	took := time.Since(j.note.Got)
	a.metrics.acknowledged(took, err)
	if err != nil {
		// Too late or no connection. The request is still worth doing: the
		// answer goes to the channel, or to the asker directly. Too late is said
		// for good: nothing was shown, and the token is not asked for once more.
		j.note.Late = tokenDead(err)
		a.log.Warn("could not acknowledge in time", "incident", j.request.Incident, "took", took.Round(time.Millisecond), "err", err)
		return
	}
	a.health.acked.Store(time.Now().UnixNano())
}

// answerAtOnce handles what needs no acknowledgement: a form to open, a
// completion while typing. Nothing is lost if it fails, so it is not written
// to the intake.
func (q *queue) answerAtOnce(j *job) {
	ctx, cancel := context.WithDeadline(q.ctx, j.note.Got.Add(ackWithin))
	defer cancel()
	at := &seat{work: q.asked, fetch: q.fetch, who: j.request.Asker.ID}
	if at.work.take(ctx, at.who) != nil {
		return
	}
	reply := q.handle(j, time.Until(j.note.Got.Add(ackWithin-300*time.Millisecond)), at)
	err := q.a.callback(ctx, j.request, j.note, immediate(j.request, reply))
	q.a.metrics.acknowledged(time.Since(j.note.Got), err)
	if err != nil {
		q.a.log.Warn("could not answer at once", "incident", j.request.Incident, "kind", string(j.request.Kind), "err", err)
		return
	}
	q.a.health.acked.Store(time.Now().UnixNano())
}

// turnAway tells somebody that the queue, or their part of it, is full.
func (q *queue) turnAway(j *job) {
	ctx, cancel := context.WithDeadline(q.ctx, j.note.Got.Add(ackWithin))
	defer cancel()
	reply := bot.Reply{Private: true, Text: "I am still working on what came before this, and have not taken this one. Please ask again in a minute."}
	var err error
	if j.note.Token == "" {
		err = q.a.post(ctx, j.request.Channel, j.note.Message, j.request.ID, reply)
	} else {
		err = q.a.callback(ctx, j.request, j.note, immediate(j.request, reply))
	}
	if err != nil {
		q.a.log.Warn("could not turn a request away", "incident", j.request.Incident, "err", err)
	}
}

// callback gives an interaction its first answer. An interaction already
// answered counts as answered: an attempt before this one got through.
func (a *Adapter) callback(ctx context.Context, r bot.Request, n note, b *body) error {
	err := a.rest.do(ctx, call{
		method: "POST", route: "/interactions/{id}/{token}/callback", args: []string{r.ID, n.Token}, body: b, quick: true,
	})
	if codeOf(err) == codeAcknowledged {
		return nil
	}
	return err
}
