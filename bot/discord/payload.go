package discord

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/textproto"
	"strings"
	"unicode"
	"unicode/utf8"

	"rangepost/bot"
)

// Limits of the platform on what we send.
const (
	maxContent     = 2000
	maxDescription = 1024
	maxFiles       = 10
	maxRows        = 5
	maxButtons     = 5
	maxLabel       = 80
	maxChoices     = 25
	maxChoiceText  = 100
	maxPlaceholder = 150
	maxTitle       = 45
	maxHint        = 100
	maxFields      = 5
)

// payload is the wire form of a message. Unlike discordgo's it has the
// description of each attachment, which is what a screen reader reads out. The
// lists are never left out: an edit without them would keep the old ones.
type payload struct {
	Content     string          `json:"content"`
	Components  []component     `json:"components"`
	Attachments []described     `json:"attachments"`
	Mentions    allowedMentions `json:"allowed_mentions"`
	Flags       int             `json:"flags,omitempty"`

	// Only for messages that answer no interaction.
	Nonce     string     `json:"nonce,omitempty"`
	Enforce   bool       `json:"enforce_nonce,omitempty"`
	Reference *reference `json:"message_reference,omitempty"`

	files []bot.File
}

type described struct {
	ID          int    `json:"id"` // the number of the file in this request
	Filename    string `json:"filename"`
	Description string `json:"description,omitempty"`
}

// allowedMentions says who is told of a message. Parse is always sent and
// always empty: the platform's default would tell everybody it names.
type allowedMentions struct {
	Parse       []string `json:"parse"`
	Users       []string `json:"users,omitempty"`
	RepliedUser bool     `json:"replied_user"`
}

type reference struct {
	MessageID       string `json:"message_id"`
	FailIfNotExists bool   `json:"fail_if_not_exists"`
}

type component struct {
	Type        int         `json:"type"`
	Components  []component `json:"components,omitempty"`
	Component   *component  `json:"component,omitempty"`
	CustomID    string      `json:"custom_id,omitempty"`
	Label       string      `json:"label,omitempty"`
	Description string      `json:"description,omitempty"`
	Style       int         `json:"style,omitempty"`
	Options     []choice    `json:"options,omitempty"`
	Placeholder string      `json:"placeholder,omitempty"`
	Required    *bool       `json:"required,omitempty"`
	Value       string      `json:"value,omitempty"`
	MinValues   *int        `json:"min_values,omitempty"`
	MaxLength   int         `json:"max_length,omitempty"`
	MaxValues   int         `json:"max_values,omitempty"`
	Channels    []int       `json:"channel_types,omitempty"`
}

type choice struct {
	Label   string `json:"label"`
	Value   string `json:"value"`
	Default bool   `json:"default,omitempty"`
}

// payloadOf is the wire form of r. What exceeds the platform's limits is cut,
// never refused: a reply that is a little short is better than none. The
// limits of package bot are tighter, so only a mistake of ours comes here.
func payloadOf(r bot.Reply) payload {
	p := payload{
		Content:     cut(r.Text, maxContent),
		Components:  rowsOf(r.Rows),
		Attachments: []described{},
		Mentions:    allowedMentions{Parse: []string{}, Users: first(r.Notify, 100)},
	}
	if r.Picture != nil {
		p.attach(bot.File{Name: r.Picture.Name, Bytes: r.Picture.PNG}, r.Picture.Alt)
	}
	for _, f := range r.Files {
		p.attach(f, "")
	}
	if p.Content == "" && len(p.files) == 0 {
		p.Content = "Done."
	}
	return p
}

func (p *payload) attach(f bot.File, alt string) {
	if len(p.files) == maxFiles {
		return
	}
	f.Name = visible(f.Name)
	p.Attachments = append(p.Attachments, described{len(p.files), f.Name, cut(visible(alt), maxDescription)})
	p.files = append(p.files, f)
}

