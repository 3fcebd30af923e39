package bot

import (
	"context"
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
		fmt.Fprintf(&text, "%d. %s\n", i+1, escape(q.Text))
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
func chooseAnswer(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	s, err := b.readable(ctx, r, args[0])
	if err != nil {
		return Reply{}, err
	}
	key, value, err := offered(s.Reading.Questions, r.Values)
	if err != nil {
		return Reply{}, err
	}
	if _, err := b.db.RememberAnswer(ctx, store.Answer{
		Server: r.Server, Fingerprint: s.Reading.Fingerprint, Key: key, Value: value,
		Who: r.Asker.ID, Coach: b.isCoach(r) && r.Asker.ID != s.Student,
	}); err != nil {
		return Reply{}, err
	}
	if err := b.rereadHeader(ctx, r.Server, s.Reading.Fingerprint); err != nil {
		return Reply{}, err
	}
	if s, err = b.db.Session(ctx, r.Server, s.ID); err != nil {
		return Reply{}, err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	return b.sessionReply(ctx, s, answer, answer.Main(), "")
}

// rereadHeader reads every kept session of a server whose file has that header
// again, by the answers that count now.
func (b *Bot) rereadHeader(ctx context.Context, server, fingerprint string) error {
	ids, err := b.db.SessionsWithHeader(ctx, server, fingerprint)
	if err != nil {
		return err
	}
	for _, id := range ids {
		if err := b.rereadOne(ctx, server, id); err != nil {
			return err
		}
	}
	return nil
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
