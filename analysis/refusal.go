package analysis

import (
	"fmt"
	"strings"
)

// A Refusal says to a person why what they asked for cannot be done: where,
// what, and what to do about it. It is the one error type for people; every
// other error is ours.
type Refusal struct {
	Code string // stable, for programs: "empty", "bad_value", ...; "" where nothing is promised

	// Where it is, "" and 0 where that does not apply: the option of a command,
	// a row of a file (1-based) and the header of a column, a piece of a text as
	// it was typed.
	Option string
	Row    int
	Column string
	Piece  string

	Hint string // what to do about it: whole sentences, nobody else's words

	format string
	args   []any
}

// Refuse makes a refusal. The hint, what to do about it, comes first so that it
// is not forgotten. Words of other people go into args and never into format or
// hint: only args are made safe where the refusal is shown.
func Refuse(hint, format string, args ...any) *Refusal {
	return &Refusal{Hint: hint, format: format, args: args}
}

// Coded gives a refusal its code.
func (r *Refusal) Coded(code string) *Refusal {
	r.Code = code
	return r
}

// At places a refusal in a file.
func (r *Refusal) At(row int, column string) *Refusal {
	r.Row, r.Column = row, column
	return r
}

// Of places a refusal at an option of a command.
func (r *Refusal) Of(option string) *Refusal {
	r.Option = option
	return r
}

// In places a refusal in a text, at a piece of it that was typed.
func (r *Refusal) In(piece string) *Refusal {
	const most = 60
	if p := []rune(piece); len(p) > most {
		piece = string(p[:most]) + "…"
	}
	r.Piece = piece
	return r
}

// What is what is wrong, in whole sentences, without where and what to do.
func (r *Refusal) What() string { return r.what(plain) }

// Error is where and what. What to do is the Hint.
func (r *Refusal) Error() string { return r.where(plain) + r.what(plain) }

// Say is the whole of it, other people's words made safe by quote.
func (r *Refusal) Say(quote func(string) string) string {
	return strings.TrimSpace(capital(r.where(quote)+r.what(quote)) + " " + r.Hint)
}

func (r *Refusal) where(quote func(string) string) string {
	var at []string
	if r.Option != "" {
		at = append(at, "option '"+r.Option+"'")
	}
	if r.Row > 0 {
		at = append(at, fmt.Sprintf("row %d", r.Row))
	}
	if r.Column != "" {
		at = append(at, "column '"+quote(r.Column)+"'")
	}
	if r.Piece != "" {
		at = append(at, "'"+quote(r.Piece)+"'")
	}
	if len(at) == 0 {
		return ""
	}
	return strings.Join(at, ", ") + ": "
}

func (r *Refusal) what(quote func(string) string) string {
	args := make([]any, len(r.args))
	for i, a := range r.args {
		switch a := a.(type) {
		case string:
			args[i] = quote(a)
		case error:
			args[i] = quote(a.Error())
		case fmt.Stringer:
			args[i] = quote(a.String())
		default:
			args[i] = a
		}
	}
	return fmt.Sprintf(r.format, args...)
}

func plain(text string) string { return text }

// capital begins a sentence; what was typed keeps its letters.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
