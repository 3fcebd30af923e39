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
	if w.err == nil {
		settle()
	}
	switch {
	case w.err != nil && (q.ctx.Err() != nil || !bot.Alive(q.ctx)):
		j.drop = true // it is sent again to whoever serves next
	case w.err != nil:
		settle()
		j.drop = true
		a.log.Error("could not write a request to the intake", "incident", j.request.Incident, "err", w.err)
		a.deliver(q.ctx, j, bot.NotTakenIn(w.err, j.request.Incident))
	case !w.fresh:
		j.drop = true
		a.metrics.duplicates.Inc()
	}
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
