package standin

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Options are what a person fills in after a command: text, whole and decimal
// numbers, true and false, a *User, a *Role, a File, or a Choice that was offered
// while they typed.
type Options map[string]any

// A File is a file to post.
type File struct {
	Name        string
	Bytes       []byte
	ContentType string
	Declared    int64  // the size the platform is told, if not the real one
	URL         string // a forged address the platform hands on instead of its own
}

// Forger is u with a doctored client: what it sends is not held against the
// registered commands or the message's own buttons first.
func (u *User) Forger() *User {
	f := *u
	f.forger = true
	return &f
}

// real is u as the world knows them.
func (u *User) real() *User { return u.stand.users[u.ID] }

// Slash uses a slash command in c ("post", or "mine export" for a subcommand)
// and waits for the answer.
func (u *User) Slash(ctx context.Context, c *Channel, command string, o Options) (*Outcome, error) {
	in := &interaction{kind: kindCommand, channel: c, words: "/" + command + o.words()}
	return u.act(ctx, in, Typed, func() (map[string]any, error) {
		return u.commandData(c, command, o, "")
	})
}

// Use uses a command on a message ("Read this session") and waits for the
// answer.
func (u *User) Use(ctx context.Context, m *Message, command string) (*Outcome, error) {
	in := &interaction{kind: kindCommand, channel: m.Channel, words: command}
	return u.act(ctx, in, Typed, func() (map[string]any, error) {
		s := u.stand
		target := s.messages[m.ID]
		if target == nil || target.deleted {
			return nil, errUnknownMessage
		}
		for _, have := range s.commands {
			if have.Name == command && have.Type == 3 {
				return map[string]any{
					"id": have.ID, "name": have.Name, "type": 3, "target_id": m.ID,
					"resolved": map[string]any{"messages": map[string]any{m.ID: s.messageJSON(target, false)}},
				}, nil
			}
		}
		return nil, fmt.Errorf("standin: no command %q on messages is registered", command)
	})
}

// Press presses the button of m with the label, or the path.
func (u *User) Press(ctx context.Context, m *Message, label string) (*Outcome, error) {
	in := &interaction{kind: kindComponent, channel: m.Channel, words: "[" + label + "]"}
	return u.act(ctx, in, Pressed, func() (map[string]any, error) {
		src, err := u.visible(m)
		if err != nil {
			return nil, err
		}
		in.source = src
		v := u.stand.view(src)
		i := slices.IndexFunc(v.Buttons, func(b Button) bool { return (b.Label == label || b.Path == label) && !b.Disabled })
		path := label
		if i >= 0 {
			path = v.Buttons[i].Path
			in.words = "[" + v.Buttons[i].Label + "]"
		} else if !u.forger {
			return nil, fmt.Errorf("standin: no button %q there, only %q", label, v.Labels())
		}
		return map[string]any{"component_type": typeButton, "custom_id": path, "id": 1}, nil
	})
}

// Choose chooses from the menu of m with the path, or from its only one if
// path is "".
func (u *User) Choose(ctx context.Context, m *Message, path string, values ...string) (*Outcome, error) {
	in := &interaction{kind: kindComponent, channel: m.Channel, words: "[" + strings.Join(values, ", ") + "]"}
	return u.act(ctx, in, Pressed, func() (map[string]any, error) {
		src, err := u.visible(m)
		if err != nil {
			return nil, err
		}
		in.source = src
		for _, menu := range u.stand.view(src).Menus {
			if path != "" && menu.Path != path {
				continue
			}
			words := slices.Clone(values)
			for i, v := range values {
				j := slices.IndexFunc(menu.Choices, func(c Choice) bool { return c.Value == v || c.Text == v })
				if j < 0 && !u.forger {
					return nil, fmt.Errorf("standin: the menu %q does not offer %q", menu.Path, v)
				} else if j >= 0 {
					values[i], words[i] = menu.Choices[j].Value, menu.Choices[j].Text
				}
			}
			in.words = "[" + strings.Join(words, ", ") + "]"
			if !u.forger && (len(values) < menu.Min || len(values) > menu.Max) {
				return nil, fmt.Errorf("standin: the menu %q takes %d to %d choices", menu.Path, menu.Min, menu.Max)
			}
			return map[string]any{
				"component_type": menu.kind, "custom_id": menu.Path, "values": values, "id": 1,
				"resolved": m.Channel.resolve(menu.kind, values),
			}, nil
		}
		if u.forger {
			return map[string]any{"component_type": typeMenu, "custom_id": path, "values": values, "id": 1}, nil
		}
		return nil, fmt.Errorf("standin: no menu %q there", path)
	})
}

