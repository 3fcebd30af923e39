package standin

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// component is a component as the bot sends it. It has the fields of every
// type; check says which belong where.
type component struct {
	Type        int          `json:"type"`
	ID          int          `json:"id,omitempty"`
	Components  []component  `json:"components,omitempty"`
	Component   *component   `json:"component,omitempty"`
	CustomID    string       `json:"custom_id,omitempty"`
	Label       string       `json:"label,omitempty"`
	Style       int          `json:"style,omitempty"`
	URL         string       `json:"url,omitempty"`
	Disabled    bool         `json:"disabled,omitempty"`
	Options     []menuOption `json:"options,omitempty"`
	Placeholder string       `json:"placeholder,omitempty"`
	MinValues   *int         `json:"min_values,omitempty"`
	MaxValues   *int         `json:"max_values,omitempty"`
	Channels    []int        `json:"channel_types,omitempty"`
	MinLength   *int         `json:"min_length,omitempty"`
	MaxLength   *int         `json:"max_length,omitempty"`
	Required    *bool        `json:"required,omitempty"`
	Value       string       `json:"value,omitempty"`
	Description string       `json:"description,omitempty"`
}

type menuOption struct {
	Label       string `json:"label"`
	Value       string `json:"value"`
	Description string `json:"description,omitempty"`
	Default     bool   `json:"default,omitempty"`
}

// Component types.
const (
	typeRow    = 1
	typeButton = 2
	typeMenu   = 3
	typeInput  = 4
	typePeople = 5 // menus of what the platform lists by itself
	typeRoles  = 6
	typeLabel  = 18
	typeFile   = 19

	typeChannels = 8
)

// checkMessage refuses what the platform refuses in a message.
func (b *messageBody) check() error {
	if b.Content != nil && utf8.RuneCountInString(*b.Content) > 2000 {
		return invalid("content: Must be 2000 or fewer in length (BASE_TYPE_BAD_LENGTH)")
	}
	if a := b.Allowed; a != nil {
		if slices.Contains(a.Parse, "users") && len(a.Users) > 0 {
			return invalid("allowed_mentions: parse:[\"users\"] and users: [ids...] are mutually exclusive")
		}
		if len(a.Users) > 100 || len(a.Roles) > 100 {
			return invalid("allowed_mentions: more than 100")
		}
	}
	if n, ok := b.Nonce.(string); ok && len(n) > 25 {
		return invalid("nonce: Must be 25 or fewer in length")
	}
	if b.Components != nil {
		rows, err := decodeComponents(*b.Components)
		if err != nil {
			return err
		}
		if err := checkRows(rows); err != nil {
			return err
		}
	}
	return nil
}

func decodeComponents(raw json.RawMessage) ([]component, error) {
	var rows []component
	if string(raw) == "null" {
		return nil, nil
	}
	if err := strict(raw, &rows); err != nil {
		return nil, err
	}
	return rows, nil
}

