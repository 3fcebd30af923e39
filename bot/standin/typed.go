package standin

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// words are the options as the transcript shows them.
func (o Options) words() string {
	var b strings.Builder
	for _, k := range slices.Sorted(maps.Keys(o)) {
		switch v := o[k].(type) {
		case File:
			fmt.Fprintf(&b, " %s: %s", k, v.Name)
		case *User:
			fmt.Fprintf(&b, " %s: @%s", k, v.Name)
		case *Role:
			fmt.Fprintf(&b, " %s: @%s", k, v.Name)
		case Choice:
			fmt.Fprintf(&b, " %s: %s", k, v.Text)
		default:
			fmt.Fprintf(&b, " %s: %v", k, v)
		}
	}
	return b.String()
}

// commandData is the data of a command or completion, as the platform would
// send it: options in their declared order, people and files resolved. It
// refuses what the platform's own client refuses, unless u forges.
func (u *User) commandData(c *Channel, name string, o Options, focused string) (map[string]any, error) {
	s := u.stand
	words := strings.Fields(name)
	i := slices.IndexFunc(s.commands, func(have command) bool { return have.Name == words[0] && or(have.Type, 1) == 1 })
	if i < 0 {
		return nil, fmt.Errorf("standin: no command %q is registered", words[0])
	}
	have := s.commands[i]
	declared := have.Options
	var path []commandOption
	for _, w := range words[1:] {
		j := slices.IndexFunc(declared, func(d commandOption) bool { return d.Name == w && (d.Type == optSub || d.Type == optGroup) })
		if j < 0 {
			return nil, fmt.Errorf("standin: the command %q has no %q", words[0], w)
		}
		path = append(path, declared[j])
		declared = declared[j].Options
	}
	if !u.forger && !u.offered(c, have) {
		return nil, fmt.Errorf("standin: %s does not see the command %q here", u.Name, name)
	}

	users, members, roles, attachments := map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}
	given := []any{}
	left := maps.Clone(o)
	for _, d := range declared {
		v, ok := left[d.Name]
		delete(left, d.Name)
		if !ok {
			if d.Required && focused == "" && !u.forger {
				return nil, fmt.Errorf("standin: %q needs %q", name, d.Name)
			}
			continue
		}
		j := map[string]any{"name": d.Name, "type": d.Type}
		switch v := v.(type) {
		case File:
			up := s.store(c, v)
			attachments[up.id] = s.uploadJSON(up)
			j["value"] = up.id
		case *User:
			users[v.ID] = v.json()
			if c.server != nil && c.server.members[v.ID] != nil {
				m := c.server.members[v.ID].json(c.permissions(v))
				delete(m, "user")
				members[v.ID] = m
			}
			j["value"] = v.ID
		case *Role:
			roles[v.ID] = v.json()
			j["value"] = v.ID
		case Choice:
			j["value"] = v.Value
		case string:
			j["value"] = s.named(v)
		default:
			j["value"] = v
		}
		if !u.forger && focused == "" {
			if err := d.accepts(v); err != nil {
				return nil, fmt.Errorf("standin: %q: %w", name, err)
			}
		}
		if d.Name == focused {
			if !d.Autocomplete {
				return nil, fmt.Errorf("standin: %q of %q is not completed", focused, name)
			}
			j["focused"] = true
		}
		given = append(given, j)
	}
	if len(left) > 0 && !u.forger {
		return nil, fmt.Errorf("standin: %q has no option %q", name, slices.Sorted(maps.Keys(left)))
	}
	for k, v := range left { // only a forger gets here
		given = append(given, map[string]any{"name": k, "type": optString, "value": v})
	}
	for _, p := range slices.Backward(path) {
		given = []any{map[string]any{"name": p.Name, "type": p.Type, "options": given}}
	}
	return map[string]any{
		"id": have.ID, "name": have.Name, "type": 1, "options": given,
		"resolved": map[string]any{"users": users, "members": members, "roles": roles, "attachments": attachments},
	}, nil
}

// Sees reports whether u is offered a command in c.
func (u *User) Sees(c *Channel, name string) bool {
	u.stand.mu.Lock()
	defer u.stand.mu.Unlock()
	first, _, _ := strings.Cut(name, " ")
	return slices.ContainsFunc(u.stand.commands, func(have command) bool { return have.Name == first && u.offered(c, have) })
}

// offered reports whether the platform's own client offers u a command in c.
func (u *User) offered(c *Channel, have command) bool {
	if c.server == nil && have.Contexts != nil && !slices.Contains(have.Contexts, inDirect) {
		return false
	}
	if have.Permissions == nil {
		return true
	}
	var need int
	fmt.Sscan(*have.Permissions, &need)
	return c.permissions(u)&need == need
}

// accepts refuses a value that the platform's client would not send.
func (d commandOption) accepts(v any) error {
	ok := false
	number, isNumber := 0.0, false
	switch v := v.(type) {
	case string, Choice:
		ok = d.Type == optString
	case int:
		ok = d.Type == optInteger || d.Type == optNumber
		number, isNumber = float64(v), true
	case float64:
		ok = d.Type == optNumber
		number, isNumber = v, true
	case bool:
		ok = d.Type == optBoolean
	case *User:
		ok = d.Type == optUser || d.Type == optMentionable
	case *Role:
		ok = d.Type == optRole || d.Type == optMentionable
	case File:
		ok = d.Type == optAttachment
		if v.Declared == 0 && len(v.Bytes) > maxFile { // declared, it comes from a server that takes more
			return fmt.Errorf("option %q: %s is larger than the platform takes", d.Name, v.Name)
		}
	}
	if !ok {
		return fmt.Errorf("option %q does not take a %T", d.Name, v)
	}
	if isNumber && (d.Min != nil && number < *d.Min || d.Max != nil && number > *d.Max) {
		return fmt.Errorf("option %q: %v is out of range", d.Name, v)
	}
	if len(d.Choices) > 0 && !slices.ContainsFunc(d.Choices, func(c choiceBody) bool { return fmt.Sprint(c.Value) == fmt.Sprint(v) }) {
		return fmt.Errorf("option %q does not offer %v", d.Name, v)
	}
	return nil
}
