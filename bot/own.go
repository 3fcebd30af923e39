package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// runHand is /mine hand. Every session kept is read again, since the hand can
// settle what a file's signs mean.
func runHand(ctx context.Context, b *Bot, r Call) (Reply, error) {
	hand, err := analysis.ParseHand(r.Options["hand"])
	if err != nil {
		return Reply{}, analysis.Refuse("It is right or left.", "I do not know that hand.").Of("hand")
	}
	if err := b.db.SetHand(ctx, r.Server, r.Asker.ID, hand); err != nil {
		return Reply{}, err
	}
	read, failed, err := b.records.RereadAll(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	text := fmt.Sprintf("Noted: you play %s-handed. Open, closed, in-to-out and toe now follow your hand; left and right stay as you look at the target.", hand)
	if read > 0 {
		text += fmt.Sprintf(" %s read again.", words.Count(read, "session"))
	}
	if failed > 0 {
		text += fmt.Sprintf(" %s could not be and stayed as before; post the file again to see why.", words.Count(failed, "session"))
	}
	return private(text), nil
}

// runUnits is /mine units.
func runUnits(ctx context.Context, b *Bot, r Call) (Reply, error) {
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

// runZone is /mine zone. The times of the sessions kept are read again by it.
func runZone(ctx context.Context, b *Bot, r Call) (Reply, error) {
	chosen, err := "", error(nil)
	if !strings.EqualFold(strings.TrimSpace(r.Options["zone"]), "clubhouse") {
		if chosen, err = zoneAsked(r); err != nil {
			return Reply{}, err
		}
	}
	moved, err := b.records.SetZone(ctx, r.Server, r.Asker.ID, chosen)
	if err != nil {
		return Reply{}, err
	}
	zone, err := b.records.Zone(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	text := fmt.Sprintf("Noted: your clock is that of %s, where it is %s now. Times in your files are read on it unless they say another, and days are said by it.",
		words.Escape(zone.String()), b.now().In(zone).Format("15:04 on 2 January"))
	if moved > 0 {
		text += fmt.Sprintf(" %s moved to it.", words.Count(moved, "session"))
	}
	return private(text), nil
}

// forgetting is how long the button that deletes everything stays alive.
const forgetting = 10 * time.Minute

// runForget is /mine forget: it asks, and the button asks once more.
func runForget(ctx context.Context, b *Bot, r Call) (Reply, error) {
	infos, err := b.db.Sessions(ctx, r.Server, r.Asker.ID, store.SessionFilter{})
	if err != nil {
		return Reply{}, err
	}
	return askForget(ctx, b, r, "once",
		fmt.Sprintf("This deletes everything kept about you in this server: %s with files and balls, tallies, lessons, briefs, consents and settings. You leave the open challenges, and closed ones lose your name. It cannot be undone. `/mine export` first, if you want any of it.", words.Count(len(infos), "session")),
		"Delete it all")
}

func askForget(ctx context.Context, b *Bot, r Call, step, text, label string) (Reply, error) {
	id, err := b.db.KeepView(ctx, store.View{Server: r.Server, Owner: r.Asker.ID, Student: r.Asker.ID, Kind: "forget", Body: []byte(step)}, forgetting)
	if err != nil {
		return Reply{}, err
	}
	return Reply{Text: text, Rows: []Row{{Buttons: []Button{{Path: path("forget", id), Label: label, Style: Danger}}}}}, nil
}

// pressForget is the button: pressed once it asks again, twice it deletes.
func pressForget(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if r.View.Kind != "forget" {
		return Reply{}, errNotYours
	}
	if err := b.db.DropView(ctx, r.Server, r.View.ID); err != nil {
		return Reply{}, err
	}
	if string(r.View.Body) == "once" {
		return askForget(ctx, b, r, "twice", "Sure? After this nobody, not even the operator, can bring it back, except from a backup made before.", "Yes, delete it all")
	}
	if err := b.records.Forget(ctx, r.Server, r.Asker.ID); err != nil && !errors.Is(err, store.ErrNotFound) {
		return Reply{}, err
	}
	b.known.forget(r.Server, r.Asker.ID)
	if err := b.quota.forget(ctx, r.Asker.ID); err != nil {
		return Reply{}, err
	}
	b.hurry()
	return Reply{Text: "Everything kept about you here is deleted. Messages in channels are the platform's: delete those yourself if you want them gone. The next backup no longer has you."}, nil
}
