package stranger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf16"
)

// Message flags (resources/message.mdx, "Message Flags" [P]).
const (
	ephemeral    = 1 << 6
	loading      = 1 << 7
	componentsV2 = 1 << 15
)

// A Message is what people see. Ephemeral ones are seen by one person.
type Message struct {
	ID      string
	Channel *Channel
	Author  *Person
	Only    *Person // who alone sees it, if it is ephemeral
	Ask     *Ask    // the interaction that it came from
	Loading bool    // a deferred answer that is not there yet
	Deleted bool
	Pinned  bool
	At      time.Time
	Edits   int
	by      int // the process that wrote it, if there are several
	body    obj // content, embeds, components, attachments
}

func decodeList(b []byte) ([]any, error) {
	var l []any
	err := json.Unmarshal(b, &l)
	return l, err
}

// object is the message as the platform describes it.
func (p *Platform) messageObject(m *Message) obj {
	flags := 0
	if m.Only != nil {
		flags |= ephemeral
	}
	if m.Loading {
		flags |= loading
	}
	flags |= num(m.body, "flags") & componentsV2
	o := obj{
		"id": m.ID, "channel_id": m.Channel.ID, "type": 0, "content": str(m.body, "content"), "author": m.Author.user(),
		"timestamp": stamp(m.At), "edited_timestamp": nil, "tts": false, "mention_everyone": false,
		"mentions": p.mentions(str(m.body, "content")), "mention_roles": []string{}, "attachments": orNone(m.body["attachments"]),
		"embeds": orNone(m.body["embeds"]), "components": orNone(m.body["components"]), "pinned": m.Pinned, "flags": flags,
	}
	if m.Edits > 0 {
		o["edited_timestamp"] = stamp(time.Now())
	}
	if m.Author == p.Bot {
		o["author"].(obj)["bot"] = true
	}
	if n := m.body["nonce"]; n != nil {
		o["nonce"] = n
	}
	if m.Ask != nil && m.Ask.Token != "" {
		o["type"] = 20
		o["application_id"], o["webhook_id"] = p.App, p.App
		o["interaction_metadata"] = obj{
			"id": m.Ask.ID, "type": m.Ask.Kind, "user": m.Ask.Who.user(),
			"authorizing_integration_owners": obj{"0": p.around(m.Channel).Guild},
		}
	}
	return o
}

func orNone(v any) any {
	if v == nil {
		return []obj{}
	}
	return v
}

func (p *Platform) mentions(content string) []obj {
	who := []obj{}
	for id, m := range p.people {
		if strings.Contains(content, "<@"+id+">") || strings.Contains(content, "<@!"+id+">") {
			u := m.user()
			if m == p.Bot {
				u["bot"] = true
			}
			who = append(who, u)
		}
	}
	return who
}

// compose makes a message's body of a call's, over an old one if it is an
// edit. Keys that an edit leaves out stay as they were, attachments included
// (reference.mdx, "Editing Message Attachments" [P]).
func (p *Platform) compose(ch *Channel, data obj, c *call, old obj) (obj, *answer) {
	bad := func(format string, a ...any) (obj, *answer) {
		r := badForm(format, a...)
		return nil, &r
	}
	body := obj{}
	if old != nil {
		body = clone(old)
	}
	for _, k := range []string{"content", "embeds", "components", "flags", "nonce"} {
		if v, given := data[k]; given {
			body[k] = v
		}
	}
	if n := len(utf16.Encode([]rune(str(body, "content")))); n > 2000 {
		return bad("content: Must be 2000 or fewer in length (%d).", n)
	}
	total := 0
	for _, e := range list(body, "embeds") {
		total += lengthOf(e)
	}
	if total > 6000 {
		return bad("embeds: Embed size exceeds maximum size of 6000.")
	}
	seen := map[string]bool{}
	count := 0
	twice := ""
	each(body["components"], func(m obj) {
		count++
		if id := str(m, "custom_id"); id != "" {
			if seen[id] {
				twice = id
			}
			seen[id] = true
		}
	})
	if twice != "" {
		return bad("components: Component custom id cannot be duplicated (%s)", twice)
	}
	if count > 40 || len(list(body, "components")) > 5 && num(body, "flags")&componentsV2 == 0 {
		return bad("components: Must be between 1 and 5 in length.")
	}
	sum := 0
	for _, f := range c.files {
		sum += len(f.body)
		if len(f.body) > 10<<20 {
			r := refuse(413, 40005, "Request entity too large")
			return nil, &r
		}
		if f.name == "" {
			return bad("files: a part has no filename")
		}
	}
	if sum > 25<<20 {
		r := refuse(413, 40005, "Request entity too large")
		return nil, &r
	}
	if a := p.attach(ch, body, data, c); a != nil {
		return nil, a
	}
	if old == nil && str(body, "content") == "" && len(list(body, "embeds")) == 0 && len(list(body, "components")) == 0 && len(list(body, "attachments")) == 0 {
		r := refuse(400, 50006, "Cannot send an empty message")
		return nil, &r
	}
	return clone(body), nil
}

