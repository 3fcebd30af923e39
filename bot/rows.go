package bot

import (
	"context"
	"regexp"
	"strings"

	"rangepost/bot/words"
	"rangepost/store"
)

// pasted is the name of a session that came without a file.
const pasted = "pasted rows"

// maxRows is the most characters the form for rows takes, which is what the
// platform lets a text box hold (Discord documentation, "Text Input").
const maxRows = 4000

// withoutFile reports whether somebody posts without a file at hand: a form
// then takes rows.
func withoutFile(r Request) bool { return r.Kind == CommandRequest && r.Options["file"] == "" }

// rowsForm is the form that takes rows in place of a file. What was said beside
// the command stands in it.
func rowsForm(r Call) *Modal {
	ball := r.Options["ball"]
	if ball == "" {
		ball = notSaid
	}
	return &Modal{
		Path: path("rows", ball), Title: "Paste or type your balls",
		Fields: []Field{
			{ID: "rows", Label: "A line a ball, and what the numbers are", Long: true, Required: true, Max: maxRows,
				Placeholder: "carry 152, 8 right, launch 17 - or a table with its headings"},
			{ID: "club", Label: "The club, if the rows do not say", Value: words.Cut(r.Options["club"], 40), Max: 40},
			{ID: "target", Label: "The carry you aimed at", Value: words.Cut(r.Options["target"], 20), Placeholder: "150yd", Max: 20},
			{ID: "sets", Label: "Which balls were which", Value: words.Cut(r.Options["sets"], 1000), Placeholder: "1-10 normal, 11-20 strong grip", Max: 1000},
			{ID: "note", Label: "Anything to remember", Value: words.Cut(r.Options["note"], 500), Max: 500},
		},
	}
}

// notSaid stands in a path for an option that was not given.
const notSaid = "-"

// submitRows is that form filled in.
func submitRows(ctx context.Context, b *Bot, r Call) (Reply, error) {
	r.Options = map[string]string{"club": r.Fields["club"], "target": r.Fields["target"], "sets": r.Fields["sets"], "note": r.Fields["note"]}
	if r.Args[0] != notSaid {
		r.Options["ball"] = r.Args[0]
	}
	said, err := saidBeside(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	return postRows(ctx, b, r, r.Fields["rows"], said)
}

// postRows posts rows somebody pasted or typed.
func postRows(ctx context.Context, b *Bot, r Call, text string, said store.Said) (Reply, error) {
	if err := b.quota.take(r.Asker.ID, b.now()); err != nil {
		return Reply{}, err
	}
	s, answer, fresh, err := takeBytes(ctx, b, r, pasted, []byte(text), said)
	if err != nil {
		return Reply{}, err
	}
	return posted(ctx, b, r, s, answer, fresh)
}

var mention = regexp.MustCompile(`<@[!&]?[0-9]+>`)

// rowsOf is a message's text without whom it mentions.
func rowsOf(text string) string { return strings.Trim(mention.ReplaceAllString(text, ""), " \n") }

// HasRows reports whether a message's text may be rows of numbers: two lines
// at least with two numbers each.
func HasRows(text string) bool {
	rows := 0
	for line := range strings.SplitSeq(rowsOf(text), "\n") {
		if len(number.FindAllString(line, 2)) == 2 {
			rows++
		}
	}
	return rows >= 2
}

var number = regexp.MustCompile(`[0-9]+([.,][0-9]+)?`)