func checkRows(rows []component) error {
	if len(rows) > 5 {
		return invalid("components: Must be between 0 and 5 in length, have %d", len(rows))
	}
	ids := map[string]bool{}
	for i, row := range rows {
		if row.Type != typeRow {
			return invalid("components[%d].type: Value must be one of {1}, is %d", i, row.Type)
		}
		if len(row.Components) < 1 || len(row.Components) > 5 {
			return invalid("components[%d].components: Must be between 1 and 5 in length, have %d", i, len(row.Components))
		}
		for j, c := range row.Components {
			if c.CustomID == "" && c.Style != 5 || utf8.RuneCountInString(c.CustomID) > 100 {
				return invalid("components[%d].components[%d].custom_id: Must be between 1 and 100 in length", i, j)
			}
			if ids[c.CustomID] {
				return invalid("components[%d].components[%d].custom_id: Component custom id cannot be duplicated (COMPONENT_CUSTOM_ID_DUPLICATED)", i, j)
			}
			ids[c.CustomID] = true
			switch c.Type {
			case typeButton:
				if c.Label == "" || utf8.RuneCountInString(c.Label) > 80 {
					return invalid("components[%d].components[%d].label: Must be between 1 and 80 in length", i, j)
				}
				if c.Style < 1 || c.Style > 5 {
					return invalid("components[%d].components[%d].style: %d is no button style", i, j, c.Style)
				}
				if c.Options != nil || c.Placeholder != "" {
					return invalid("components[%d].components[%d]: a button has no options", i, j)
				}
			case typeMenu:
				if len(row.Components) != 1 {
					return invalid("components[%d].components: a menu fills its row", i)
				}
				if err := checkMenu(c); err != nil {
					return err
				}
			case typePeople, typeRoles, typeChannels:
				if len(row.Components) != 1 {
					return invalid("components[%d].components: a menu fills its row", i)
				}
				if least, most := c.takes(); c.Options != nil || c.Channels != nil && c.Type != typeChannels || least < 0 || most < 1 || most > 25 || least > most {
					return invalid("components[%d].components[%d]: a menu of the platform's own has no options and takes up to 25", i, j)
				}
				if utf8.RuneCountInString(c.Placeholder) > 150 {
					return invalid("placeholder: Must be 150 or fewer in length")
				}
			default:
				return invalid("components[%d].components[%d].type: Value must be one of {2, 3, 5, 6, 7, 8}, is %d", i, j, c.Type)
			}
		}
	}
	return nil
}

func checkMenu(c component) error {
	if len(c.Options) < 1 || len(c.Options) > 25 {
		return invalid("options: Must be between 1 and 25 in length, have %d", len(c.Options))
	}
	if utf8.RuneCountInString(c.Placeholder) > 150 {
		return invalid("placeholder: Must be 150 or fewer in length")
	}
	seen := map[string]bool{}
	for i, o := range c.Options {
		if badLength(o.Label, 1, 100) || badLength(o.Value, 1, 100) || badLength(o.Description, 0, 100) {
			return invalid("options[%d]: label and value Must be between 1 and 100 in length", i)
		}
		if seen[o.Value] {
			return invalid("options[%d].value: The specified option value is already used (SELECT_COMPONENT_OPTION_VALUE_DUPLICATED)", i)
		}
		seen[o.Value] = true
	}
	return nil
}

// modalBody is a modal as the bot sends it.
type modalBody struct {
	CustomID   string      `json:"custom_id"`
	Title      string      `json:"title"`
	Components []component `json:"components"`
}

func (m *modalBody) check() error {
	switch {
	case badLength(m.CustomID, 1, 100):
		return invalid("custom_id: Must be between 1 and 100 in length")
	case badLength(m.Title, 1, 45):
		return invalid("title: Must be between 1 and 45 in length")
	case len(m.Components) < 1 || len(m.Components) > 5:
		return invalid("components: Must be between 1 and 5 in length")
	}
	ids := map[string]bool{}
	for i, l := range m.Components {
		// Text inputs in action rows still work on the platform but are
		// deprecated; nothing new should send them.
		if l.Type != typeLabel || l.Component == nil {
			return invalid("components[%d]: only labels holding a component", i)
		}
		if badLength(l.Label, 1, 45) || badLength(l.Description, 0, 100) {
			return invalid("components[%d].label: Must be between 1 and 45 in length", i)
		}
		c := l.Component
		if badLength(c.CustomID, 1, 100) || ids[c.CustomID] {
			return invalid("components[%d].component.custom_id: Must be between 1 and 100 in length and its own", i)
		}
		ids[c.CustomID] = true
		if err := c.checkInput(); err != nil {
			return err
		}
	}
	return nil
}

