package bot

import (
	"context"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
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
	if command.Form != nil && command.Form(r) {
		return AckImmediate
	}
	return b.seen(command.Seen, r)
}

func (b *Bot) seen(s Seen, r Request) Ack {
	if s == SeenByAll || s == SeenInThread && b.inOwnThread(r) {
		return AckPublic
	}
	return AckPrivate
}

// Urgent reports, from memory alone, whether r must not wait behind what its
// asker asked before: taking consent back, or asking what there is to take
// back. Only what ends the same in any order may be urgent: a consent that is
// given after it was ended is refused.
func (b *Bot) Urgent(r Request) bool {
	if r.Kind == PressRequest {
		route, args, err := findRoute(r.Path)
		return err == nil && route.name == "consent" && args[1] == "end"
	}
	return r.Kind == CommandRequest && r.Command == "mine consent"
}

// Handle does the work and always comes back with a reply: what went wrong is
// said in it. A panic in it is the platform adapter's to catch, which has to
// for its own sake; Broken is the reply.
func (b *Bot) Handle(ctx context.Context, r Request) Reply {
	if r.Incident == "" {
		r.Incident = NewIncident()
	}
	end, err := b.begin(ctx, r)
	defer end()
	if err == nil {
		r, err = b.settle(ctx, r)
	}
	var reply Reply
	if err == nil {
		reply, err = b.answer(ctx, r)
	}
	if err == nil {
		err = b.show(ctx, r, &reply)
	}
	if err != nil {
		if r.Kind == CompletionAsk {
			// There is nowhere to say what is wrong while somebody is typing.
			b.log.WarnContext(ctx, "completion failed", "what", r.what(), "err", err)
			return Reply{Choices: []Choice{}}
		}
		return b.explain(ctx, r, err)
	}
	return reply
}

// show settles who sees a reply, by what holds now that it is ready: what was
// asked in the open may not be shown there any more, and a coach may have
// become nobody's.
func (b *Bot) show(ctx context.Context, r Request, reply *Reply) error {
	reply.Text = words.Clip(reply.Text, MaxText)
	if reply.about == "" {
		return b.showAmong(ctx, r, reply)
	}
	open, err := b.shownOpenly(ctx, r, reply.about, reply.shared)
	if err != nil {
		return err
	}
	if err := explainOnce(ctx, b, r, reply); err != nil {
		return err
	}
	reply.Private = reply.Private || !open
	private, about, shared := reply.Private, reply.about, reply.shared
	reply.Still = func(ctx context.Context) bool {
		open, err := b.shownOpenly(ctx, r, about, shared)
		return err == nil && (open || private)
	}
	return nil
}

// showAmong settles the same of a reply with the numbers of several students,
// which is their coach's alone.
func (b *Bot) showAmong(ctx context.Context, r Request, reply *Reply) error {
	if len(reply.among) == 0 {
		return nil
	}
	among := reply.among
	all := func(ctx context.Context) error {
		for _, student := range among {
			if err := b.mayRead(ctx, r, student); err != nil {
				return err
			}
		}
		return nil
	}
	reply.Private = true
	reply.Still = func(ctx context.Context) bool { return all(ctx) == nil }
	return all(ctx)
}

// shownOpenly reports whether everybody in the place of r may see a student's
// numbers; an error says that not even its asker may.
func (b *Bot) shownOpenly(ctx context.Context, r Request, student string, shared bool) (bool, error) {
	if err := b.mayRead(ctx, r, student); err != nil {
		return false, err
	}
	switch {
	case shared && b.known.junior(r.Server, student):
		return false, errJuniors
	case shared, r.Hidden && b.Ack(r) == AckUpdate: // it changes a message that nobody else sees
		return true, nil
	}
	return b.inOwnThread(r) && student == b.known.student(r.Channel), nil
}

func (b *Bot) answer(ctx context.Context, r Request) (Reply, error) {
	switch r.Kind {
	case PressRequest, ChooseRequest, SubmitRequest:
		route, args, err := findRoute(r.Path)
		if err != nil {
			return Reply{}, err
		}
		c, err := b.admit(ctx, r, route.may, args)
		if err != nil {
			return Reply{}, err
		}
		return route.run(ctx, b, c)
	case MentionRequest:
		r.Command = readThis
	}
	command, err := findCommand(r.Command)
	if err != nil {
		return Reply{}, err
	}
	c, err := b.admit(ctx, r, command.May, nil)
	if err != nil {
		return Reply{}, err
	}
	if r.Kind == CompletionAsk {
		if command.Complete == nil {
			return Reply{Choices: []Choice{}}, nil
		}
		choices, err := command.Complete(ctx, b, c)
		return Reply{Choices: orNone(choices)}, err
	}
	return command.Run(ctx, b, c)
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

func orNone(c []Choice) []Choice {
	if c == nil {
		return []Choice{}
	}
	return c
}
