package bot

import (
	"context"
	"errors"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// maxRows is the most characters the form takes of pasted rows, which is what
// the platform lets a text box hold (Discord documentation, "Text Input").
const maxRows = 4000

// longestTargets is the most characters of targets in a form's path, which has
// room for a hundred (Discord documentation, "Component Reference", custom_id).
const longestTargets = 80

// notSaid stands in a path for what was not said.
const notSaid = "-"

// withoutFile reports whether somebody posts without a file at hand: a form
// then takes one, or rows.
func withoutFile(r Request) bool { return r.Kind == CommandRequest && r.Options["file"] == "" }

// postButton opens the form for a student's own.
func postButton(student, label string) Button {
	return Button{Path: path("post", student), Label: label, Style: Main}
}

// pressPost opens the form in which a session is handed over.
func pressPost(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return postForm(ctx, b, r, store.Said{})
}

// postForm is that form: a file or rows, and what is said beside them. What was
// said beside the command stands in it; a club and a target, for which it has no
// room, in its path. The kind of ball is last time's, which few people change.
func postForm(ctx context.Context, b *Bot, r Call, said store.Said) (Reply, error) {
	ball := said.Ball
	if ball == "" {
		var err error
		if ball, err = b.db.LastBall(ctx, r.Server, r.Student); err != nil {
			return Reply{}, err
		}
	}
	club, target := notSaid, notSaid
	if !said.Club.Unknown() {
		club = said.Club.Key()
	}
	if len(said.Targets) > 0 {
		target = said.Targets.String()
	}
	if len(target) > longestTargets {
		return Reply{}, analysis.Refuse("Give the file with the command, or fewer clubs.", "A form cannot hold that many targets.").Of("target")
	}
	return Reply{Modal: &Modal{
		Path: path("posted", club, target), Title: "Post a session",
		Fields: []Field{
			{Kind: FileField, ID: "file", Label: "The session's file", Hint: "CSV, XLSX or JSON, plain or in a .zip or .gz; at most 10 MB"},
			{ID: "rows", Label: "Or its rows, pasted or typed: a line a ball", Long: true, Max: maxRows, Placeholder: "7i, carry 152, 8 right, launch 17 - or a table with its headings"},
			{Kind: ChoiceField, ID: "ball", Label: ballOption().Summary, Value: string(ball), Choices: ballOption().Choices, Placeholder: "Not said"},
			{ID: "sets", Label: "Which balls were which", Value: words.Cut(said.Sets, 1000), Placeholder: "1-10 normal, 11-20 strong grip", Max: 1000},
			{ID: "note", Label: "Anything to remember", Value: words.Cut(said.Note, 500), Max: 500},
		},
	}}, nil
}

// submitPost is that form filled in. Where what it hands over is refused, the
// form is one press away.
func submitPost(ctx context.Context, b *Bot, r Call) (Reply, error) {
	reply, err := formPosted(ctx, b, r)
	var refusal *analysis.Refusal
	if errors.As(err, &refusal) && r.Student == r.Asker.ID {
		reply = b.explain(ctx, r.Request, err)
		reply.Rows = []Row{{Buttons: []Button{postButton(r.Student, "Try again")}}}
		return reply, nil
	}
	return reply, err
}

func formPosted(ctx context.Context, b *Bot, r Call) (Reply, error) {
	r.Options = map[string]string{"ball": r.Fields["ball"], "sets": r.Fields["sets"], "note": r.Fields["note"]}
	for i, name := range []string{"club", "target"} {
		if r.Args[i] != notSaid {
			r.Options[name] = r.Args[i]
		}
	}
	said, err := saidBeside(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	rows := strings.TrimSpace(r.Fields["rows"])
	file, handed := r.Files[r.Fields["file"]]
	switch {
	case r.Fields["file"] != "" && rows != "":
		return Reply{}, analysis.Refuse("Give one of them; each is a session of its own.", "That form has a file and rows, and I cannot tell which you mean. I have read neither.")
	case handed:
		return postFile(ctx, b, r, file, said)
	case r.Fields["file"] != "":
		return Reply{}, analysis.Refuse("Give one file.", "I cannot find the file of that form.")
	case rows != "":
		return postRows(ctx, b, r, rows, said)
	}
	return Reply{}, analysis.Refuse("Choose the session's file, or paste its rows: a line a ball, as in 7i, carry 152, 8 right.", "That form has neither a file nor rows, so there is nothing to read.")
}
