package discord

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"time"

	"rangepost/bot"
)

const (
	// An interaction's token works for fifteen minutes; the last of them is
	// left alone.
	tokenLife = 14 * time.Minute

	// How long one reply is tried to be delivered, through any outage worth
	// waiting out and any hold that is believed. What still fails then stays in
	// the intake.
	deliverWithin = 25 * time.Hour

	// How often a reply is worked out again because what may be shown changed
	// while it was on its way.
	maxOvertaken = 3
)

// deliver brings a reply to its asker, and marks the request as answered. Its
// messages to other channels go out before it; one that does not get through
// soon is tried on after it, and the reply says so.
func (a *Adapter) deliver(ctx context.Context, j *job, reply bot.Reply) {
	ctx, cancel := context.WithTimeout(ctx, deliverWithin)
	defer cancel()
	also := func(ctx context.Context, i int) error {
		p := reply.Also[i]
		err := a.post(ctx, p.Channel, "", j.request.ID+"-"+strconv.Itoa(i+1), p.Reply)
		if err != nil {
			a.log.Warn("could not post to another channel", "incident", j.request.Incident, "err", err)
		}
		return err
	}
	var owed []int
	for i, p := range reply.Also {
		soon, cancel := context.WithTimeout(ctx, a.cfg.Also)
		err := also(soon, i)
		cancel()
		switch {
		case refused(err):
			reply.Text += "\n\n" + lacking(p.Channel, err)
		case err != nil:
			owed = append(owed, i)
			reply.Text += "\n\nI could not post in <#" + p.Channel + "> yet, and go on trying."
		}
	}
	err := a.answer(ctx, j, reply)
	for tries := 0; errors.Is(err, errOvertaken) && tries < maxOvertaken; tries++ {
		next, ok := j.queue.reply(j)
		if !ok {
			return // the next start does
		}
		reply = next
		err = a.answer(ctx, j, reply)
	}
	if refused(err) {
		// The platform will not have this message. Its text alone may do.
		a.log.Error("a reply was refused", "incident", j.request.Incident, "err", err)
		plain := bot.Reply{Text: reply.Text, Still: reply.Still, Private: reply.Private, Notify: reply.Notify}
		if len(reply.Rows) > 0 || reply.Picture != nil || len(reply.Files) > 0 {
			plain.Text += "\n\n(The platform refused the rest of this answer. The incident number is " + j.request.Incident + ".)"
		}
		err = a.answer(ctx, j, plain)
	}
	switch {
	case err == nil:
		a.metrics.delivered("ok")
	case !bot.Alive(ctx) || errors.Is(err, bot.ErrNotOurs):
		a.log.Warn("a reply is left to the other processes", "incident", j.request.Incident, "err", err)
		return
	case refused(err) && !unauthorized(err):
		a.metrics.delivered("refused")
		a.log.Error("a reply cannot be delivered", "incident", j.request.Incident, "err", err)
	default:
		a.metrics.delivered("failed")
		a.log.Error("a reply was not delivered; the next start tries again", "incident", j.request.Incident, "err", err)
		return
	}
	for _, i := range owed {
		if err := also(ctx, i); err != nil && ctx.Err() != nil {
			return // the next start does
		}
	}
	if j.drop {
		return // it never was in the intake
	}
	if err := a.cfg.Bot.Answered(ctx, j.request.ID); err != nil {
		a.log.Error("could not mark a request as answered; trying on", "incident", j.request.Incident, "err", err)
		j.queue.spawn(func() { a.settle(j) })
	}
}

// settle marks a request as answered as soon as that can be written. One that
// stayed open would be answered once more by the next start.
func (a *Adapter) settle(j *job) {
	for attempt := 0; ; attempt++ {
		if sleepWithin(j.queue.ctx, backOff(attempt)) != nil {
			return
		}
		if err := a.cfg.Bot.Answered(j.queue.ctx, j.request.ID); err == nil {
			return
		}
	}
}

// lacking says why a message could not be posted in a channel.
func lacking(channel string, err error) string {
	where := "<#" + channel + ">"
	switch codeOf(err) {
	case codeMissingPermissions:
		return "I could not post in " + where + ": I need the permissions to send messages and attach files there."
	case codeMissingAccess:
		return "I could not post in " + where + ": I cannot see that channel."
	case codeUnknownChannel:
		return "I could not post in the other channel: it no longer exists."
	}
	return "I could not post in " + where + "."
}