// attach settles which files a message has.
func (p *Platform) attach(ch *Channel, body, data obj, c *call) *answer {
	kept := map[string]obj{}
	for _, v := range list(body, "attachments") {
		kept[str(v, "id")] = v.(obj)
	}
	told := list(data, "attachments")
	described := map[string]obj{}
	var result []any
	if _, given := data["attachments"]; given {
		for _, v := range told {
			id := str(v, "id")
			switch {
			case slices.Contains(c.fields, id):
				described[id], _ = v.(obj)
			case kept[id] != nil:
				result = append(result, kept[id])
			default:
				a := badForm("attachments: no file has the id %q", id)
				return &a
			}
		}
	} else {
		result = append(result, list(body, "attachments")...)
	}
	for i, f := range c.files {
		id := p.ids.next()
		path := "/attachments/" + ch.ID + "/" + id + "/" + f.name
		p.files[path] = f
		a := obj{
			"id": id, "filename": f.name, "size": len(f.body), "content_type": f.kind,
			"url": "http://" + p.CDN + path, "proxy_url": "http://" + p.CDN + path,
		}
		if d := described[c.fields[i]]; d != nil && d["description"] != nil {
			a["description"] = d["description"]
		}
		result = append(result, a)
	}
	if len(result) > 10 {
		a := badForm("attachments: Must be 10 or fewer in length.")
		return &a
	}
	body["attachments"] = result
	return nil
}

// each visits every component of a tree.
func each(v any, f func(obj)) {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			each(x, f)
		}
	case obj:
		f(v)
		each(v["components"], f)
		each(v["component"], f)
		each(v["accessory"], f)
	}
}

func lengthOf(embed any) int {
	n := len([]rune(str(embed, "title"))) + len([]rune(str(embed, "description"))) + len([]rune(str(embed, "footer", "text"))) + len([]rune(str(embed, "author", "name")))
	for _, f := range list(embed, "fields") {
		n += len([]rune(str(f, "name"))) + len([]rune(str(f, "value")))
	}
	return n
}

// Text is everything a message says, its text files included.
func (p *Platform) text(m *Message) string {
	var b bytes.Buffer
	b.WriteString(str(m.body, "content"))
	visit := func(v any) {
		j, _ := json.Marshal(v)
		var any_ any
		json.Unmarshal(j, &any_)
		words(any_, &b)
	}
	visit(m.body["embeds"])
	visit(m.body["components"])
	for _, v := range list(m.body, "attachments") {
		fmt.Fprintf(&b, "\n[%s %s]", str(v, "filename"), str(v, "description"))
		if f := p.files["/attachments/"+m.Channel.ID+"/"+str(v, "id")+"/"+str(v, "filename")]; f != nil {
			b.WriteString(f.text())
		}
	}
	return b.String()
}

// words collects the strings of a tree that people read.
func words(v any, b *bytes.Buffer) {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			words(x, b)
		}
	case map[string]any:
		for k, x := range v {
			switch s, isString := x.(string); {
			case !isString:
				words(x, b)
			case k != "custom_id" && k != "url" && k != "value" && k != "id":
				b.WriteString("\n" + s)
			case k == "value" && v["name"] != nil: // a field of an embed, or a choice
				b.WriteString("\n" + s)
			}
		}
	}
}

// audience is who sees a message now.
func (p *Platform) audience(m *Message) []string {
	if m.Only != nil {
		return []string{m.Only.ID}
	}
	return p.readers(m.Channel)
}

