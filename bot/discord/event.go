package discord

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/bot"
)

// Interaction and component types of the platform.
const (
	interactionCommand   = 2
	interactionComponent = 3
	interactionComplete  = 4
	interactionModal     = 5

	commandChat    = 1
	commandMessage = 3

	optionSub   = 1
	optionGroup = 2
	optionFile  = 11

	componentRow    = 1
	componentButton = 2
	componentMenu   = 3
	componentInput  = 4
	componentPeople = 5
	componentRoles  = 6
	componentLabel  = 18
	componentFile   = 19

	componentChannels = 8 // a menu of them
	channelText       = 0

	flagEphemeral = 1 << 6

	permissionAdministrator = 1 << 3
	permissionManageServer  = 1 << 5
)

// The parts of events that matter here. Everything else, known or not, is
// skipped: an event must never be lost to a field nobody reads.
type interaction struct {
	ID      string          `json:"id"`
	App     string          `json:"application_id"`
	Type    int             `json:"type"`
	Token   string          `json:"token"`
	Server  string          `json:"guild_id"`
	Channel string          `json:"channel_id"`
	Place   place           `json:"channel"`
	Granted string          `json:"app_permissions"` // to the bot, there
	Member  *member         `json:"member"`
	User    *user           `json:"user"`
	Message *message        `json:"message"`
	Data    json.RawMessage `json:"data"`
}

// place is what is told of the channel an interaction happened in.
type place struct {
	Type int `json:"type"`
}

// thread reports whether it is one: an announcement, public or private thread.
func (p place) thread() bool { return p.Type >= 10 && p.Type <= 12 }

type user struct {
	ID     string `json:"id"`
	Name   string `json:"username"`
	Global string `json:"global_name"`
	Bot    bool   `json:"bot"`
}

func (u *user) told() bool { return u.ID != "" }

type member struct {
	User        *user    `json:"user"`
	Nick        string   `json:"nick"`
	Roles       []string `json:"roles"`
	Permissions string   `json:"permissions"`
}

type message struct {
	ID          string       `json:"id"`
	Channel     string       `json:"channel_id"`
	Server      string       `json:"guild_id"`
	Author      user         `json:"author"`
	Member      *member      `json:"member"`
	Content     string       `json:"content"`
	Attachments []attachment `json:"attachments"`
	Mentions    []user       `json:"mentions"`
	Flags       int          `json:"flags"`
	Webhook     string       `json:"webhook_id"`
}

type attachment struct {
	ID   string `json:"id"`
	Name string `json:"filename"`
	URL  string `json:"url"`
	Size int64  `json:"size"`
}

type commandData struct {
	Name     string   `json:"name"`
	Type     int      `json:"type"`
	Target   string   `json:"target_id"`
	Options  []option `json:"options"`
	Resolved resolved `json:"resolved"`
}

// resolved is what the ids in an interaction's data stand for.
type resolved struct {
	Users       map[string]user       `json:"users"`
	Members     map[string]member     `json:"members"`
	Attachments map[string]attachment `json:"attachments"`
	Messages    map[string]message    `json:"messages"`
	Roles       map[string]struct{}   `json:"roles"`
	Channels    map[string]struct{}   `json:"channels"`
}

// people are its users, by id.
func (d resolved) people() map[string]bot.Person {
	all := map[string]bot.Person{}
	for id, u := range d.Users {
		m := d.Members[id]
		all[id] = u.person(&m)
	}
	return all
}

// known are those of the values of a menu that it has: what the platform lists
// by itself it resolves, and what a client made up it does not.
func (d resolved) known(menu int, values []string) []string {
	return slices.DeleteFunc(values, func(id string) bool {
		var ok bool
		switch menu {
		case componentPeople:
			_, ok = d.Members[id]
		case componentRoles:
			_, ok = d.Roles[id]
		case componentChannels:
			_, ok = d.Channels[id]
		default:
			ok = true
		}
		return !ok
	})
}

// files are its attachments.
func (d resolved) files() map[string]bot.Attachment {
	all := map[string]bot.Attachment{}
	for id, a := range d.Attachments {
		all[id] = a.attachment()
	}
	return all
}

