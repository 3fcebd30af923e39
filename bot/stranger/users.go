package stranger

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// An Upload is a file that somebody hands over, and what came of it.
type Upload struct {
	Owner *Person
	Name  string
	Balls int
	Body  []byte
	Asks  []*Ask
}

// upload makes a new file in a student's style.
func (p *Platform) upload(s *Person, n int, r *rand.Rand) *Upload {
	balls := 24 + n // of one student, no two files have as many
	return &Upload{Owner: s, Balls: balls, Body: session(s.style, balls, r), Name: fmt.Sprintf("%s-%02d.csv", s.style.word, n)}
}

// attachment puts a file on the CDN and describes it.
func (p *Platform) attachment(ch *Channel, u *Upload) obj {
	p.mu.Lock()
	defer p.mu.Unlock()
	id := p.ids.next()
	path := "/attachments/" + ch.ID + "/" + id + "/" + u.Name
	p.files[path] = &posted{body: u.Body, name: u.Name, kind: "text/csv; charset=utf-8"}
	url := fmt.Sprintf("http://%s%s?ex=%x&is=%x&hm=%s&", p.CDN, path, time.Now().Add(24*time.Hour).Unix(), time.Now().Unix(), strings.Repeat("ab", 32))
	return obj{"id": id, "filename": u.Name, "size": len(u.Body), "content_type": "text/csv; charset=utf-8", "url": url, "proxy_url": url}
}

// An option of a command as a user fills it in.
type option struct {
	name  string
	value any // string, int, bool, *Upload, *Person, or a role's id as roleID
}

type roleID string

// registered is a command as the bot registered it, or nil.
func (p *Platform) registered(name string, kind int) obj {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range p.commands {
		if str(c, "name") == name && max(1, num(c, "type")) == kind {
			return c
		}
	}
	return nil
}

// Slash uses a slash command, "clubhouse coach" for a subcommand. Types come
// from what the bot registered, as they do in a client.
func (p *Platform) Slash(who *Person, ch *Channel, name string, options ...option) *Ask {
	return p.slash(command, who, ch, name, options...)
}

func (p *Platform) slash(kind int, who *Person, ch *Channel, name string, options ...option) *Ask {
	top, sub, _ := strings.Cut(name, " ")
	def := p.registered(top, 1)
	if def == nil {
		p.judge.break_("command missing", "/%s is not registered", top)
		return nil
	}
	data := obj{"id": str(def, "id"), "name": top, "type": 1}
	level := def
	if sub != "" {
		level = nil
		for _, o := range list(def, "options") {
			if str(o, "name") == sub {
				level = o.(obj)
			}
		}
		if level == nil {
			p.judge.break_("command missing", "/%s is not registered", name)
			return nil
		}
	}
	resolved := obj{}
	put := func(kind, id string, v any) {
		m, _ := resolved[kind].(obj)
		if m == nil {
			m = obj{}
			resolved[kind] = m
		}
		m[id] = v
	}
	filled := []obj{}
	var file *Upload
	what := "/" + name
	for _, o := range options {
		kind := 0
		for _, d := range list(level, "options") {
			if str(d, "name") == o.name {
				kind = num(d, "type")
			}
		}
		if kind == 0 {
			p.judge.break_("command missing", "/%s has no option %q", name, o.name)
			return nil
		}
		v := o.value
		switch x := v.(type) {
		case *Upload:
			a := p.attachment(ch, x)
			put("attachments", str(a, "id"), a)
			v, file = str(a, "id"), x
			what += " " + o.name + ":" + x.Name
		case *Person:
			put("users", x.ID, x.user())
			m := x.member(false)
			delete(m, "deaf")
			delete(m, "mute")
			m["permissions"] = x.permissions()
			put("members", x.ID, m)
			v = x.ID
			what += " " + o.name + ":@" + x.Name
		case roleID:
			put("roles", string(x), p.role(string(x), "teaching staff", everyday))
			v = string(x)
			what += " " + o.name + ":a role"
		default:
			what += fmt.Sprintf(" %s:%v", o.name, v)
		}
		entry := obj{"name": o.name, "type": kind, "value": v}
		filled = append(filled, entry)
	}
	if len(filled) > 0 && kind == autocompletes {
		filled[len(filled)-1]["focused"] = true
		what += " (typing)"
	}
	if len(resolved) > 0 {
		data["resolved"] = resolved
	}
	switch {
	case sub != "":
		data["options"] = []obj{{"name": sub, "type": 1, "options": filled}}
	case len(filled) > 0:
		data["options"] = filled
	}
	return p.ask(kind, who, ch, what, data, nil, file)
}

// OnMessage uses the command "Read this session" in a message's menu.
func (p *Platform) OnMessage(who *Person, name string, m *Message, file *Upload) *Ask {
	def := p.registered(name, 3)
	if def == nil {
		p.judge.break_("command missing", "%q is not registered", name)
		return nil
	}
	p.mu.Lock()
	o := p.messageObject(m)
	p.mu.Unlock()
	return p.ask(command, who, m.Channel, name+" on "+m.ID, obj{
		"id": str(def, "id"), "name": name, "type": 3, "target_id": m.ID,
		"resolved": obj{"messages": obj{m.ID: o}},
	}, nil, file)
}

