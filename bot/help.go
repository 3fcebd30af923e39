package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/bot/words"
)

// runHelp is /help, made from the list of commands for whoever asks.
func runHelp(_ context.Context, b *Bot, r Request) (Reply, error) {
	var text strings.Builder
	text.WriteString("Post the file of a measured practice session, and I say why the balls finished where they did, from what the club did at impact.\n")
	for _, line := range Listing() {
		if b.allowed(r, line.Who) == nil {
			fmt.Fprintf(&text, "%s %s\n", line.Usage, line.Summary)
		}
	}
	text.WriteString(words.Aid + " " + words.RangeRules)
	return private(text.String()), nil
}

// A Listed is one line about a command, as help and README show it.
type Listed struct {
	Usage   string // "`/mine hand`"
	Options string // "`file` [`club`] ..."
	Summary string
	Who     Who
}

// Listing is every command a person can use, subcommands each on their own
// line.
func Listing() []Listed {
	var lines []Listed
	for _, c := range Commands() {
		if len(c.Subs) == 0 {
			lines = append(lines, listed(c, c.Name))
		}
		for _, sub := range c.Subs {
			lines = append(lines, listed(sub, c.Name+" "+sub.Name))
		}
	}
	return lines
}

func listed(c Command, name string) Listed {
	l := Listed{Usage: "`/" + name + "`", Summary: c.Summary, Who: c.Who}
	if c.OnFile {
		l.Usage = "*" + name + "*"
	}
	var options []string
	for _, o := range c.Options {
		if o.Required {
			options = append(options, "`"+o.Name+"`")
			continue
		}
		options = append(options, "[`"+o.Name+"`]")
	}
	l.Options = strings.Join(options, " ")
	return l
}
