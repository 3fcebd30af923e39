package stranger

import (
	"fmt"
	"slices"
	"sync/atomic"
	"time"
)

// Kinds of interaction, and of callback
// (interactions/receiving-and-responding.mdx [P]).
const (
	byMention     = 0 // not an interaction: a message that mentions the bot
	command       = 2
	component     = 3
	autocompletes = 4
	modalSubmit   = 5

	withMessage    = 4
	deferredAnswer = 5
	deferredUpdate = 6
	updateMessage  = 7
	withChoices    = 8
	withModal      = 9
)

const (
	firstResponse = 3 * time.Second
	tokenLife     = 15 * time.Minute
)

// An Ask is one thing that somebody asked of the bot.
type Ask struct {
	ID, Token string
	N         int
	Kind      int
	Who       *Person
	Channel   *Channel
	What      string  // for people who read a failure
	File      *Upload // the file handed over, if any
	Source    *Message
	wrote     string // in a form
	event     obj

	sent      time.Time
	delivered bool // written to a link that was thought alive
	ackType   int  // of the callback carried out, 0 before
	ackAt     time.Time
	missed    bool // nobody answered in time: the platform says so to the asker
	dead      bool // the drawer let its token die early
	shaky     bool // something happened to process or link soon after
	original  *Message
	follow    []*Message
	modal     obj
	choices   []any
	edits     int
	toldAt    time.Time // when an answer was first seen
	alone     []*Message
	taken     []taking // by which processes' links it went
	acts      []act    // what processes did about it
}

// acked says whether the platform took the bot's first response.
func (a *Ask) acked() bool { return a.ackType != 0 }

// told says whether the asker sees an answer of the interaction's own.
func (a *Ask) told() bool { return !a.toldAt.IsZero() }

var askCount atomic.Int64

// ask dispatches an interaction. fill adds to the event what its kind needs.
func (p *Platform) ask(kind int, who *Person, ch *Channel, what string, data obj, source *Message, file *Upload) *Ask {
	p.mu.Lock()
	defer p.mu.Unlock()
	a := &Ask{
		ID: p.ids.next(), N: int(askCount.Add(1)), Kind: kind, Who: who, Channel: ch, What: what, File: file,
		Source: source, sent: time.Now(),
	}
	a.Token = fmt.Sprintf("%s%05d%s", secretMark, a.N, randomWord(40))
	e := obj{
		"id": a.ID, "application_id": p.App, "type": kind, "token": a.Token, "version": 1, "data": data,
		"channel_id": ch.ID, "channel": p.object(ch), "locale": "en-GB", "entitlements": []obj{},
		"app_permissions": fmt.Sprint(botPermissions), "attachment_size_limit": 10 << 20,
	}
	if ch.Type == directMessage {
		e["user"], e["context"] = who.user(), 1
		e["authorizing_integration_owners"] = obj{"0": "0"}
	} else {
		m := who.member(true)
		m["permissions"] = who.permissions()
		e["member"], e["guild_id"], e["context"] = m, ch.in.Guild, 0
		e["guild"] = obj{"id": ch.in.Guild, "locale": "en-GB", "features": []string{}}
		e["guild_locale"] = "en-GB"
		e["authorizing_integration_owners"] = obj{"0": ch.in.Guild}
	}
	if source != nil && kind != command && kind != autocompletes {
		e["message"] = p.messageObject(source)
	}
	a.event = e
	p.interactions[a.Token] = a
	p.judge.asked(a)
	p.record.addf("ask", "%s asks %d: %s in %s", who.Name, a.N, what, place(ch))
	p.dispatch("INTERACTION_CREATE", e, 0, ch, a)
	return a
}

func place(c *Channel) string {
	if c.Type == directMessage {
		return "a direct message"
	}
	return "#" + c.Name
}

// live is the interaction of a token, or the refusal.
func (p *Platform) live(token string) (*Ask, *answer) {
	a := p.interactions[token]
	var r answer
	switch {
	case a == nil || !a.acked():
		r = refuse(404, 10015, "Unknown Webhook")
	case a.dead || time.Since(a.sent) > tokenLife:
		r = refuse(401, 50027, "Invalid Webhook Token")
	default:
		return a, nil
	}
	return nil, &r
}

