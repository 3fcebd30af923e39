package discord

import (
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"rangepost/bot"
)

// declared is a command as the platform keeps it: only the fields that are
// ours. What the platform adds (ids, versions, translations) is left out on
// reading, so that what was declared and what is there can be compared.
type declared struct {
	Type        int              `json:"type"`
	Name        string           `json:"name"`
	Description string           `json:"description"`
	Options     []declaredOption `json:"options,omitempty"`
	Permissions *string          `json:"default_member_permissions"`
	Contexts    []int            `json:"contexts"`
	Integration []int            `json:"integration_types"`
}

type declaredOption struct {
	Type         int              `json:"type"`
	Name         string           `json:"name"`
	Description  string           `json:"description"`
	Required     bool             `json:"required,omitempty"`
	Choices      []declaredChoice `json:"choices,omitempty"`
	Options      []declaredOption `json:"options,omitempty"`
	Autocomplete bool             `json:"autocomplete,omitempty"`
	Min          *float64         `json:"min_value,omitempty"`
	Max          *float64         `json:"max_value,omitempty"`
}

type declaredChoice struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// declarations are the commands as they should be.
func declarations(cs []bot.Command) []declared {
	out := []declared{}
	for _, c := range cs {
		d := declared{Type: commandChat, Name: c.Name, Description: cut(c.Summary, 100), Contexts: []int{0, 1}, Integration: []int{0}}
		if c.OnFile {
			d.Type, d.Description = commandMessage, ""
		} else {
			d.Options = optionsOf(c)
		}
		if c.Who() == bot.Manager {
			manage := fmt.Sprint(permissionManageServer)
			d.Permissions, d.Contexts = &manage, []int{0}
		}
		out = append(out, d)
	}
	return out
}

func optionsOf(c bot.Command) []declaredOption {
	var out []declaredOption
	for _, s := range c.Subs {
		out = append(out, declaredOption{Type: optionSub, Name: s.Name, Description: cut(s.Summary, 100), Options: optionsOf(s)})
	}
	for _, o := range c.Options {
		d := declaredOption{
			Type: optionType(o.Type), Name: o.Name, Description: cut(o.Summary, 100),
			Required: o.Required, Autocomplete: o.Complete, Min: o.Min, Max: o.Max,
		}
		for _, ch := range o.Choices {
			d.Choices = append(d.Choices, declaredChoice{ch.Text, ch.Value})
		}
		out = append(out, d)
	}
	// The platform wants what is required first.
	slices.SortStableFunc(out, func(a, b declaredOption) int {
		switch {
		case a.Required == b.Required:
			return 0
		case a.Required:
			return -1
		}
		return 1
	})
	return out
}

// optionType numbers the option types as the platform does.
func optionType(t bot.OptionType) int {
	switch t {
	case bot.WholeNumber:
		return 4
	case bot.YesNo:
		return 5
	case bot.PersonOption:
		return 6
	case bot.RoleOption:
		return 8
	case bot.DecimalNumber:
		return 10
	case bot.FileOption:
		return optionFile
	}
	return 3
}

// register brings the platform's list of commands up to date. It writes only
// if something differs: every write makes clients load the list again, and the
// platform counts them.
func (a *Adapter) register(ctx context.Context, app string) error {
	want := declarations(a.cfg.Commands)
	have, err := a.registered(ctx, app)
	if err != nil {
		return err
	}
	if sameCommands(want, have) {
		return nil
	}
	err = a.rest.do(ctx, call{
		method: "PUT", route: "/applications/{app}/commands", args: []string{app}, body: jsonBody(want),
	})
	if err != nil {
		return fmt.Errorf("register the commands: %w", err)
	}
	a.log.Info("registered the commands", "count", len(want))
	return nil
}

func (a *Adapter) registered(ctx context.Context, app string) ([]declared, error) {
	var raw json.RawMessage
	err := a.rest.do(ctx, call{method: "GET", route: "/applications/{app}/commands", args: []string{app}, into: &raw})
	if err != nil {
		return nil, err
	}
	var have []declared
	if err := json.Unmarshal(raw, &have); err != nil {
		// Somebody else declared what we would not, such as choices that are
		// numbers. It differs; that is all there is to know.
		return nil, nil
	}
	return have, nil
}

func sameCommands(want, have []declared) bool {
	if len(want) != len(have) {
		return false
	}
	for _, w := range want {
		i := slices.IndexFunc(have, func(h declared) bool { return h.Type == w.Type && h.Name == w.Name })
		if i < 0 || !reflect.DeepEqual(normal(w), normal(have[i])) {
			return false
		}
	}
	return true
}

// normal makes equal what means the same: no list and an empty one.
func normal(d declared) declared {
	b, err := json.Marshal(d)
	if err != nil {
		panic(err) // a struct of strings and numbers
	}
	var n declared
	if err := json.Unmarshal(b, &n); err != nil {
		panic(err)
	}
	return n
}
