package try

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"rangepost/bot"
	"rangepost/bot/standin"
)

// A group is the commands that some people use.
type group struct {
	Name  string
	Forms []form
}

// A form is what a command takes, or what the bot opened.
type form struct {
	Name, Summary string // "mine hand"; of one that opened "" and its title
	Fields        []field
}

// ID is what the form's fields are told apart by on the page.
func (f form) ID() string { return "f-" + slug(f.Name) }

// A field of a form. Kind is the type of its input, or "select" or "long".
type field struct {
	Name, Label, Hint, Kind, Value, Placeholder string
	Required, Complete                          bool
	Most                                        int // characters
	Min, Max                                    string
	Choices                                     []standin.Choice
}

// groups are the forms of the commands that somebody is offered in a place.
func (p *Page) groups(a at) []group {
	groups := []group{{Name: "For everybody"}, {Name: "For coaches"}, {Name: "For whoever runs challenges"}, {Name: "For server managers"}}
	for _, c := range p.typed() {
		if !a.User.Sees(a.In, c.Name) {
			continue
		}
		f := form{Name: c.Name, Summary: c.Summary}
		for _, o := range c.Options {
			f.Fields = append(f.Fields, p.field(o))
		}
		g := &groups[c.Who()]
		g.Forms = append(g.Forms, f)
	}
	return slices.DeleteFunc(groups, func(g group) bool { return len(g.Forms) == 0 })
}

// typed are the commands that are typed, subcommands under their full names.
func (p *Page) typed() []bot.Command {
	var all []bot.Command
	for _, c := range p.Commands {
		switch {
		case c.OnFile:
		case len(c.Subs) == 0:
			all = append(all, c)
		default:
			for _, sub := range c.Subs {
				sub.Name = c.Name + " " + sub.Name
				all = append(all, sub)
			}
		}
	}
	return all
}

func (p *Page) field(o bot.Option) field {
	f := field{Name: o.Name, Label: o.Name, Hint: o.Summary, Kind: "text", Required: o.Required, Complete: o.Complete, Most: 6000}
	switch o.Type {
	case bot.WholeNumber, bot.DecimalNumber:
		f.Kind = "number"
		if o.Min != nil {
			f.Min = fmt.Sprint(*o.Min)
		}
		if o.Max != nil {
			f.Max = fmt.Sprint(*o.Max)
		}
	case bot.FileOption:
		f.Kind = "file"
	case bot.YesNo:
		f.Choices = []standin.Choice{{Value: "true", Text: "yes"}, {Value: "false", Text: "no"}}
	case bot.PersonOption:
		for _, u := range p.Server.Members() {
			f.Choices = append(f.Choices, standin.Choice{Value: u.ID, Text: u.Name})
		}
	case bot.RoleOption:
		for _, r := range p.Server.Roles() {
			f.Choices = append(f.Choices, standin.Choice{Value: r.ID, Text: r.Name})
		}
	}
	for _, c := range o.Choices {
		f.Choices = append(f.Choices, standin.Choice{Value: c.Value, Text: c.Text})
	}
	if f.Choices != nil {
		f.Kind = "select"
	}
	return f
}

// opened is a form that the bot opened.
func (p *Page) opened(m *standin.Modal) *form {
	if m == nil {
		return nil
	}
	f := &form{Summary: m.Title}
	for _, from := range m.Fields {
		to := field{
			Name: from.ID, Label: from.Label, Hint: from.Hint, Kind: "text", Value: from.Value,
			Placeholder: from.Placeholder, Required: from.Required, Most: from.Max, Choices: from.Choices,
		}
		switch {
		case from.Files > 0:
			to.Kind = "file"
		case from.Choices != nil:
			to.Kind = "select"
		case from.Long:
			to.Kind = "long"
		}
		f.Fields = append(f.Fields, to)
	}
	return f
}

// options are what was filled in of a command's form, but the option called
// without.
func (p *Page) options(r *http.Request, a at, command, without string) (standin.Options, error) {
	i := slices.IndexFunc(p.typed(), func(c bot.Command) bool { return c.Name == command })
	if i < 0 {
		return nil, fmt.Errorf("there is no command /%s", command)
	}
	filled := standin.Options{}
	for _, o := range p.typed()[i].Options {
		if o.Name == without {
			continue
		}
		if o.Type == bot.FileOption {
			files, err := files(r, "o."+o.Name)
			if err != nil {
				return nil, err
			}
			if len(files) > 0 {
				filled[o.Name] = files[0]
			}
			continue
		}
		text := strings.TrimSpace(r.PostFormValue("o." + o.Name))
		if text == "" {
			continue
		}
		v, err := p.value(o, text)
		if err != nil {
			return nil, err
		}
		filled[o.Name] = v
	}
	return filled, nil
}

// value is what somebody filled in for an option.
func (p *Page) value(o bot.Option, text string) (any, error) {
	switch o.Type {
	case bot.WholeNumber:
		n, err := strconv.Atoi(text)
		if err != nil {
			return nil, fmt.Errorf("%s takes a whole number", o.Name)
		}
		return n, nil
	case bot.DecimalNumber:
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return nil, fmt.Errorf("%s takes a number", o.Name)
		}
		return x, nil
	case bot.YesNo:
		return text == "true", nil
	case bot.PersonOption:
		for _, u := range p.Server.Members() {
			if u.ID == text {
				return u, nil
			}
		}
		return nil, fmt.Errorf("%s takes somebody of this server", o.Name)
	case bot.RoleOption:
		for _, role := range p.Server.Roles() {
			if role.ID == text {
				return role, nil
			}
		}
		return nil, fmt.Errorf("%s takes a role of this server", o.Name)
	}
	return text, nil
}

// files are those handed over in a field of a form.
func files(r *http.Request, name string) ([]standin.File, error) {
	if r.MultipartForm == nil {
		return nil, nil
	}
	var all []standin.File
	for _, h := range r.MultipartForm.File[name] {
		if h.Filename == "" && h.Size == 0 { // no file was chosen
			continue
		}
		data, err := read(h)
		if err != nil {
			return nil, err
		}
		all = append(all, standin.File{Name: h.Filename, Bytes: data, ContentType: h.Header.Get("Content-Type")})
	}
	return all, nil
}

func read(h *multipart.FileHeader) (_ []byte, err error) {
	f, err := h.Open()
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return io.ReadAll(f)
}