// checkInput refuses what the platform refuses of a component in a label.
func (c *component) checkInput() error {
	if c.Label != "" || c.Description != "" || c.Components != nil || c.Component != nil || c.URL != "" || c.Disabled {
		return invalid("component: only what its type has, and no label of its own")
	}
	text := c.Style != 0 || c.Value != "" || c.MinLength != nil || c.MaxLength != nil
	least, most := c.takes()
	switch c.Type {
	case typeInput:
		switch {
		case c.Style != 1 && c.Style != 2:
			return invalid("component.style: Value must be one of {1, 2}")
		case c.Options != nil || c.MinValues != nil || c.MaxValues != nil:
			return invalid("component: a text input takes one text")
		case badLength(c.Value, 0, 4000) || badLength(c.Placeholder, 0, 100):
			return invalid("component: value at most 4000, placeholder at most 100")
		case c.MaxLength != nil && (*c.MaxLength < 1 || *c.MaxLength > 4000):
			return invalid("component.max_length: Must be between 1 and 4000")
		}
		return nil
	case typeMenu:
		if text {
			return invalid("component: a menu takes no text")
		}
		if err := checkMenu(*c); err != nil {
			return err
		}
		defaults := 0
		for _, o := range c.Options {
			if o.Default {
				defaults++
			}
		}
		if defaults > most || most > len(c.Options) {
			return invalid("component.options: %d defaults and %d options where %d are taken", defaults, len(c.Options), most)
		}
	case typeFile:
		if text || c.Options != nil || c.Placeholder != "" || most > 10 {
			return invalid("component: a file upload takes up to 10 files and nothing else")
		}
	default:
		return invalid("component.type: %d does not stand in a label", c.Type)
	}
	if least < 0 || most < 1 || least > most || least == 0 && c.needed() {
		return invalid("component: min_values and max_values do not go together, or with required")
	}
	return nil
}

// takes is how many choices or files a component takes.
func (c *component) takes() (least, most int) {
	least, most = 1, 1
	if c.MinValues != nil {
		least = *c.MinValues
	}
	if c.MaxValues != nil {
		most = *c.MaxValues
	}
	return least, most
}

// needed reports whether a component of a modal has to be filled in.
func (c *component) needed() bool { return c.Required == nil || *c.Required }

type choiceBody struct {
	Name          string            `json:"name"`
	Value         any               `json:"value"`
	Localizations map[string]string `json:"name_localizations,omitempty"`
}

func checkChoices(cs []choiceBody) error {
	if len(cs) > 25 {
		return invalid("choices: Must be 25 or fewer in length, have %d", len(cs))
	}
	for i, c := range cs {
		if badLength(c.Name, 1, 100) {
			return invalid("choices[%d].name: Must be between 1 and 100 in length", i)
		}
		if v, ok := c.Value.(string); ok && utf8.RuneCountInString(v) > 100 {
			return invalid("choices[%d].value: Must be 100 or fewer in length", i)
		}
	}
	return nil
}

// command is an application command.
type command struct {
	ID          string          `json:"id,omitempty"`
	Type        int             `json:"type,omitempty"`
	Name        string          `json:"name"`
	Description string          `json:"description"`
	Options     []commandOption `json:"options,omitempty"`
	Permissions *string         `json:"default_member_permissions"`
	Contexts    []int           `json:"contexts,omitempty"`
	Integration []int           `json:"integration_types,omitempty"`
	NSFW        bool            `json:"nsfw"`
}

type commandOption struct {
	Type         int             `json:"type"`
	Name         string          `json:"name"`
	Description  string          `json:"description"`
	Required     bool            `json:"required,omitempty"`
	Choices      []choiceBody    `json:"choices,omitempty"`
	Options      []commandOption `json:"options,omitempty"`
	Autocomplete bool            `json:"autocomplete,omitempty"`
	Min          *float64        `json:"min_value,omitempty"`
	Max          *float64        `json:"max_value,omitempty"`
	MinLength    *int            `json:"min_length,omitempty"`
	MaxLength    *int            `json:"max_length,omitempty"`
}

// inDirect is the context of a command that is offered in direct messages.
const inDirect = 1

