package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// maxMenus is how many menus one message has room for.
const maxMenus = 5

// askQuestions asks what a file leaves open, a menu a question.
func askQuestions(s store.Session, questions []analysis.Question, reply Reply) Reply {
	var text strings.Builder
	fmt.Fprintf(&text, "I can read this file, but not without knowing more. It is kept; nothing has to be posted again.\n")
	for i, q := range questions {
		if i == maxMenus {
			fmt.Fprintf(&text, "%d more after these.\n", len(questions)-maxMenus)
			break
		}
		fmt.Fprintf(&text, "%d. %s\n", i+1, words.Escape(q.Text))
		menu := &Menu{Path: path("answer", s.ID, fmt.Sprint(i)), Placeholder: words.Cut(fmt.Sprintf("%d. %s", i+1, words.Clean(q.Text)), 150)}
		for _, c := range q.Choices {
			// The key travels in the value: a path may have no room for it.
			menu.Choices = append(menu.Choices, Choice{Value: q.Key + "=" + c.Value, Text: words.Cut(words.Clean(c.Text), 100)})
		}
		reply.Rows = append(reply.Rows, Row{Menu: menu})
	}
	if len(questions) > 1 {
		text.WriteString("Begin with the first: its answer often settles the others.\n")
	}
	reply.Text = strings.TrimSuffix(text.String(), "\n")
	return reply
}

// chooseAnswer takes an answer about a file: it is remembered for every file
// with the same header, and all of those, this one too, are read again.
func chooseAnswer(ctx context.Context, b *Bot, r Call) (Reply, error) {
	key, value, err := offered(r.Session.Reading.Questions, r.Values)
	if err != nil {
		return Reply{}, err
	}
	if err := b.records.Answer(ctx, store.Answer{
		Server: r.Server, Fingerprint: r.Session.Reading.Fingerprint, Key: key, Value: value,
		Who: r.Asker.ID, Coach: b.isCoach(r.Request) && r.Asker.ID != r.Student,
	}); err != nil {
		return Reply{}, err
	}
	s, answer, err := b.records.Reading(ctx, r.Server, r.Session.ID)
	if err != nil {
		return Reply{}, err
	}
	return sessionReply(ctx, b, s, answer, answer.Main(), "")
}

// offered is the chosen answer, if a question of the session offers it.
func offered(questions []analysis.Question, values []string) (key, value string, err error) {
	for _, q := range questions {
		for _, c := range q.Choices {
			if len(values) == 1 && values[0] == q.Key+"="+c.Value {
				return q.Key, c.Value, nil
			}
		}
	}
	return "", "", analysis.Refuse("Post the file again to see what is open.", "That question is not open any more.")
}

// runAnswers is /clubhouse answers: what was answered about file headers, with
// a menu to take one back.
func runAnswers(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answers, err := b.db.AnswerHistory(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	if len(answers) == 0 {
		return private("No questions about files were answered yet."), nil
	}
	var text strings.Builder
	text.WriteString("Answers remembered for files with the same header; a coach's counts more than a student's, the newest more than the one before. Taking one back changes how such files are read from then on.\n")
	menu := &Menu{Path: path("undo"), Placeholder: "Take an answer back"}
	for i, a := range answers {
		if i == 25 {
			fmt.Fprintf(&text, "And %d older ones.\n", len(answers)-i)
			break
		}
		line := fmt.Sprintf("%s: %s = %s (header %s)", day(a.At), a.Key, a.Value, words.Cut(a.Fingerprint, 8))
		menu.Choices = append(menu.Choices, Choice{Value: a.ID, Text: words.Cut(words.Clean(line), 100)})
		if len([]rune(text.String())) < MaxText-150 {
			fmt.Fprintf(&text, "- %s\n", words.Escape(line))
		}
	}
	return Reply{Text: strings.TrimSuffix(text.String(), "\n"), Rows: []Row{{Menu: menu}}}, nil
}

// chooseUndo takes a remembered answer back.
func chooseUndo(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if len(r.Values) != 1 {
		return Reply{}, analysis.Refuse("Choose one answer.", "Nothing was chosen.")
	}
	err := b.records.Unanswer(ctx, r.Server, r.Values[0])
	if errors.Is(err, store.ErrNotFound) {
		return Reply{}, analysis.Refuse("`/clubhouse answers` lists what there is.", "That answer is not there any more.")
	}
	if err != nil {
		return Reply{}, err
	}
	return Reply{Text: "Taken back, and every session whose file has that header was read again. What is unclear in them now is asked anew when somebody looks at them."}, nil
}