// callback is the first response to an interaction.
func (p *Platform) callback(c *call, args []string) answer {
	a := p.interactions[args[1]]
	if a == nil || a.ID != args[0] {
		return refuse(404, 10062, "Unknown interaction")
	}
	if a.acked() {
		return refuse(400, 40060, "Interaction has already been acknowledged.")
	}
	if a.missed || time.Since(a.sent) > firstResponse {
		a.missed = true
		return refuse(404, 10062, "Unknown interaction")
	}
	kind := num(c.data, "type")
	data := dig(c.data, "data")
	var only *Person
	if num(data, "flags")&ephemeral != 0 {
		only = a.Who
	}
	wrong := badForm("type: not a response to this kind of interaction (%d to %d)", kind, a.Kind)
	switch kind {
	case withMessage, deferredAnswer:
		if a.Kind == autocompletes {
			return wrong
		}
		m := &Message{Channel: a.Channel, Author: p.Bot, Only: only, Ask: a, Loading: kind == deferredAnswer, body: obj{}}
		if kind == withMessage {
			body, bad := p.compose(a.Channel, data, c, nil)
			if bad != nil {
				return *bad
			}
			m.body = body
		}
		a.original = m
		a.accept(kind)
		p.publish(m)
	case deferredUpdate, updateMessage:
		if a.Source == nil || a.Kind != component && a.Kind != modalSubmit {
			return wrong
		}
		a.original = a.Source
		if kind == updateMessage {
			body, bad := p.compose(a.Channel, data, c, a.Source.body)
			if bad != nil {
				return *bad
			}
			a.accept(kind)
			p.change(a.Source, body)
			a.tell()
		} else {
			a.accept(kind)
		}
	case withChoices:
		if a.Kind != autocompletes || len(list(data, "choices")) > 25 {
			return wrong
		}
		a.choices = list(data, "choices")
		a.accept(kind)
		a.tell()
		p.judge.choices(a)
	case withModal:
		if a.Kind != command && a.Kind != component {
			return wrong
		}
		a.modal = data
		a.accept(kind)
		a.tell()
		p.judge.modal(a)
	default:
		return wrong
	}
	if kind == withMessage {
		a.tell()
	}
	if c.query.Get("with_response") == "true" {
		r := obj{"interaction": obj{"id": a.ID, "type": a.Kind}, "resource": obj{"type": kind}}
		if a.original != nil {
			r["interaction"].(obj)["response_message_id"] = a.original.ID
			r["resource"].(obj)["message"] = p.messageObject(a.original)
		}
		return ok(r)
	}
	return done
}

func (a *Ask) accept(kind int) { a.ackType, a.ackAt = kind, time.Now() }

func (a *Ask) tell() {
	if a.toldAt.IsZero() {
		a.toldAt = time.Now()
	}
}

// followUp is a further message of an interaction. Straight behind a deferral
// it fills the placeholder ("for backwards compatibility" [P]).
func (p *Platform) followUp(c *call, args []string) answer {
	a, bad := p.live(args[1])
	if bad != nil {
		return *bad
	}
	body, bad := p.compose(a.Channel, c.data, c, nil)
	if bad != nil {
		return *bad
	}
	if a.original != nil && a.original.Loading && !a.original.Deleted {
		p.change(a.original, body)
		a.tell()
		return ok(p.messageObject(a.original))
	}
	m := &Message{Channel: a.Channel, Author: p.Bot, Ask: a, body: body}
	if num(c.data, "flags")&ephemeral != 0 {
		m.Only = a.Who
	}
	a.follow = append(a.follow, m)
	p.publish(m)
	a.tell()
	return ok(p.messageObject(m))
}

// original reads, edits or takes back a response.
func (p *Platform) original(c *call, args []string) answer {
	a, bad := p.live(args[1])
	if bad != nil {
		return *bad
	}
	m := a.original
	if len(args) > 2 && args[2] != "@original" {
		i := slices.IndexFunc(a.follow, func(m *Message) bool { return m.ID == args[2] })
		switch {
		case i >= 0:
			m = a.follow[i]
		case m == nil || m.ID != args[2]:
			m = nil
		}
	}
	if m == nil || m.Deleted {
		return refuse(404, 10008, "Unknown Message")
	}
	switch c.method {
	case "GET":
		return ok(p.messageObject(m))
	case "DELETE":
		m.Deleted = true
		return done
	}
	old := m.body
	body, bad := p.compose(a.Channel, c.data, c, old)
	if bad != nil {
		return *bad
	}
	p.change(m, body)
	a.edits++
	a.tell()
	return ok(p.messageObject(m))
}

// expire marks the asks that nobody answered in time.
func (p *Platform) expire() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, a := range p.interactions {
		if !a.acked() && time.Since(a.sent) > firstResponse {
			a.missed = true
		}
	}
}
