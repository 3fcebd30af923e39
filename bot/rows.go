package bot

import (
	"context"
	"regexp"
	"strings"

	"rangepost/bot/record"
	"rangepost/store"
)

// postRows posts rows somebody pasted or typed.
func postRows(ctx context.Context, b *Bot, r Call, text string, said store.Said) (Reply, error) {
	if err := b.quota.take(ctx, r.Asker.ID, b.now()); err != nil {
		return Reply{}, err
	}
	s, answer, fresh, err := takeBytes(ctx, b, r, record.Pasted, []byte(text), said)
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
