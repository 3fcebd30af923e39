package bot

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"

	"rangepost/analysis"
)

// Ack decides how r must be acknowledged, from memory alone.
func (b *Bot) Ack(r Request) Ack {
	switch r.Kind {
	case CompletionAsk:
		return AckImmediate
	case PressRequest, ChooseRequest, SubmitRequest:
		route, _, err := findRoute(r.Path)
		if err != nil {
			return AckPrivate
		}
		if route.ack != "" {
			return route.ack
		}
		return b.seen(SeenInThread, r)
	case MentionRequest:
		return b.seen(SeenInThread, r)
	}
	command, err := findCommand(r.Command)
	if err != nil {
		return AckPrivate
	}
	return b.seen(command.Seen, r)
}

func (b *Bot) seen(s Seen, r Request) Ack {
	if s == SeenByAll || s == SeenInThread && b.inOwnThread(r) {
		return AckPublic
	}
	return AckPrivate
}

// Handle does the work and always comes back with a reply: what went wrong is
// said in it.
func (b *Bot) Handle(ctx context.Context, r Request) (reply Reply) {
	defer func() {
		// A panic is a bug of ours; it must not cost anybody else their reply.
		if v := recover(); v != nil {
			reply = b.explain(ctx, r, fmt.Errorf("panic: %v\n%s", v, debug.Stack()))
		}
	}()
	reply, err := b.answer(ctx, r)
	if err != nil {
		if r.Kind == CompletionAsk {
			// There is nowhere to say what is wrong while somebody is typing.
			b.log.WarnContext(ctx, "completion failed", "what", r.what(), "err", err)
			return Reply{Choices: []Choice{}}
		}
		return b.explain(ctx, r, err)
	}
	if reply.about != "" && b.Ack(r) == AckPublic && !reply.shared && reply.about != b.threadStudent(r.Channel) {
		// The thread is not the one of the student whose numbers these are.
		reply.Private = true
	}
	reply.Text = clip(reply.Text, MaxText)
	return reply
}

func (b *Bot) answer(ctx context.Context, r Request) (Reply, error) {
	r, err := b.settle(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	switch r.Kind {
	case PressRequest, ChooseRequest, SubmitRequest:
		route, args, err := findRoute(r.Path)
		if err != nil {
			return Reply{}, err
		}
		return route.run(ctx, b, r, args)
	case MentionRequest:
		return readMessage(ctx, b, r)
	}
	command, err := findCommand(r.Command)
	if err != nil {
		return Reply{}, err
	}
	if err := b.allowed(r, command.Who); err != nil {
		return Reply{}, err
	}
	if r.Kind == CompletionAsk {
		if command.Complete == nil {
			return Reply{Choices: []Choice{}}, nil
		}
		choices, err := command.Complete(ctx, b, r)
		return Reply{Choices: orNone(choices)}, err
	}
	return command.Run(ctx, b, r)
}

// findCommand finds a command by its full name, "mine export" for a
// subcommand.
func findCommand(name string) (Command, error) {
	list := Commands()
	first, rest, _ := strings.Cut(name, " ")
	for _, c := range list {
		switch {
		case c.Name == name && c.Run != nil:
			return c, nil
		case c.Name == first && rest != "":
			for _, sub := range c.Subs {
				if sub.Name == rest {
					return sub, nil
				}
			}
		}
	}
	return Command{}, analysis.Refuse("`/help` lists what I can do.", "I do not know a command of that name.")
}

// clip cuts text at a word to at most n characters.
func clip(text string, n int) string {
	runes := []rune(text)
	if len(runes) <= n {
		return text
	}
	cut := string(runes[:n-1])
	if i := strings.LastIndexAny(cut, " \n"); i > n/2 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " \n,;") + "…"
}

func orNone(c []Choice) []Choice {
	if c == nil {
		return []Choice{}
	}
	return c
}