// publish puts a new message before people.
func (p *Platform) publish(m *Message) {
	m.ID, m.At = p.ids.next(), time.Now()
	p.messages[m.ID] = m
	p.order = append(p.order, m)
	if !m.Loading {
		p.judge.shown(m, "new")
	}
	if m.Only == nil && m.Author == p.Bot {
		p.announce(m)
	}
}

// change edits a message.
func (p *Platform) change(m *Message, body obj) {
	m.body = body
	m.Edits++
	m.Loading = false
	p.judge.shown(m, "edited")
}

func (p *Platform) createMessage(c *call, args []string) answer {
	ch, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	nonce := str(c.data, "nonce")
	if c.data["enforce_nonce"] == true && nonce != "" {
		// "If another message was created by the same author with the same
		// nonce, that message will be returned" (resources/message.mdx [P]).
		if m := p.nonces[ch.ID+" "+nonce]; m != nil && time.Since(m.At) < 3*time.Minute {
			return ok(p.messageObject(m))
		}
	}
	body, a := p.compose(ch, c.data, c, nil)
	if a != nil {
		return *a
	}
	if ref := str(c.data, "message_reference", "message_id"); ref != "" {
		if m := p.messages[ref]; (m == nil || m.Deleted) && dig(c.data, "message_reference")["fail_if_not_exists"] != false {
			return badForm("message_reference: Unknown message")
		}
		body["message_reference"] = c.data["message_reference"]
	}
	ch.Archived = false // sending opens an archived thread again (topics/threads.mdx [P])
	m := &Message{Channel: ch, Author: p.Bot, body: body, by: c.pid}
	p.publish(m)
	if nonce != "" {
		p.nonces[ch.ID+" "+nonce] = m
	}
	return ok(p.messageObject(m))
}

func (p *Platform) getMessages(_ *call, args []string) answer {
	ch, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	var l []obj
	for _, m := range p.order {
		if m.Channel == ch && m.Only == nil && !m.Deleted {
			l = append([]obj{p.asSeenByBot(m)}, l...)
		}
	}
	return ok(l)
}

// asSeenByBot empties what the message content intent gates
// (events/gateway.mdx, "Message Content Intent" [P]).
func (p *Platform) asSeenByBot(m *Message) obj {
	o := p.messageObject(m)
	mentioned := strings.Contains(str(m.body, "content"), "<@"+p.Bot.ID+">")
	if m.Author != p.Bot && m.Channel.Type != directMessage && !mentioned {
		o["content"], o["embeds"], o["attachments"], o["components"] = "", []obj{}, []obj{}, []obj{}
	}
	return o
}

func (p *Platform) message(c *call, args []string) answer {
	ch, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	m := p.messages[args[1]]
	if m == nil || m.Deleted || m.Channel != ch || m.Only != nil {
		return refuse(404, 10008, "Unknown Message")
	}
	switch c.method {
	case "GET":
		return ok(p.asSeenByBot(m))
	case "DELETE":
		if m.Author != p.Bot {
			return refuse(403, 50013, "Missing Permissions")
		}
		m.Deleted = true
		return done
	}
	if m.Author != p.Bot {
		return refuse(403, 50005, "Cannot edit a message authored by another user")
	}
	if ch.Archived {
		return refuse(400, 50083, "Thread is archived")
	}
	body, a := p.compose(ch, c.data, c, m.body)
	if a != nil {
		return *a
	}
	p.change(m, body)
	return ok(p.messageObject(m))
}

// pin pins a message, whoever wrote it (resources/message.mdx, "Pin Message"
// [S]).
func (p *Platform) pin(c *call, args []string) answer {
	ch, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	m := p.messages[args[1]]
	if m == nil || m.Deleted || m.Channel != ch || m.Only != nil {
		return refuse(404, 10008, "Unknown Message")
	}
	m.Pinned = c.method == "PUT"
	return done
}

// standing are the messages with buttons that stand in a lesson thread of the
// bot's own accord: they answer nobody.
func (p *Platform) standing(ch *Channel) (all []*Message) {
	for _, m := range p.order {
		if m.Channel == ch && m.Author == p.Bot && m.Ask == nil && m.Only == nil && !m.Deleted && stands(m) {
			all = append(all, m)
		}
	}
	return all
}

// stands says whether a message is one of those, by its first button.
func stands(m *Message) bool {
	is := false
	each(m.body["components"], func(c obj) { is = is || str(c, "label") == "Post a session" })
	return is
}