// answer brings a reply to its asker by the first way that works.
func (a *Adapter) answer(ctx context.Context, j *job, reply bot.Reply) error {
	n := j.note
	if reply.Still != nil {
		ctx = context.WithValue(ctx, stillKey{}, reply.Still)
	}
	if n.Token == "" {
		return a.answerMessage(ctx, j, reply)
	}
	if n.Tried {
		return a.onceMore(ctx, j, reply)
	}
	why := ""
	if j.resumed {
		why = perhapsAgain // by the run before this one
	}
	if dies := n.Got.Add(tokenLife); !n.Late && time.Now().Before(dies) {
		alive, cancel := context.WithDeadline(ctx, dies)
		err := a.answerByToken(alive, j, reply)
		cancel()
		switch {
		case errors.Is(err, errUncertain):
			j.note.Tried = true
			return a.onceMore(ctx, j, reply)
		case err == nil || ctx.Err() != nil || refused(err) && !tokenDead(err) || errors.Is(err, errOvertaken):
			return err
		}
		a.log.Info("an interaction's token no longer helps; answering without it", "incident", j.request.Incident)
		if err := a.redirect(ctx, j); err != nil {
			return err
		}
		why = perhapsAgain
	}
	return a.answerLate(ctx, j, reply, why)
}

// onceMore sends the asker directly what may have got through already, and says
// so. Directly it has a nonce, so that it is seen twice at the most.
func (a *Adapter) onceMore(ctx context.Context, j *job, reply bot.Reply) error {
	return a.direct(ctx, j, reply, perhapsAgain, "")
}

// redirect writes down that an answer goes on without the token, before it
// does: a start that came between would edit the placeholder as well, where the
// nonce lets the same message be seen once.
func (a *Adapter) redirect(ctx context.Context, j *job) error {
	j.note.Late = true
	return a.rewrite(ctx, j, j.note)
}

// rewrite keeps a note for the next start in place of the one there is. A process
// that serves alone goes on when that fails, and perhaps answers twice if it dies
// just then; one of several, which may be cut off from the database while another
// takes the request over, tries until it is kept, and has an error otherwise.
func (a *Adapter) rewrite(ctx context.Context, j *job, n note) error {
	if j.drop {
		return nil // it never was in the intake
	}
	r := j.request
	r.ReplyTo = n.text()
	for attempt := 0; ; attempt++ {
		err := a.cfg.Bot.Redirect(ctx, r)
		switch {
		case err == nil || errors.Is(err, bot.ErrNotOurs):
			return err
		case j.queue.member == nil:
			a.log.Warn("could not write down which way an answer goes", "incident", r.Incident, "err", err)
			return nil
		case !bot.Alive(ctx) || sleepWithin(ctx, backOff(attempt)) != nil:
			return err
		}
	}
}

// perhapsAgain is said of an answer whose first copy may have got through.
const perhapsAgain = ", in case my answer did not reach you there"

// answerByToken edits the placeholder, or for a private reply to a public
// acknowledgement takes it away and answers the asker alone.
func (a *Adapter) answerByToken(ctx context.Context, j *job, reply bot.Reply) error {
	n, p := j.note, payloadOf(reply)
	if !reply.Private || n.Ack == bot.AckPrivate {
		return a.rest.do(ctx, call{
			method: "PATCH", route: "/webhooks/{app}/{token}/messages/@original", args: []string{n.App, n.Token}, body: p.body(),
		})
	}
	if n.Ack == bot.AckPublic {
		// First away with it: the first follow-up would fill it, for everybody
		// to see.
		err := a.rest.do(ctx, call{
			method: "DELETE", route: "/webhooks/{app}/{token}/messages/@original", args: []string{n.App, n.Token},
		})
		if err != nil && codeOf(err) != codeUnknownMessage {
			return err
		}
	}
	p.Flags = flagEphemeral
	// A follow-up takes no nonce, and what is shown to one person alone cannot
	// be looked up, so it is not sent again once it may have got through, by this
	// run or the next.
	tried := n
	tried.Tried = true
	if err := a.rewrite(ctx, j, tried); err != nil {
		return err
	}
	return a.rest.do(ctx, call{
		method: "POST", route: "/webhooks/{app}/{token}", args: []string{n.App, n.Token}, body: p.body(), manner: manner{once: true},
	})
}

