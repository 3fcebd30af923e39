package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// maxReason is the most characters of a host's reason, which players and the
// channel read.
const maxReason = 200

// reasonAsked is a host's reason as it is kept.
func reasonAsked(text string) (string, error) {
	reason := words.Cut(words.Clean(text), maxReason)
	if reason == "" {
		return "", analysis.Refuse("Say it in a line; the player reads it.", "It takes a reason.")
	}
	return reason, nil
}

// runLook is /challenge look: the entries that wait for a host, or one player's.
func runLook(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, false)
	if err != nil {
		return Reply{}, err
	}
	return look(ctx, b, r, c, r.Options["player"])
}

// pressLook is the button under standings with entries that wait.
func pressLook(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	return look(ctx, b, r, c, "")
}

// look shows a host the first entry that waits and why, or that of a player;
// its balls too, where the rules of the challenge said so when it was entered.
func look(ctx context.Context, b *Bot, r Call, c store.Challenge, player string) (Reply, error) {
	s, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	p, err := placesFor(ctx, b, r, s)
	if err != nil {
		return Reply{}, err
	}
	if player == "" {
		for _, l := range s.Looks {
			if l.Out == "" {
				return p.looked(l.Entry, l.Player, l.Why), nil
			}
		}
		return private("No entry waits for a host. With the option `player` I show one that counts."), nil
	}
	if l, ok := s.LookOf(player); ok {
		if l.Out != "" {
			return private("That entry was taken out: " + words.Escape(l.Out)), nil
		}
		return p.looked(l.Entry, l.Player, l.Why), nil
	}
	if row, ok := s.Of(player); ok {
		return p.looked(s.EntryOf(row), s.Players[row.Entry], nil), nil
	}
	return Reply{}, analysis.Refuse("`/challenge standings` shows who has.", "They have not entered that challenge.")
}

// looked is what a host sees of one entry.
func (p places) looked(entry string, player record.Player, why []analysis.Warning) Reply {
	lines := []string{fmt.Sprintf("**%s**: %s", words.Escape(p.Name), words.Escape(playerName(player)))}
	if len(why) > 0 {
		lines[0] += ", waiting for a look"
		lines = append(lines, p.voice.Caveats(why)...)
		lines = append(lines, "Most of these have an honest cause; ask before you decide.")
	}
	if p.Terms.Look {
		balls, drawn := p.Balls(entry)
		if len(drawn) > 0 {
			lines = append(lines, p.voice.ChallengeDrawn(drawn))
		}
		lines = append(lines, p.voice.ChallengeBalls(p.Terms, balls))
	} else {
		lines = append(lines, "Its balls are not shown: the rules of this challenge did not say so.")
	}
	reply := private(words.Clip(strings.Join(lines, "\n"), MaxText))
	if p.Closed.IsZero() {
		var buttons []Button
		if len(why) > 0 {
			buttons = append(buttons, Button{Path: path("accept", entry), Label: "Accept it", Style: Main})
		}
		reply.Rows = []Row{{Buttons: append(buttons, Button{Path: path("takeout", entry), Label: "Take it out", Style: Danger})}}
	}
	return reply
}

// pressAccept lets an entry count.
func pressAccept(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if err := b.records.Accept(ctx, r.Server, r.Args[0], r.Asker.ID); err != nil {
		return Reply{}, ruledBefore(err)
	}
	b.hurry()
	return Reply{Text: "Accepted: the entry counts, and the standings follow within a minute."}, nil
}

// pressTakeOut asks for the reason.
func pressTakeOut(_ context.Context, _ *Bot, r Call) (Reply, error) {
	return Reply{Modal: &Modal{Path: path("takenout", r.Args[0]), Title: "Take an entry out", Fields: []Field{
		{ID: "text", Label: "Why? The player reads this", Max: maxReason, Required: true, Placeholder: "The file is of another day"},
	}}}, nil
}

// submitTakeOut takes the entry out.
func submitTakeOut(ctx context.Context, b *Bot, r Call) (Reply, error) {
	reason, err := reasonAsked(r.Fields["text"])
	if err != nil {
		return Reply{}, err
	}
	return takeOut(ctx, b, r, r.Args[0], reason)
}

// runTakeOut is /challenge remove.
func runTakeOut(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	reason, err := reasonAsked(r.Options["reason"])
	if err != nil {
		return Reply{}, err
	}
	s, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	entry := ""
	if l, ok := s.LookOf(r.Options["player"]); ok {
		entry = l.Entry
	} else if row, ok := s.Of(r.Options["player"]); ok {
		entry = s.EntryOf(row)
	}
	if entry == "" {
		return Reply{}, analysis.Refuse("`/challenge standings` shows who has.", "They have not entered that challenge.")
	}
	return takeOut(ctx, b, r, entry, reason)
}

func takeOut(ctx context.Context, b *Bot, r Call, entry, reason string) (Reply, error) {
	if err := b.db.TakeOutEntry(ctx, r.Server, entry, r.Asker.ID, reason); err != nil {
		return Reply{}, ruledBefore(err)
	}
	b.hurry()
	return private("Taken out, for good. The player reads your reason with `/challenge standings`; the standings say that an entry was taken out, and not whose."), nil
}

// ruledBefore says why nothing can be ruled any more.
func ruledBefore(err error) error {
	switch {
	case errors.Is(err, store.ErrExpired):
		return analysis.Refuse("`/challenge void` calls it off.", "That challenge is closed, and its standings are final.")
	case errors.Is(err, store.ErrNotFound):
		return analysis.Refuse("`/challenge look` shows what waits.", "That entry does not wait any more.")
	}
	return err
}

// runVoid is /challenge void: it asks before it calls a challenge off.
func runVoid(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, false)
	if err != nil {
		return Reply{}, err
	}
	reason, err := reasonAsked(r.Options["reason"])
	if err != nil {
		return Reply{}, err
	}
	err = b.db.VoidChallenge(ctx, r.Server, c.ID, r.Asker.ID, reason)
	if errors.Is(err, store.ErrExpired) {
		return Reply{}, analysis.Refuse("`/challenge open` opens another.", "%s was called off before.", c.Name)
	}
	if err != nil {
		return Reply{}, err
	}
	b.hurry()
	return private(fmt.Sprintf("%s is called off: nobody has won it, and there is no certificate. <#%s> reads your reason within a minute.", words.Escape(c.Name), c.Channel)), nil
}

// pressPlayOff opens a play-off.
func pressPlayOff(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	s, err := b.records.PlayOff(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	b.hurry()
	return private(fmt.Sprintf("%s is open: %s, until %s. It is posted in <#%s> within a minute.", words.Escape(s.Name), words.Count(s.Terms.Balls, "ball"), when(s.Until, s.Zone), s.Channel)), nil
}