// Write posts a message; one that mentions the bot reaches it with its
// content. The Ask is of the kind byMention.
func (p *Platform) Write(who *Person, ch *Channel, text string, u *Upload) (*Message, *Ask) {
	body := obj{"content": text}
	if u != nil {
		body["attachments"] = []any{p.attachment(ch, u)}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	m := &Message{Channel: ch, Author: who, body: body}
	var a *Ask
	if strings.Contains(text, "<@"+p.Bot.ID+">") || ch.Type == directMessage {
		a = &Ask{N: int(askCount.Add(1)), Kind: byMention, Who: who, Channel: ch, What: "a message with " + u.Name, File: u, Source: m, sent: time.Now()}
		p.judge.asked(a)
		p.record.addf("ask", "%s asks %d: %s in %s", who.Name, a.N, a.What, place(ch))
		m.Ask = a
	}
	ch.Archived = false
	p.publish(m)
	p.announce(m)
	return m, a
}

// Press presses the button of a message whose label or custom id holds a word.
func (p *Platform) Press(who *Person, m *Message, word string) *Ask {
	b := p.find(m, 2, word)
	if b == nil {
		return nil
	}
	return p.ask(component, who, m.Channel, "presses "+str(b, "label"), obj{
		"custom_id": str(b, "custom_id"), "component_type": 2, "id": 1,
	}, m, nil)
}

// rightward says whether a choice is the true one of a question about sides: in
// every file a plus is to the right.
func rightward(question, choice string) bool {
	side := "right"
	if strings.Contains(question, " shows -") {
		side = "left"
	}
	return strings.Contains(question, " shows ") && strings.Contains(strings.ToLower(choice), side) && !strings.Contains(choice, "hand")
}

// Choose picks an option of the first menu of a message: the true one of what
// a column means, else the one with the number given.
func (p *Platform) Choose(who *Person, m *Message, n int) *Ask {
	s := p.find(m, 3, "")
	o := list(s, "options")
	if len(o) == 0 {
		return nil
	}
	pick := o[n%len(o)]
	for _, x := range o {
		if l := str(x, "label"); rightward(str(s, "placeholder"), l) || strings.Contains(l, "against the target") {
			pick = x
		}
	}
	return p.ask(component, who, m.Channel, "chooses "+str(pick, "label"), obj{
		"custom_id": str(s, "custom_id"), "component_type": 3, "values": []string{str(pick, "value")}, "id": 1,
	}, m, nil)
}

func (p *Platform) find(m *Message, kind int, word string) obj {
	p.mu.Lock()
	defer p.mu.Unlock()
	var hit obj
	each(m.body["components"], func(c obj) {
		if hit == nil && num(c, "type") == kind && c["disabled"] != true && str(c, "custom_id") != "" &&
			(word == "" || strings.Contains(strings.ToLower(str(c, "label")), word)) {
			hit = c
		}
	})
	return hit
}

// buttons are the labels of a message's buttons.
func (p *Platform) buttons(m *Message) []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var l []string
	each(m.body["components"], func(c obj) {
		if num(c, "type") == 2 && c["disabled"] != true && str(c, "custom_id") != "" {
			l = append(l, strings.ToLower(str(c, "label")))
		}
	})
	return l
}

// takesFile says whether the form that an ask opened has a place for a file.
func (p *Platform) takesFile(a *Ask) (takes bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	each(a.modal["components"], func(c obj) { takes = takes || num(c, "type") == 19 })
	return takes
}

// Submit fills in a form: every text input with the text, every menu with its
// first option, and where a file is asked for the file, if there is one. Labels
// hold one component; files come back by their ids and are resolved beside
// (components/reference.mdx [S]).
func (p *Platform) Submit(a *Ask, text string, file *Upload) *Ask {
	p.mu.Lock()
	modal, source := a.modal, a.Source
	p.mu.Unlock()
	if modal == nil {
		return nil
	}
	var parts []any
	data := obj{"custom_id": str(modal, "custom_id")}
	what := "submits the form " + str(modal, "title")
	for _, c := range list(modal, "components") {
		in := c.(obj)
		field := dig(in, "component")
		if field == nil {
			if l := list(in, "components"); len(l) > 0 {
				field, _ = l[0].(obj)
			}
		}
		if field == nil {
			parts = append(parts, obj{"type": num(in, "type"), "id": len(parts) + 1})
			continue
		}
		v := obj{"type": num(field, "type"), "id": len(parts) + 10, "custom_id": str(field, "custom_id")}
		switch o := list(field, "options"); {
		case num(field, "type") == 4:
			v["value"] = text
		case num(field, "type") == 19:
			ids := []string{}
			if file != nil {
				up := p.attachment(a.Channel, file)
				ids = append(ids, str(up, "id"))
				data["resolved"] = obj{"attachments": obj{str(up, "id"): up}}
				what += " with " + file.Name
			}
			v["values"] = ids
		case len(o) > 0:
			v["values"] = []string{str(o[0], "value")}
		}
		if num(in, "type") == 18 {
			parts = append(parts, obj{"type": 18, "id": len(parts) + 1, "component": v})
		} else {
			parts = append(parts, obj{"type": 1, "id": len(parts) + 1, "components": []any{v}})
		}
	}
	data["components"] = parts
	sent := p.ask(modalSubmit, a.Who, a.Channel, what, data, source, file)
	p.mu.Lock()
	sent.wrote = text
	p.mu.Unlock()
	return sent
}

// state is what an asker sees of an ask now.
func (p *Platform) state(a *Ask) (acked, told bool, text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if a.original != nil && !a.original.Loading {
		text = p.text(a.original)
	}
	for _, m := range a.follow {
		text += "\n" + p.text(m)
	}
	return a.acked(), a.told(), text
}

// wait waits for an answer to an ask.
func (p *Platform) wait(a *Ask, d time.Duration) (string, bool) {
	if a == nil {
		return "", false
	}
	for end := time.Now().Add(d); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if _, told, text := p.state(a); told {
			return text, true
		}
	}
	_, told, text := p.state(a)
	return text, told
}
