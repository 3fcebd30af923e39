package standin

import (
	"encoding/json"
	"strings"
	"time"
)

// A Message is a message as people see it.
type Message struct {
	ID      string
	At      time.Time
	Channel *Channel
	Author  string
	Asker   string // who asked for it with a command, a button or a form, "" if nobody did
	Asked   string // what they typed or pressed
	Viewer  string // the only person who sees it, "" if everybody in the channel does
	Text    string
	Files   []Attachment
	Buttons []Button
	Menus   []Menu
	Told    []string // the names of the people who are notified
	Loud    bool     // everybody is notified
	ReplyTo string   // the text of the message it answers
	Edited  bool
	Pinned  bool
}

// An Attachment is a file in a message, with the text that describes it.
type Attachment struct {
	Name, Alt string
	Bytes     []byte
}

// A Button as people see it.
type Button struct {
	Path, Label string
	Style       int // 1 main, 2 plain, 3 success, 4 danger, as the platform numbers them
	Disabled    bool
}

// A Menu as people see it.
type Menu struct {
	Path, Placeholder string
	Choices           []Choice
	Min, Max          int

	kind int // the component's type
}

// A Choice of a menu or a completion.
type Choice struct{ Value, Text string }

// A Modal is an open form.
type Modal struct {
	Path, Title string
	Fields      []Field

	channel *Channel
	source  *message
}

// A Field of a modal: a text, or one of choices, or files.
type Field struct {
	ID, Label, Hint, Value, Placeholder string
	Long, Required                      bool
	Max                                 int // characters of a text
	Choices                             []Choice
	Files                               int // how many it takes, 0 for what takes none
}

// An Outcome is what somebody sees after doing something.
type Outcome struct {
	Message                 // the answer; zero when there is a modal, or when it failed
	Ephemeral bool          // nobody else sees it
	Modal     *Modal        // a form that opened instead
	Failed    string        // what the platform says when the bot did not answer
	Within    time.Duration // how long the acknowledgement took
}

// Picture is the first PNG of the message, nil if there is none.
func (m *Message) Picture() *Attachment {
	for i := range m.Files {
		if strings.HasPrefix(string(m.Files[i].Bytes), "\x89PNG") {
			return &m.Files[i]
		}
	}
	return nil
}

// Labels are the labels of the message's buttons.
func (m *Message) Labels() []string {
	var ls []string
	for _, b := range m.Buttons {
		ls = append(ls, b.Label)
	}
	return ls
}

// view is m as people see it. The caller holds s.mu.
func (s *Stand) view(m *message) Message {
	v := Message{ID: m.id, At: m.at, Channel: m.channel, Author: m.author.Name, Text: m.content, Loud: m.everyone, Edited: !m.edited.IsZero(), Pinned: m.pinned}
	if m.viewer != nil {
		v.Viewer = m.viewer.Name
	}
	if m.origin != nil {
		v.Asker, v.Asked = m.origin.user.Name, m.origin.words
	}
	if m.replyTo != nil {
		v.ReplyTo = m.replyTo.content
	}
	for _, u := range m.mentions {
		v.Told = append(v.Told, u.Name)
	}
	for _, f := range m.files {
		v.Files = append(v.Files, Attachment{f.name, f.description, f.bytes})
	}
	rows, _ := decodeComponents(orNull(m.components))
	for _, row := range rows {
		for _, c := range row.Components {
			switch c.Type {
			case typeButton:
				v.Buttons = append(v.Buttons, Button{c.CustomID, c.Label, c.Style, c.Disabled})
			case typeMenu, typePeople, typeRoles, typeChannels:
				menu := Menu{Path: c.CustomID, Placeholder: c.Placeholder, kind: c.Type}
				menu.Min, menu.Max = c.takes()
				menu.Choices = m.channel.listed(c)
				for _, o := range c.Options {
					menu.Choices = append(menu.Choices, Choice{o.Value, o.Label})
				}
				v.Menus = append(v.Menus, menu)
			}
		}
	}
	return v
}

func orNull(raw json.RawMessage) json.RawMessage {
	if raw == nil {
		return json.RawMessage("null")
	}
	return raw
}

func (m *modalBody) view(in *interaction) *Modal {
	v := &Modal{Path: m.CustomID, Title: m.Title, channel: in.channel, source: in.source}
	for _, l := range m.Components {
		c := l.Component
		f := Field{
			ID: c.CustomID, Label: l.Label, Hint: l.Description, Value: c.Value, Placeholder: c.Placeholder,
			Long: c.Style == 2, Required: c.needed(),
		}
		if c.MaxLength != nil {
			f.Max = *c.MaxLength
		}
		for _, o := range c.Options {
			f.Choices = append(f.Choices, Choice{o.Value, o.Label})
			if o.Default {
				f.Value = o.Value
			}
		}
		if c.Type == typeFile {
			_, f.Files = c.takes()
		}
		v.Fields = append(v.Fields, f)
	}
	return v
}

// outcome is what in's user sees. The caller holds s.mu.
func (s *Stand) outcome(in *interaction) *Outcome {
	o := &Outcome{Within: in.after}
	switch {
	case in.settled != nil:
		o.Message = s.view(in.settled)
		o.Ephemeral = in.settled.viewer != nil
	case in.modal != nil:
		o.Modal = in.modal.view(in)
	default:
		o.Failed = in.failed
	}
	return o
}

// EntryKind is what a transcript entry tells of.
type EntryKind string

// The kinds of transcript entry.
const (
	Typed     EntryKind = "typed"     // somebody used a command
	Pressed   EntryKind = "pressed"   // somebody pressed a button, chose from a menu or sent a form
	Opened    EntryKind = "opened"    // a form opened
	Posted    EntryKind = "posted"    // a message appeared
	Edited    EntryKind = "edited"    // a message changed; the entry has its new state
	Deleted   EntryKind = "deleted"   // a message disappeared
	Unsettled EntryKind = "no answer" // the platform told somebody that the bot did not answer
)

// An Entry is one thing that became visible.
type Entry struct {
	At      time.Time
	Kind    EntryKind
	Server  string
	Channel string // its name; the person's own name in a direct conversation
	Direct  bool
	Thread  bool
	Actor   string // who did it
	Viewer  string // the only person who sees it, "" if everybody in the channel does
	Text    string // what was typed or pressed
	Message Message
	Modal   *Modal
}

// Transcript is everything that became visible so far, in order.
func (s *Stand) Transcript() []Entry {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Entry(nil), s.transcript...)
}

func (s *Stand) record(m *message, k EntryKind) {
	e := s.entry(k, m.channel, m.author)
	e.Message = s.view(m)
	e.Viewer = e.Message.Viewer
	s.tell(e)
}

// tell adds e to the transcript.
func (s *Stand) tell(e Entry) {
	if !s.cfg.Lean {
		s.transcript = append(s.transcript, e)
	}
}

func (s *Stand) entry(k EntryKind, c *Channel, actor *User) Entry {
	e := Entry{At: s.cfg.Now(), Kind: k, Channel: c.Name, Actor: actor.Name, Direct: c.kind == directChannel, Thread: c.parent != nil}
	if c.server != nil {
		e.Server = c.server.Name
	}
	return e
}

// Messages are the messages that u sees in c, oldest first.
func (c *Channel) Messages(u *User) []Message {
	s := c.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []Message
	for _, m := range c.order {
		if !m.deleted && !m.loading && (m.viewer == nil || m.viewer.ID == u.ID) {
			out = append(out, s.view(m))
		}
	}
	return out
}
