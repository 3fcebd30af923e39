package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/report"
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
			menu.Choices = append(menu.Choices, choice(choiceValue(q, c), words.Clean(c.Text)))
		}
		reply.Rows = append(reply.Rows, Row{Menu: menu})
	}
	if len(questions) > 1 {
		text.WriteString("Begin with the first: its answer often settles the others.\n")
	}
	reply.Text = strings.TrimSuffix(text.String(), "\n")
	return reply
}

// chooseAnswer takes an answer about a file: it is remembered for the files
// with the same header that it counts for, and all of those, this one too, are
// read again.
func chooseAnswer(ctx context.Context, b *Bot, r Call) (Reply, error) {
	questions := r.Session.Reading.Questions
	if len(questions) == 0 { // what somebody else answered may be answered anew
		answer, err := b.records.Reread(ctx, r.Session)
		if err != nil {
			return Reply{}, err
		}
		for _, one := range answer.Borrowed {
			questions = append(questions, one.Question)
		}
	}
	q, value, err := offered(questions, r.Values)
	if err != nil {
		return Reply{}, err
	}
	if !q.Alone {
		return answered(ctx, b, r, q.Key, value)
	}
	said := r.Session.Said
	said.Answers = said.Answers.With(analysis.Answers{q.Key: value})
	s, answer, err := b.records.Say(ctx, r.Session, said)
	if err != nil {
		return Reply{}, err
	}
	return first(ctx, b, r, s, answer, answer.Main(), "")
}

// answered remembers an answer and shows the session as it is read by it.
func answered(ctx context.Context, b *Bot, r Call, key, value string) (Reply, error) {
	if err := b.records.Answer(ctx, store.Answer{
		Server: r.Server, Fingerprint: r.Session.Reading.Fingerprint, Key: key, Value: value,
		Who: r.Asker.ID, Student: r.Student, Coach: b.isCoach(r.Request), Manager: r.Manager && r.Server != "",
	}); err != nil {
		return Reply{}, err
	}
	s, answer, err := b.records.Reading(ctx, r.Server, r.Session.ID)
	if err != nil {
		return Reply{}, err
	}
	return first(ctx, b, r, s, answer, answer.Main(), "")
}

// pressTurn takes a student's file out of what somebody else answered: turned
// round at once where there is one other answer, asked where there are more.
func pressTurn(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	if len(answer.Borrowed) == 0 {
		return Reply{}, analysis.Refuse("Post the file again to see how it is read.", "This file is not read by anybody else's answer any more.")
	}
	if one := answer.Borrowed[0]; len(answer.Borrowed) == 1 {
		if value, ok := one.Other(); ok {
			return answered(ctx, b, r, one.Question.Key, value)
		}
	}
	var questions []analysis.Question
	for _, one := range answer.Borrowed {
		questions = append(questions, one.Question)
	}
	return askQuestions(r.Session, questions, Reply{about: r.Student}), nil
}

// pressMirror turns a file round whose sides custom alone decided, and with it
// every file of its kind.
func pressMirror(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	q := answer.Reading.Customary
	if q == nil || len(q.Choices) < 2 {
		return Reply{}, analysis.Refuse("Post the file again to see how it is read.", "Which side is plus in this file was answered meanwhile.")
	}
	return answered(ctx, b, r, q.Key, q.Choices[1].Value)
}

// borrowedNote says by whose answers a file was read, "" if by nobody else's.
func borrowedNote(all []report.Borrowed) string {
	var says []string
	for _, one := range all {
		who := "a manager"
		if one.Coach {
			who = "a coach"
		}
		says = append(says, fmt.Sprintf("Read as %s of this server answered for files like it: %s %s.", who, words.Escape(one.Question.Text), words.Escape(one.Chosen())))
	}
	return strings.Join(says, "\n")
}

// choiceValue is what a choice of an answer sends back. What a file's names
// make of keys and values may be longer than a menu takes, so both go by their
// sums.
func choiceValue(q analysis.Question, c analysis.Choice) string {
	sum := sha256.Sum256([]byte(q.Key + "\x00" + c.Value))
	return hex.EncodeToString(sum[:8])
}

// offered is the chosen answer, if one of the questions offers it.
func offered(questions []analysis.Question, values []string) (q analysis.Question, value string, err error) {
	for _, q := range questions {
		for _, c := range q.Choices {
			if len(values) == 1 && values[0] == choiceValue(q, c) {
				return q, c.Value, nil
			}
		}
	}
	return q, "", analysis.Refuse("Post the file again to see what is open.", "That question is not open any more.")
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
	text.WriteString("Answers remembered for files with the same header. A student's count for their own files, a coach's and a manager's for everybody's; of the same rank the newest counts. Taking one back changes how such files are read from then on.\n")
	menu := &Menu{Path: path("undo"), Placeholder: "Take an answer back"}
	for i, a := range answers {
		if i == 25 {
			fmt.Fprintf(&text, "And %d older ones.\n", len(answers)-i)
			break
		}
		line := fmt.Sprintf("%s: %s = %s (header %s)", r.day(a.At), a.Key, a.Value, words.Cut(a.Fingerprint, 8))
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
