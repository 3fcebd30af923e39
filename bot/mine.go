package bot

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// runHand is /mine hand. Every session kept is read again, since the hand can
// settle what a file's signs mean.
func runHand(ctx context.Context, b *Bot, r Request) (Reply, error) {
	hand, err := analysis.ParseHand(r.Options["hand"])
	if err != nil {
		return Reply{}, analysis.Refuse("It is right or left.", "I do not know that hand.").Of("hand")
	}
	if err := b.db.SetHand(ctx, r.Server, r.Asker.ID, hand); err != nil {
		return Reply{}, err
	}
	read, failed, err := b.rereadAll(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	text := fmt.Sprintf("Noted: you play %s-handed. Open, closed, in-to-out and toe now follow your hand; left and right stay as you look at the target.", hand)
	if read > 0 {
		text += fmt.Sprintf(" %s read again.", sessions(read))
	}
	if failed > 0 {
		text += fmt.Sprintf(" %s could not be and stayed as before; post the file again to see why.", sessions(failed))
	}
	return private(text), nil
}

// rereadAll reads a student's kept sessions again, each kept on its own.
func (b *Bot) rereadAll(ctx context.Context, server, student string) (read, failed int, err error) {
	infos, err := b.db.Sessions(ctx, server, student, store.SessionFilter{})
	if err != nil {
		return 0, 0, err
	}
	for _, info := range infos {
		switch err := b.rereadOne(ctx, server, info.ID); {
		case err == nil:
			read++
		case ctx.Err() != nil:
			return read, failed, ctx.Err()
		default:
			b.log.WarnContext(ctx, "a kept session could not be read again", "err", err)
			failed++
		}
	}
	return read, failed, nil
}

// rereadOne reads a kept session again and keeps the new reading.
func (b *Bot) rereadOne(ctx context.Context, server, id string) error {
	s, err := b.db.Session(ctx, server, id)
	if err != nil {
		return err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return err
	}
	_, err = b.db.ReplaceReading(ctx, server, id, keepReading(answer), s.Said)
	return err
}

func sessions(n int) string {
	if n == 1 {
		return "1 session"
	}
	return fmt.Sprintf("%d sessions", n)
}

// runUnits is /mine units.
func runUnits(ctx context.Context, b *Bot, r Request) (Reply, error) {
	chosen, err := unitsAsked(r)
	if err != nil {
		return Reply{}, err
	}
	student, err := b.db.Student(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	chosen = chosen.Or(student.Units)
	if err := b.db.SetUnits(ctx, r.Server, r.Asker.ID, chosen); err != nil {
		return Reply{}, err
	}
	named := func(u string) string {
		if name, ok := unitName[u]; ok {
			return name
		}
		return "the clubhouse's unit"
	}
	return private(fmt.Sprintf("Noted: distances in %s, speeds in %s.", named(string(chosen.Distance)), named(string(chosen.Speed)))), nil
}

// forgetting is how long the button that deletes everything stays alive.
const forgetting = 10 * time.Minute

// runForget is /mine forget: it asks, and the button asks once more.
func runForget(ctx context.Context, b *Bot, r Request) (Reply, error) {
	infos, err := b.db.Sessions(ctx, r.Server, r.Asker.ID, store.SessionFilter{})
	if err != nil {
		return Reply{}, err
	}
	return b.askForget(ctx, r, "once",
		fmt.Sprintf("This deletes everything kept about you in this server: %s with files and balls, tallies, lessons, briefs, consents and settings. You leave the open challenges, and closed ones lose your name. It cannot be undone. `/mine export` first, if you want any of it.", sessions(len(infos))),
		"Delete it all")
}

func (b *Bot) askForget(ctx context.Context, r Request, step, text, label string) (Reply, error) {
	id, err := b.db.KeepView(ctx, store.View{Server: r.Server, Owner: r.Asker.ID, Student: r.Asker.ID, Kind: "forget", Body: []byte(step)}, forgetting)
	if err != nil {
		return Reply{}, err
	}
	return Reply{Text: text, Rows: []Row{{Buttons: []Button{{Path: path("forget", id), Label: label, Style: Danger}}}}}, nil
}

// pressForget is the button: pressed once it asks again, twice it deletes.
func pressForget(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	view, err := b.db.View(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	if view.Owner != r.Asker.ID || view.Kind != "forget" {
		return Reply{}, errNotYours
	}
	if err := b.db.DropView(ctx, r.Server, view.ID); err != nil {
		return Reply{}, err
	}
	if string(view.Body) == "once" {
		return b.askForget(ctx, r, "twice", "Sure? After this nobody, not even the operator, can bring it back, except from a backup made before.", "Yes, delete it all")
	}
	if err := b.db.ForgetStudent(ctx, r.Server, r.Asker.ID); err != nil && !errors.Is(err, store.ErrNotFound) {
		return Reply{}, err
	}
	b.known.forget(r.Server, r.Asker.ID)
	b.quota.forget(r.Asker.ID)
	return Reply{Text: "Everything kept about you here is deleted. Messages in channels are the platform's: delete those yourself if you want them gone. The next backup no longer has you."}, nil
}