// Complete types into an option of a command and returns what is offered. o
// holds the options filled in so far.
func (u *User) Complete(ctx context.Context, c *Channel, command string, o Options, focused, typed string) ([]Choice, error) {
	in := &interaction{kind: kindComplete, channel: c}
	all := Options{focused: typed}
	for k, v := range o {
		if k != focused {
			all[k] = v
		}
	}
	if _, err := u.act(ctx, in, "", func() (map[string]any, error) { return u.commandData(c, command, all, focused) }); err != nil {
		return nil, err
	}
	u.stand.mu.Lock()
	defer u.stand.mu.Unlock()
	if in.failed != "" {
		return nil, errors.New("standin: loading options failed")
	}
	var out []Choice
	for _, ch := range in.choices {
		out = append(out, Choice{fmt.Sprint(ch.Value), ch.Name})
	}
	return out, nil
}

// act sends in to the bot and waits for what u sees of it.
func (u *User) act(ctx context.Context, in *interaction, k EntryKind, data func() (map[string]any, error)) (*Outcome, error) {
	s := u.stand
	s.mu.Lock()
	in.user = u.real()
	if in.channel.archived {
		s.mu.Unlock()
		return nil, errArchived
	}
	if !in.channel.sees(in.user) && !u.forger {
		s.mu.Unlock()
		return nil, errMissingAccess
	}
	d, err := data()
	if err == nil {
		if k != "" {
			e := s.entry(k, in.channel, in.user)
			e.Text, e.Viewer = in.words, in.user.Name
			s.tell(e)
		}
		err = s.begin(in, d)
	}
	s.mu.Unlock()
	if err != nil {
		return nil, err
	}
	err = s.wait(ctx, func() bool {
		return in.settled != nil || in.modal != nil || in.failed != "" || in.kind == kindComplete && in.acked != 0
	})
	s.mu.Lock()
	defer s.mu.Unlock()
	out := s.outcome(in)
	if err != nil {
		return out, fmt.Errorf("standin: %s: no answer: %w", or(in.words, "a completion"), err)
	}
	if k != "" && (out.Failed != "" || out.Modal != nil) {
		e := s.entry(Unsettled, in.channel, in.user)
		e.Viewer, e.Text = in.user.Name, out.Failed
		if out.Modal != nil {
			e.Kind, e.Modal, e.Message.Author = Opened, out.Modal, s.botUser.Name
		}
		s.tell(e)
	}
	return out, nil
}

// visible finds m, if u can see it.
func (u *User) visible(m *Message) (*message, error) {
	src := u.stand.messages[m.ID]
	if src == nil || src.deleted || src.viewer != nil && src.viewer.ID != u.ID {
		return nil, errUnknownMessage
	}
	return src, nil
}

// named is a text as the platform's client sends it: "@Name" of the bot or a
// member is a mention, in a message as in what a command takes. The caller holds
// s.mu.
func (s *Stand) named(text string) string {
	for _, u := range s.users {
		text = strings.ReplaceAll(text, "@"+u.Name, "<@"+u.ID+">")
	}
	return text
}

// Say writes a message in c, with files. "@Name" of the bot or a member
// becomes a mention. It does not wait for an answer; see Await.
func (u *User) Say(c *Channel, text string, files ...File) *Message {
	s := u.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	text = s.named(text)
	m := &message{channel: c, author: u.real(), content: text}
	m.mentions, m.everyone = s.mentioned(text, &allowedMentions{Parse: []string{"users"}})
	for _, f := range files {
		m.files = append(m.files, s.store(c, f))
	}
	c.invite(m.mentions)
	s.add(m)
	v := s.view(m)
	return &v
}

// Ask says something in c and waits for the bot's next message that u can see,
// there or in their direct conversation.
func (u *User) Ask(ctx context.Context, c *Channel, text string, files ...File) (*Outcome, error) {
	direct := u.Direct()
	said := u.Say(c, text, files...)
	in := func(m *Message) bool { return m.Author == u.stand.botUser.Name && newer(m.ID, said.ID) }
	m, err := u.stand.await(ctx, u, []*Channel{c, direct}, in)
	if err != nil {
		return nil, fmt.Errorf("standin: nobody answers %q: %w", text, err)
	}
	return &Outcome{Message: *m, Ephemeral: m.Channel == direct}, nil
}

// Await waits for a message in c that u can see and that is wanted.
func (c *Channel) Await(ctx context.Context, u *User, wanted func(*Message) bool) (*Message, error) {
	return c.stand.await(ctx, u, []*Channel{c}, wanted)
}

func (s *Stand) await(ctx context.Context, u *User, cs []*Channel, wanted func(*Message) bool) (*Message, error) {
	var found *Message
	err := s.wait(ctx, func() bool {
		for _, c := range cs {
			for _, m := range c.order {
				if m.deleted || m.loading || m.viewer != nil && m.viewer.ID != u.ID {
					continue
				}
				if v := s.view(m); wanted(&v) {
					found = &v
					return true
				}
			}
		}
		return false
	})
	return found, err
}

func newer(a, b string) bool { return len(a) > len(b) || len(a) == len(b) && a > b }

// PostedURL is the address of the nth file of a message.
func (u *User) PostedURL(m *Message, n int) string {
	s := u.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.fileURL(s.messages[m.ID].files[n])
}