type option struct {
	Name    string          `json:"name"`
	Type    int             `json:"type"`
	Value   json.RawMessage `json:"value"`
	Options []option        `json:"options"`
	Focused bool            `json:"focused"`
}

type submitted struct {
	Type       int         `json:"type"`
	CustomID   string      `json:"custom_id"`
	Value      string      `json:"value"`
	Values     []string    `json:"values"` // of a menu or of files
	Components []submitted `json:"components"`
	Component  *submitted  `json:"component"`
}

// note is how to reach the asker again, kept in bot.Request.ReplyTo.
type note struct {
	App     string    `json:"app,omitempty"`
	Token   string    `json:"token,omitempty"` // of the interaction, "" for a message
	Got     time.Time `json:"got"`             // when the event arrived
	Ack     bot.Ack   `json:"ack"`
	Message string    `json:"message,omitempty"` // a message to reply to
	Hidden  bool      `json:"hidden,omitempty"`  // the answer was to be the asker's alone
	Direct  bool      `json:"direct,omitempty"`  // asked in a direct conversation
	Late    bool      `json:"late,omitempty"`    // the token is not used any more
	Tried   bool      `json:"tried,omitempty"`   // by a run before this one, in a way that cannot be repeated
}

// text is the note as the intake keeps it.
func (n note) text() string {
	b, err := json.Marshal(n)
	if err != nil {
		panic(err) // a struct of strings
	}
	return string(b)
}

// decodeInteraction makes a request of an INTERACTION_CREATE event.
func decodeInteraction(raw []byte) (bot.Request, note, error) {
	var in interaction
	if err := json.Unmarshal(raw, &in); err != nil {
		return bot.Request{}, note{}, fmt.Errorf("decode an interaction: %w", err)
	}
	n := note{App: in.App, Token: in.Token}
	r := bot.Request{ID: in.ID, At: snowflakeTime(in.ID), Server: in.Server, Channel: in.Channel, Thread: in.Place.thread()}
	if in.Server != "" {
		r.Lacks = lacks(in.Granted)
	}
	if in.Message != nil {
		n.Hidden = in.Message.Flags&flagEphemeral != 0
		r.Hidden = n.Hidden
	}
	switch {
	case in.Member != nil && in.Member.User != nil:
		r.Asker = in.Member.User.person(in.Member)
		r.Roles = in.Member.Roles
		r.Manager = managesServer(in.Member.Permissions)
	case in.User != nil:
		r.Asker = in.User.person(nil)
	default:
		return r, n, fmt.Errorf("an interaction of type %d by nobody", in.Type)
	}
	n.Direct = in.Server == ""
	if !isID(in.ID) || !isID(r.Asker.ID) || in.Token == "" {
		return r, n, fmt.Errorf("an interaction of type %d that cannot be answered", in.Type)
	}
	var err error
	switch in.Type {
	case interactionCommand, interactionComplete:
		err = fillCommand(&r, in)
	case interactionComponent:
		var d struct {
			CustomID string   `json:"custom_id"`
			Type     int      `json:"component_type"`
			Values   []string `json:"values"`
			Resolved resolved `json:"resolved"`
		}
		err = json.Unmarshal(in.Data, &d)
		r.Kind, r.Path = bot.PressRequest, d.CustomID
		if d.Type != componentButton {
			r.Kind, r.Values, r.People = bot.ChooseRequest, d.Resolved.known(d.Type, d.Values), d.Resolved.people()
		}
	case interactionModal:
		var d struct {
			CustomID   string      `json:"custom_id"`
			Components []submitted `json:"components"`
			Resolved   resolved    `json:"resolved"`
		}
		err = json.Unmarshal(in.Data, &d)
		r.Kind, r.Path, r.Fields, r.Files = bot.SubmitRequest, d.CustomID, map[string]string{}, d.Resolved.files()
		for _, c := range d.Components {
			c.collect(r.Fields)
		}
	default:
		err = fmt.Errorf("type %d is not known", in.Type)
	}
	if err != nil {
		return r, n, fmt.Errorf("decode an interaction: %w", err)
	}
	return r, n, nil
}

