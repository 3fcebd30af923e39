package bot

import (
	"context"
	"strings"

	"rangepost/bot/words"
)

// runHelp is /help, made from the list of commands for whoever asks: what only
// they of all members can use comes first. What a reply has no room for goes
// into a file.
func runHelp(_ context.Context, b *Bot, r Request) (Reply, error) {
	const head = "Post the file of a measured practice session, and I say why the balls finished where they did, from what the club did at impact.\n"
	const more = "Every command is in the file below.\n"
	tail := words.Aid + " " + words.RangeRules
	var lines []string
	for _, who := range []Who{Coach, Manager, Anyone} {
		for _, c := range Commands() {
			if c.Who == who && b.allowed(r, who) == nil {
				lines = append(lines, helpLine(c))
			}
		}
	}
	text := head + strings.Join(lines, "") + tail
	if len([]rune(text)) <= MaxText {
		return private(text), nil
	}
	reply := private(head)
	room := MaxText - len([]rune(head+more+tail))
	for _, line := range lines {
		if room -= len([]rune(line)); room < 0 {
			break
		}
		reply.Text += line
	}
	reply.Text += more + tail
	reply.Files = []File{{Name: "commands.txt", Bytes: []byte(strings.NewReplacer("`", "", "*", "").Replace(head + strings.Join(lines, "") + tail + "\n"))}}
	return reply, nil
}

// helpLine is a command in a line, with its subcommands.
func helpLine(c Command) string {
	l := listed(c, c.Name)
	var subs []string
	for _, sub := range c.Subs {
		subs = append(subs, sub.Name)
	}
	if len(subs) > 0 {
		l.Summary += ": " + strings.Join(subs, ", ")
	}
	return l.Usage + " " + l.Summary + "\n"
}

// A Listed is one line about a command, as help and README show it.
type Listed struct {
	Usage   string // "`/mine hand`"
	Options string // "`file` [`club`] ..."
	Summary string
	Who     Who

	options []Option
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
	l := Listed{Usage: "`/" + name + "`", Summary: c.Summary, Who: c.Who, options: c.Options}
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