// Option types.
const (
	optSub = 1 + iota
	optGroup
	optString
	optInteger
	optBoolean
	optUser
	optChannel
	optRole
	optMentionable
	optNumber
	optAttachment
)

// commandName reports whether s is what the platform's description calls a
// name: ^[-_'\p{L}\p{N}]{1,32}$. As a pattern that takes a millisecond and a
// megabyte to make ready, at every start of the program.
func commandName(s string) bool {
	odd := func(r rune) bool {
		return !strings.ContainsRune("-_'", r) && !unicode.IsLetter(r) && !unicode.IsNumber(r)
	}
	return !badLength(s, 1, 32) && !strings.ContainsFunc(s, odd)
}

func checkCommands(cs []command) error {
	kinds := map[int]int{}
	seen := map[string]bool{}
	for i, c := range cs {
		kind := or(c.Type, 1)
		kinds[kind]++
		key := strconv.Itoa(kind) + c.Name
		if seen[key] {
			return invalid("[%d].name: Application command names must be unique (APPLICATION_COMMANDS_DUPLICATE_NAME)", i)
		}
		seen[key] = true
		if kind != 1 {
			if badLength(c.Name, 1, 32) || c.Description != "" || c.Options != nil {
				return invalid("[%d]: a command on a message has a name of 1 to 32 characters, no description, no options", i)
			}
			continue
		}
		if !commandName(c.Name) || c.Name != strings.ToLower(c.Name) {
			return invalid("[%d].name: Command name is invalid (APPLICATION_COMMAND_INVALID_NAME): %q", i, c.Name)
		}
		if badLength(c.Description, 1, 100) {
			return invalid("[%d].description: Must be between 1 and 100 in length", i)
		}
		size := 0
		if err := checkOptions(c.Options, 0, &size); err != nil {
			return err
		}
		if size += len(c.Name) + len(c.Description); size > 8000 {
			return invalid("[%d]: Command exceeds maximum size (8000)", i)
		}
	}
	if kinds[1] > 100 || kinds[2] > 15 || kinds[3] > 15 {
		return &refusal{400, 30032, "Maximum number of application commands reached (100)", ""}
	}
	return nil
}

func checkOptions(os []commandOption, depth int, size *int) error {
	if len(os) > 25 {
		return invalid("options: Must be 25 or fewer in length")
	}
	seen, optional := map[string]bool{}, false
	for _, o := range os {
		*size += len(o.Name) + len(o.Description)
		switch {
		case !commandName(o.Name) || o.Name != strings.ToLower(o.Name) || seen[o.Name]:
			return invalid("options.name: %q is invalid or used twice", o.Name)
		case badLength(o.Description, 1, 100):
			return invalid("options.description of %q: Must be between 1 and 100 in length", o.Name)
		case o.Required && optional:
			return invalid("options: Required options must be placed before non-required options (APPLICATION_COMMAND_OPTIONS_REQUIRED_INVALID)")
		case len(o.Choices) > 0 && o.Autocomplete:
			return invalid("options: %q has choices and autocomplete", o.Name)
		case o.Autocomplete && o.Type != optString && o.Type != optInteger && o.Type != optNumber:
			return invalid("options: %q cannot be completed", o.Name)
		case (o.Type == optSub || o.Type == optGroup) && depth > 1:
			return invalid("options: %q nests too deep", o.Name)
		case o.Type < optSub || o.Type > optAttachment:
			return invalid("options.type: %d", o.Type)
		}
		seen[o.Name] = true
		optional = optional || !o.Required
		if err := checkChoices(o.Choices); err != nil {
			return err
		}
		for _, c := range o.Choices {
			*size += len(c.Name)
			if v, ok := c.Value.(string); ok {
				*size += len(v)
			}
		}
		if err := checkOptions(o.Options, depth+1, size); err != nil {
			return err
		}
	}
	return nil
}

func badLength(s string, least, most int) bool {
	n := utf8.RuneCountInString(s)
	return n < least || n > most
}
