package standin

import (
	"context"
	"fmt"
	"slices"
	"unicode/utf8"
)

// Submit sends a form: texts and choices by the ids of their fields, a choice
// by its value or its text, and the files in the one that takes them. Fields
// left out keep what the form opened with.
//
// A field comes back inside its label; a choice and files as a list of values,
// files by the ids under which they are resolved (Discord documentation,
// "Modal Submit Data", "String Select", "File Upload").
func (u *User) Submit(ctx context.Context, m *Modal, fields map[string]string, files ...File) (*Outcome, error) {
	in := &interaction{kind: kindModal, channel: m.channel, source: m.source, words: "[" + m.Title + "]"}
	for _, f := range files {
		in.words += " " + f.Name
	}
	return u.act(ctx, in, Pressed, func() (map[string]any, error) {
		parts, attachments := []any{}, map[string]any{}
		for i, f := range m.Fields {
			v, said := fields[f.ID]
			if !said {
				v = f.Value
			}
			c := map[string]any{"id": 2*i + 1, "custom_id": f.ID}
			switch {
			case f.Files > 0:
				ids := []string{}
				for _, file := range files {
					up := u.stand.store(m.channel, file)
					attachments[up.id] = u.stand.uploadJSON(up)
					ids = append(ids, up.id)
				}
				if said { // only a forger gets past fits
					ids = append(ids, v)
				}
				c["type"], c["values"] = typeFile, ids
			case f.Choices != nil:
				values := []string{}
				if j := slices.IndexFunc(f.Choices, func(c Choice) bool { return c.Value == v || c.Text == v }); j >= 0 {
					v = f.Choices[j].Value
				}
				if v != "" {
					values = append(values, v)
				}
				c["type"], c["values"] = typeMenu, values
			default:
				c["type"], c["value"] = typeInput, v
			}
			if err := f.fits(v, said, files); err != nil && !u.forger {
				return nil, err
			}
			parts = append(parts, map[string]any{"type": typeLabel, "id": 2 * i, "component": c})
		}
		if !u.forger && len(files) > 0 && len(attachments) == 0 {
			return nil, fmt.Errorf("standin: no field of %q takes a file", m.Title)
		}
		data := map[string]any{"custom_id": m.Path, "components": parts}
		if len(attachments) > 0 {
			data["resolved"] = map[string]any{"attachments": attachments}
		}
		return data, nil
	})
}

// fits is an error if the platform's own client would not send a field so.
func (f Field) fits(v string, said bool, files []File) error {
	if f.Files > 0 {
		switch {
		case said:
			return fmt.Errorf("standin: the field %q takes files", f.Label)
		case f.Required && len(files) == 0:
			return fmt.Errorf("standin: the field %q is required", f.Label)
		case len(files) > f.Files:
			return fmt.Errorf("standin: the field %q takes %d files", f.Label, f.Files)
		}
		for _, file := range files {
			if len(file.Bytes) > maxFile {
				return fmt.Errorf("standin: %s is larger than the platform takes", file.Name)
			}
		}
		return nil
	}
	switch {
	case f.Required && v == "":
		return fmt.Errorf("standin: the field %q is required", f.Label)
	case f.Max > 0 && utf8.RuneCountInString(v) > f.Max:
		return fmt.Errorf("standin: the field %q takes %d characters", f.Label, f.Max)
	case f.Choices != nil && v != "" && !slices.ContainsFunc(f.Choices, func(c Choice) bool { return c.Value == v }):
		return fmt.Errorf("standin: the field %q does not offer %q", f.Label, v)
	}
	return nil
}
