package sessionfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"rangepost/analysis"
)

const maxDepth = 16

// readJSON reads every list of objects in a JSON text as a table: keys are the
// header, one level of nesting joins its keys ("club": {"speed": 42} is "club
// speed"), and an object of value and unit is one cell. before is how many
// lines stood above the text.
func readJSON(data []byte, before int) ([]grid, *analysis.Refusal) {
	r := &objectReader{dec: json.NewDecoder(bytes.NewReader(data))}
	r.dec.UseNumber()
	err := r.value("", 0)
	if err == nil {
		if _, err = r.dec.Token(); errors.Is(err, io.EOF) {
			err = nil
		} else if err == nil {
			err = errors.New("something follows its end")
		}
	}
	var refusal *analysis.Refusal
	switch {
	case errors.As(err, &refusal):
		return nil, refusal
	case err != nil:
		why := err.Error()
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			why = "it breaks off"
		}
		line := before + 1 + bytes.Count(data[:min(int64(len(data)), r.dec.InputOffset())], []byte{'\n'})
		return nil, refuse("bad_json", "Export the session again as JSON, CSV or XLSX.", "This JSON cannot be read: %s.", shown(why)).At(line, "")
	case len(r.grids) == 0:
		return nil, refuse("not_a_table", "Export the session as a list with one object a shot.", "This JSON holds no list of objects.")
	}
	return r.grids, nil
}

// objectReader walks a JSON text token by token, so that a hostile one never
// stands in memory as a tree.
type objectReader struct {
	dec   *json.Decoder
	grids []grid
	lists int
}

func (r *objectReader) value(name string, depth int) error {
	t, err := r.dec.Token()
	if err != nil {
		return err
	}
	return r.rest(t, name, depth)
}

// rest reads on after the first token of a value, looking for lists.
func (r *objectReader) rest(t json.Token, name string, depth int) error {
	if depth > maxDepth {
		return refuse("too_deep", "Export the session as a flat list with one object a shot.", "This JSON is nested more than %d deep.", maxDepth)
	}
	switch t {
	case json.Delim('{'):
		return r.named(name, depth)
	case json.Delim('['):
		_, err := r.list(name, depth)
		return err
	}
	return nil
}

// named reads an object that is no shot. If it holds lists of values, all of
// one length, they are the columns of a table.
func (r *objectReader) named(name string, depth int) error {
	g := grid{name: shown(name), typed: true}
	even := true
	for r.dec.More() {
		k, err := r.dec.Token()
		if err != nil {
			return err
		}
		key := strings.TrimSpace(name + " " + k.(string))
		t, err := r.dec.Token()
		if err != nil {
			return err
		}
		if t != json.Delim('[') {
			if err := r.rest(t, key, depth+1); err != nil {
				return err
			}
			continue
		}
		values, err := r.list(key, depth+1)
		if err != nil {
			return err
		}
		if len(values) < 2 {
			continue
		}
		if g.rows == nil {
			g.rows = make([]row, 1+len(values))
		}
		if even = even && len(values) == len(g.rows)-1; !even {
			continue
		}
		if len(g.rows[0].cells) >= maxColumns {
			return tooWide(maxColumns+1).At(1, "")
		}
		g.rows[0].cells = append(g.rows[0].cells, k.(string))
		for i, v := range values {
			g.rows[i+1].at = i + 1
			g.rows[i+1].cells = append(g.rows[i+1].cells, v)
		}
	}
	if even && len(g.rows) > 0 && len(g.rows[0].cells) > 1 {
		if err := r.found(g); err != nil {
			return err
		}
	}
	_, err := r.dec.Token()
	return err
}

// found keeps a table.
func (r *objectReader) found(g grid) error {
	if r.lists++; r.lists > maxChoices {
		return refuse("too_many_lists", "Export one session a file.", "This JSON holds more than %d lists of objects.", maxChoices)
	}
	r.grids = append(r.grids, g)
	return nil
}

// list reads an array; if it holds objects, they are a table. values are the
// texts of one that holds nothing but values.
func (r *objectReader) list(name string, depth int) (values []string, err error) {
	g := grid{name: shown(name), typed: true, rows: []row{{}}}
	columns := map[string]int{}
	for n := 1; r.dec.More(); n++ {
		t, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		if _, inner := t.(json.Delim); !inner && len(values) == n-1 {
			if n > maxRows {
				return nil, tooManyRows().At(n, "")
			}
			text := textOf(t)
			if len(text) > maxCell {
				return nil, longCell(len(text)).At(n, shown(name))
			}
			values = append(values, text)
			continue
		}
		values = nil
		if t != json.Delim('{') {
			if err := r.rest(t, name, depth+1); err != nil {
				return nil, err
			}
			continue
		}
		if len(g.rows) > maxRows {
			return nil, tooManyRows().At(n, "")
		}
		cells, err := r.object(n, "", depth+1)
		if err != nil {
			return nil, err
		}
		shot := row{at: n}
		for _, c := range cells {
			i, known := columns[c.key]
			if !known {
				if i = len(columns); i >= maxColumns {
					return nil, tooWide(i+1).At(n, "")
				}
				columns[c.key] = i
				g.rows[0].cells = append(g.rows[0].cells, c.key)
			}
			for len(shot.cells) <= i {
				shot.cells = append(shot.cells, "")
			}
			shot.cells[i] = c.text
		}
		g.rows = append(g.rows, shot)
	}
	if len(g.rows) > 1 {
		if err := r.found(g); err != nil {
			return nil, err
		}
	}
	_, err = r.dec.Token()
	return values, err
}

// textOf is a single value as a cell's text.
func textOf(t json.Token) string {
	switch v := t.(type) {
	case json.Number:
		return v.String()
	case string:
		return v
	case bool:
		return fmt.Sprint(v)
	}
	return ""
}

type keyed struct{ key, text string }

// object reads the fields of one shot after its brace.
func (r *objectReader) object(n int, prefix string, depth int) (cells []keyed, err error) {
	for r.dec.More() {
		k, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		key := strings.TrimSpace(prefix + " " + k.(string))
		t, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		if v, inner := t.(json.Delim); inner {
			if v == '{' && prefix == "" {
				inner, err := r.object(n, key, depth+1)
				if err != nil {
					return nil, err
				}
				cells = append(cells, withUnit(key, inner)...)
			} else if err := r.rest(v, key, depth+1); err != nil {
				return nil, err
			}
			continue
		}
		text := textOf(t)
		if slices.ContainsFunc(cells, func(c keyed) bool { return c.key == key }) {
			return nil, refuse("duplicate_column", "Rename or remove one of them.", "The key '%s' is there twice in one object.", shown(key)).At(n, shown(key))
		}
		if len(text) > maxCell {
			return nil, longCell(len(text)).At(n, shown(key))
		}
		if len(cells) >= maxColumns {
			return nil, tooWide(len(cells)+1).At(n, "")
		}
		cells = append(cells, keyed{key, text})
	}
	_, err = r.dec.Token()
	return cells, err
}

// withUnit joins {"value": 151.2, "unit": "yd"} into one cell.
func withUnit(key string, inner []keyed) []keyed {
	value, unit := "", ""
	for _, c := range inner {
		switch squeezed(strings.TrimPrefix(c.key, key)) {
		case "value":
			value = c.text
		case "unit", "units":
			unit = c.text
		default:
			return inner
		}
	}
	if value == "" {
		return inner
	}
	return []keyed{{key, strings.TrimSpace(value + " " + unit)}}
}