// fillCommand fills in a command or a completion.
func fillCommand(r *bot.Request, in interaction) error {
	var d commandData
	if err := json.Unmarshal(in.Data, &d); err != nil {
		return err
	}
	r.Kind, r.Command = bot.CommandRequest, d.Name
	if in.Type == interactionComplete {
		r.Kind = bot.CompletionAsk
	}
	if d.Type == commandMessage {
		m, ok := d.Resolved.Messages[d.Target]
		if !ok {
			return fmt.Errorf("the message a command was used on is missing")
		}
		r.Kind, r.Message = bot.MessageRequest, m.message()
		return nil
	}
	options := d.Options
	for len(options) == 1 && (options[0].Type == optionSub || options[0].Type == optionGroup) {
		r.Command += " " + options[0].Name
		options = options[0].Options
	}
	r.Options = map[string]string{}
	r.People = d.Resolved.people()
	r.Files = d.Resolved.files()
	for _, o := range options {
		r.Options[o.Name] = plain(o.Value)
		if o.Focused {
			r.Focused = o.Name
		}
	}
	return nil
}

// plain is an option's value as text: 7i, 12, 1.5, true, an id.
func plain(v json.RawMessage) string {
	var s string
	if json.Unmarshal(v, &s) == nil {
		return s
	}
	return string(v)
}

func (c submitted) collect(into map[string]string) {
	if c.CustomID != "" {
		// Our forms take one value a field; a client that sends more is not
		// understood.
		into[c.CustomID] = c.Value + strings.Join(c.Values, ",")
	}
	if c.Component != nil {
		c.Component.collect(into)
	}
	for _, inner := range c.Components {
		inner.collect(into)
	}
}

// decodeMessage makes a request of a MESSAGE_CREATE event, if it is one: a
// person's message with a file, or rows of numbers, that mentions the bot or is
// meant for it alone.
func decodeMessage(raw []byte, self string) (r bot.Request, n note, wanted bool, err error) {
	var m message
	if err := json.Unmarshal(raw, &m); err != nil {
		return r, n, false, fmt.Errorf("decode a message: %w", err)
	}
	mentioned := slices.ContainsFunc(m.Mentions, func(u user) bool { return u.ID == self })
	if m.Author.Bot || m.Webhook != "" || len(m.Attachments) == 0 && !bot.HasRows(m.Content) || m.Server != "" && !mentioned {
		return r, n, false, nil
	}
	if !isID(m.ID) || !isID(m.Author.ID) {
		return r, n, false, fmt.Errorf("a message that cannot be answered")
	}
	r = bot.Request{
		ID: m.ID, Kind: bot.MentionRequest, At: snowflakeTime(m.ID), Server: m.Server, Channel: m.Channel,
		Asker: m.Author.person(m.Member), Message: m.message(),
	}
	if m.Member != nil {
		r.Roles = m.Member.Roles
	}
	n = note{Message: m.ID, Direct: m.Server == ""}
	return r, n, true, nil
}

func (m message) message() *bot.Message {
	out := &bot.Message{ID: m.ID, Author: m.Author.person(m.Member), Text: m.Content}
	for _, a := range m.Attachments {
		out.Files = append(out.Files, a.attachment())
	}
	return out
}

func (a attachment) attachment() bot.Attachment {
	return bot.Attachment{ID: a.ID, Name: a.Name, URL: a.URL, Size: a.Size}
}

func (u user) person(m *member) bot.Person {
	name := u.Name
	if u.Global != "" {
		name = u.Global
	}
	if m != nil && m.Nick != "" {
		name = m.Nick
	}
	return bot.Person{ID: u.ID, Name: name}
}

func managesServer(permissions string) bool {
	p, err := strconv.ParseUint(permissions, 10, 64)
	return err == nil && p&(permissionAdministrator|permissionManageServer) != 0
}

// isID reports whether s is an id: a number of 64 bits.
func isID(s string) bool {
	_, err := strconv.ParseUint(s, 10, 64)
	return err == nil
}

// snowflakeTime is when an id was made: its upper 42 bits count milliseconds
// from the first moment of 2015 (Discord documentation, "Snowflakes").
func snowflakeTime(id string) time.Time {
	n, err := strconv.ParseUint(strings.TrimSpace(id), 10, 64)
	if err != nil {
		return time.Time{}
	}
	return time.UnixMilli(int64(n>>22) + 1420070400000).UTC()
}
