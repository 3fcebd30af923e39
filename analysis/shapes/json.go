package shapes

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"strconv"
	"strings"
)

// json is the session as one of three structures: an array with an object for
// each ball, the same inside an object with other things about the session,
// or an array for each column. Nothing is a heading twice, nothing is a line
// of averages; a cell that is a number is written as one.
func (s *Shape) json(r *rand.Rand, l *language, tier Tier) {
	tab, truth := makeTable(r, l, options{tier: tier, plain: true})
	text := chance(r, 0.12)
	var b bytes.Buffer
	switch r.IntN(4) {
	case 0, 1:
		b.WriteString(objects(tab, text))
	case 2:
		b.WriteString(`{"session":{"date":"2026-05-04","place":"Saltmarsh Links"},` +
			quote(pick(r, []string{"shots", "balls", "data", "rows"})) + ":" + objects(tab, text) + "}")
	default:
		b.WriteString("{")
		for j, h := range tab.heads {
			if j > 0 {
				b.WriteString(",")
			}
			b.WriteString(quote(h) + ":[")
			for i, line := range tab.lines {
				if i > 0 {
					b.WriteString(",")
				}
				b.WriteString(literal(line.cells[j], text))
			}
			b.WriteString("]")
		}
		b.WriteString("}")
	}
	data := b.Bytes()
	if chance(r, 0.4) {
		var pretty bytes.Buffer
		must(0, json.Indent(&pretty, data, "", "  "))
		data = pretty.Bytes()
	}
	s.Format, s.Name, s.Data, s.Truth = "json", "session.json", data, truth
}

func objects(tab table, text bool) string {
	var b strings.Builder
	b.WriteString("[")
	for i, line := range tab.lines {
		if i > 0 {
			b.WriteString(",")
		}
		b.WriteString("{")
		for j, h := range tab.heads {
			if j > 0 {
				b.WriteString(",")
			}
			b.WriteString(quote(h) + ":" + literal(line.cells[j], text))
		}
		b.WriteString("}")
	}
	b.WriteString("]")
	return b.String()
}

func quote(s string) string { return string(must(json.Marshal(s))) }

// literal is a cell as JSON: a number if it reads as one, null if it is empty.
func literal(cell string, text bool) string {
	if cell == "" {
		return "null"
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil && !text && json.Valid([]byte(cell)) {
		return cell
	}
	return quote(cell)
}