func rowsOf(rows []bot.Row) []component {
	out := []component{}
	for _, row := range first(rows, maxRows) {
		c := component{Type: componentRow}
		for _, b := range first(row.Buttons, maxButtons) {
			c.Components = append(c.Components, component{
				Type: componentButton, Style: styleOf(b.Style), CustomID: b.Path, Label: cut(visible(b.Label), maxLabel),
			})
		}
		if m := row.Menu; m != nil && (m.Kind != bot.ChoiceMenu || len(m.Choices) > 0) {
			c.Components = []component{menuOf(m)}
		}
		if len(c.Components) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// menuOf is the wire form of a menu. What the platform lists by itself comes
// without options; of channels only those that take messages are wanted.
func menuOf(m *bot.Menu) component {
	menu := component{Type: componentMenu, CustomID: m.Path, Placeholder: cut(visible(m.Placeholder), maxPlaceholder)}
	most := min(m.Most, maxChoices)
	switch m.Kind {
	case bot.RoleMenu:
		menu.Type = componentRoles
	case bot.PersonMenu:
		menu.Type = componentPeople
	case bot.ChannelMenu:
		menu.Type, menu.Channels = componentChannels, []int{channelText}
	default:
		most = min(most, len(m.Choices))
		for _, ch := range first(m.Choices, maxChoices) {
			menu.Options = append(menu.Options, choice{Label: cut(visible(ch.Text), maxChoiceText), Value: ch.Value})
		}
	}
	if most > 1 {
		menu.MaxValues = most
	}
	return menu
}

// styleOf numbers the styles as the platform does.
func styleOf(s bot.ButtonStyle) int {
	switch s {
	case bot.Main:
		return 1
	case bot.Danger:
		return 4
	}
	return 2
}

// modalOf is the wire form of a modal: each field inside a label, since text
// boxes in rows are deprecated and files take nothing else.
func modalOf(m *bot.Modal) any {
	var cs []component
	for _, f := range first(m.Fields, maxFields) {
		in := inputOf(f)
		cs = append(cs, component{
			Type: componentLabel, Label: cut(visible(f.Label), maxTitle), Description: cut(visible(f.Hint), maxHint), Component: &in,
		})
	}
	return map[string]any{"custom_id": m.Path, "title": cut(visible(m.Title), maxTitle), "components": cs}
}

// inputOf is the wire form of what a field takes. Of files and choices the
// platform takes one if it is not told how many; none at all has to be allowed
// in so many words (Discord documentation, "File Upload", "String Select").
func inputOf(f bot.Field) component {
	c := component{CustomID: f.ID, Required: &f.Required}
	if f.Kind != bot.TextField && !f.Required {
		c.MinValues = new(int)
	}
	switch f.Kind {
	case bot.FileField:
		c.Type = componentFile
	case bot.ChoiceField:
		c.Type, c.Placeholder = componentMenu, cut(visible(f.Placeholder), maxPlaceholder)
		for _, ch := range first(f.Choices, maxChoices) {
			c.Options = append(c.Options, choice{cut(visible(ch.Text), maxChoiceText), ch.Value, ch.Value == f.Value})
		}
	default:
		c.Type, c.Style = componentInput, 1
		if f.Long {
			c.Style = 2
		}
		c.Value, c.Placeholder, c.MaxLength = f.Value, cut(visible(f.Placeholder), maxHint), f.Max
	}
	return c
}

// completionOf is the wire form of the answer to a completion.
func completionOf(cs []bot.Choice) any {
	type offer struct {
		Name  string `json:"name"`
		Value string `json:"value"`
	}
	out := []offer{}
	for _, c := range first(cs, maxChoices) {
		out = append(out, offer{cut(visible(c.Text), maxChoiceText), c.Value})
	}
	return map[string]any{"choices": out}
}

// body is p as a request body: JSON, or multipart if files come with it.
func (p payload) body() *body { return withFiles(p, p.files) }

func withFiles(v any, files []bot.File) *body {
	if len(files) == 0 {
		return jsonBody(v)
	}
	var buf bytes.Buffer
	w := multipart.NewWriter(&buf)
	part := func(disposition, contentType string, b []byte) {
		h := textproto.MIMEHeader{}
		h.Set("Content-Disposition", disposition)
		h.Set("Content-Type", contentType)
		pw, err := w.CreatePart(h)
		if err == nil {
			pw.Write(b) // into memory; cannot fail
		}
	}
	part(`form-data; name="payload_json"`, "application/json", jsonBody(v).bytes)
	for i, f := range files {
		part(fmt.Sprintf(`form-data; name="files[%d]"; filename="%s"`, i, quoteName(f.Name)), contentTypeOf(f), f.Bytes)
	}
	w.Close()
	return &body{w.FormDataContentType(), buf.Bytes()}
}

var quoteName = strings.NewReplacer(`\`, "_", `"`, "_", "\r", "_", "\n", "_").Replace

func contentTypeOf(f bot.File) string {
	if bytes.HasPrefix(f.Bytes, []byte("\x89PNG")) {
		return "image/png"
	}
	return "application/octet-stream"
}

// visible drops what cannot be seen from text that is shown as it is: what
// breaks a link in markdown is clutter here, and marks of direction make a name
// look like another.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
			return -1
		}
		return r
	}, s)
}

func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}

func first[T any](s []T, n int) []T { return s[:min(len(s), n)] }

// callback is the first answer to an interaction.
type callback struct {
	Type int `json:"type"`
	Data any `json:"data,omitempty"`
}

// Types of first answers.
const (
	answerMessage     = 4
	answerLater       = 5
	answerUpdateLater = 6
	answerChoices     = 8
	answerModal       = 9
)

// ackOf is the acknowledgement of a request.
func ackOf(a bot.Ack) callback {
	switch a {
	case bot.AckUpdate:
		return callback{Type: answerUpdateLater}
	case bot.AckPublic:
		return callback{Type: answerLater}
	}
	return callback{Type: answerLater, Data: map[string]int{"flags": flagEphemeral}}
}

// immediate is a reply as a first answer, with its files.
func immediate(r bot.Request, reply bot.Reply) *body {
	switch {
	case r.Kind == bot.CompletionAsk:
		return jsonBody(callback{answerChoices, completionOf(reply.Choices)})
	case reply.Modal != nil && r.Kind != bot.SubmitRequest:
		return jsonBody(callback{answerModal, modalOf(reply.Modal)})
	}
	p := payloadOf(reply)
	if reply.Private {
		p.Flags = flagEphemeral
	}
	return withFiles(callback{answerMessage, p}, p.files)
}