// answerMessage answers a message that mentioned the bot: under it, or
// directly if the reply is for the asker alone.
func (a *Adapter) answerMessage(ctx context.Context, j *job, reply bot.Reply) error {
	r, n := j.request, j.note
	if n.Direct || !reply.Private && !n.Hidden && n.Ack != bot.AckPrivate {
		return a.post(ctx, r.Channel, n.Message, r.ID, reply)
	}
	why := ""
	if j.resumed {
		why = perhapsAgain // shown in the channel by the run before this one, when it might be
	}
	return a.direct(ctx, j, reply, why, "I cannot send you direct messages, so I cannot show you my answer here without showing everybody. Allow direct messages from this server, or use `/post` with the file.")
}

// answerLate answers an interaction whose token has died. What was to be the
// asker's alone goes to them directly; what everybody may see goes to the
// channel, naming nobody else. why is said of one that may have got through.
func (a *Adapter) answerLate(ctx context.Context, j *job, reply bot.Reply, why string) error {
	r, n := j.request, j.note
	if n.Direct {
		return a.post(ctx, r.Channel, "", r.ID, reply)
	}
	if reply.Private || n.Hidden {
		return a.direct(ctx, j, reply, why, "My answer took longer than the platform lets me answer privately, and I cannot send you direct messages. Please ask again.")
	}
	named := reply
	named.Text = "<@" + r.Asker.ID + "> " + r.Recalls() + why + ":\n" + reply.Text
	named.Notify = []string{r.Asker.ID}
	err := a.post(ctx, r.Channel, "", r.ID, named)
	if refused(err) && cannotPost(err) {
		return a.direct(ctx, j, reply, why, "")
	}
	return err
}

// direct sends a reply to the asker directly, and says what it answers, and why
// here. If they take no direct messages, the channel gets the notice instead,
// which shows nothing of the reply.
func (a *Adapter) direct(ctx context.Context, j *job, reply bot.Reply, why, notice string) error {
	if !j.note.Hidden { // a start after this one keeps to it, whatever may be shown by then
		j.note.Hidden = true
		if err := a.rewrite(ctx, j, j.note); err != nil {
			return err
		}
	}
	reply.Text = j.request.Recalls() + why + ":\n" + reply.Text
	to, err := a.directChannel(ctx, j.request.Asker.ID)
	if err == nil {
		err = a.post(ctx, to, "", j.request.ID, reply)
	}
	if !cannotPost(err) || notice == "" {
		return err
	}
	who := j.request.Asker.ID
	return a.post(ctx, j.request.Channel, j.note.Message, j.request.ID, bot.Reply{Text: "<@" + who + "> " + notice, Notify: []string{who}})
}

// directChannel is where somebody is written to directly. An answer without it
// is none, whatever stood in between, and it is asked for again.
func (a *Adapter) directChannel(ctx context.Context, person string) (id string, err error) {
	var ch identified
	for attempt := 0; ; attempt++ {
		err := a.rest.do(ctx, call{
			method: "POST", route: "/users/@me/channels", body: jsonBody(map[string]string{"recipient_id": person}), into: &ch,
		})
		if !errors.Is(err, errGarbled) {
			return ch.ID, err
		}
		if err := sleepWithin(ctx, backOff(attempt)); err != nil {
			return "", err
		}
	}
}

func cannotPost(err error) bool {
	switch codeOf(err) {
	case codeRefusesDirect, codeMissingAccess, codeMissingPermissions, codeUnknownChannel:
		return true
	}
	return false
}

// post posts a message in a channel. The platform keeps the nonce for a few
// minutes and posts the same one once.
func (a *Adapter) post(ctx context.Context, channel, replyTo, nonce string, reply bot.Reply) error {
	if channel == "" {
		return errors.New("a message for no channel")
	}
	p := payloadOf(reply)
	p.Nonce, p.Enforce = nonce, true
	if replyTo != "" {
		p.Reference = &reference{MessageID: replyTo}
	}
	err := a.rest.do(ctx, call{method: "POST", route: "/channels/{channel}/messages", args: []string{channel}, body: p.body()})
	if err != nil {
		return fmt.Errorf("post a message: %w", err)
	}
	return nil
}
