package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
)

// runHelp is /help, made from the list of commands for whoever asks: the names
// of what there is, since thirty summaries are no reply for a phone, or all
// about one of them.
func runHelp(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if word := r.Options["word"]; word != "" {
		return helpOnWord(ctx, b, r, word)
	}
	if asked := r.Options["command"]; asked != "" {
		return helpOn(asked)
	}
	var text strings.Builder
	text.WriteString("Post the file of a measured practice session with `/post`, and I say why the balls finished where they did, from what the club did at impact, and what would put it right.\n")
	for _, group := range []struct {
		who  Who
		head string
	}{{Anyone, "For you"}, {Coach, "For coaches"}, {Host, "For whoever runs challenges"}, {Manager, "For server managers"}} {
		var names []string
		of := "" // the command whose subcommands are being named: it is named once
		for _, line := range Listing() {
			if line.Who != group.who || b.allowed(r.Request, line.Who) != nil {
				continue
			}
			command, sub, _ := strings.Cut(line.Usage, " ")
			if sub != "" && command == of {
				names = append(names, "`"+sub)
				continue
			}
			names, of = append(names, line.Usage), command
		}
		if len(names) > 0 {
			fmt.Fprintf(&text, "%s: %s.\n", group.head, strings.Join(names, ", "))
		}
	}
	text.WriteString("`/help command:` says more of one of them, `/help word:` what a word means.\n" + words.Aid + " " + words.RangeRules)
	return private(text.String()), nil
}

// helpOn is all about one command, by its name with or without the slash.
func helpOn(asked string) (Reply, error) {
	name := strings.Trim(strings.ToLower(asked), "/` ")
	for _, line := range Listing() {
		if strings.ToLower(strings.Trim(line.Usage, "/`*")) != name {
			continue
		}
		text := line.Usage + ": " + line.Summary + "."
		for _, o := range line.options {
			must := ""
			if o.Required {
				must = " (needed)"
			}
			text += fmt.Sprintf("\n`%s`%s: %s.", o.Name, must, strings.TrimSuffix(o.Summary, "."))
		}
		return private(text), nil
	}
	return Reply{}, analysis.Refuse("`/help` lists what there is.", "I do not know a command of that name.")
}

// helpOnWord says what a word of the trade or a setup means.
func helpOnWord(ctx context.Context, b *Bot, r Call, word string) (Reply, error) {
	_, voice, err := spokenTo(ctx, b, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	for _, m := range voice.Meanings() {
		if strings.EqualFold(m.Word, strings.TrimSpace(word)) {
			return private(m.Means), nil
		}
	}
	return Reply{}, analysis.Refuse("The option lists those I use.", "I do not use the word \"%s\".", words.Cut(word, 40)).Of("word")
}

// completeHelp offers the commands, or the words, that have what was typed in
// them.
func completeHelp(_ context.Context, b *Bot, r Call) ([]Choice, error) {
	var choices []Choice
	if r.Focused == "word" {
		for _, m := range (words.Voice{}).Meanings() {
			if strings.Contains(m.Word, strings.ToLower(r.Options["word"])) && len(choices) < 25 {
				choices = append(choices, choice(m.Word, m.Word))
			}
		}
		return choices, nil
	}
	for _, line := range Listing() {
		name := strings.Trim(line.Usage, "/`*")
		if b.allowed(r.Request, line.Who) == nil && strings.Contains(strings.ToLower(name), strings.ToLower(r.Options["command"])) && len(choices) < 25 {
			choices = append(choices, Choice{Value: name, Text: words.Cut(name+": "+line.Summary, 100)})
		}
	}
	return choices, nil
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
	l := Listed{Usage: "`/" + name + "`", Summary: c.Summary, Who: c.Who(), options: c.Options}
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
