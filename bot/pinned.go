package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/bot/record"
	"rangepost/store"
)

// promptly is how long after consent is given its thread's message may still
// come in quiet hours: whoever agrees just then is awake.
const promptly = 10 * time.Minute

// mostPins is how many of these messages are posted in one tick. The first start
// of a version that has them may find hundreds of threads without.
const mostPins = 20

// pinned is the message that stands pinned in a lesson thread. Its buttons work
// for as long as it is there, whatever is written after it.
func pinned(student string) Reply {
	return Reply{
		Text: fmt.Sprintf("<@%s>, these buttons are all you need: hand over a session, see what your task is, see how you are doing.", student),
		Rows: []Row{{Buttons: []Button{
			postButton(student, "Post a session"),
			{Path: path("task", student), Label: "My task"},
			{Path: path("doing", student), Label: "How am I doing"},
		}}},
	}
}

// tendPins posts and pins the messages of lesson threads that have none yet, and
// takes away those whose binding has ended. It goes by the database alone, so a
// restart at any moment loses nothing; a coach in whose threads the bot may not
// pin is told once, of all of them.
func (b *Bot) tendPins(ctx context.Context, on Platform) error {
	b.tending.Lock()
	defer b.tending.Unlock()
	due, err := b.db.DuePins(ctx)
	if err != nil {
		return fmt.Errorf("bot: pinned messages: %w", err)
	}
	var failed []error
	note := func(err error) {
		if err != nil {
			failed = append(failed, fmt.Errorf("bot: a pinned message: %w", err))
		}
	}
	loose := map[[2]string][]store.Pin{} // not pinned, by server and coach
	posted := 0
	for _, p := range due {
		if !p.Binding.Live() {
			note(unpin(ctx, b, on, p))
			continue
		}
		if hold, err := b.holdPin(ctx, p.Binding); err != nil || hold || posted == mostPins {
			note(err)
			continue
		}
		posted++
		switch p, held, err := showPin(ctx, b, on, p); {
		case err != nil:
			note(err)
		case p.Message == "":
			note(b.tellShut(ctx, on, p))
			note(b.db.KeepPin(ctx, p.Binding.ID, p.Message, true))
		case held:
			note(b.db.KeepPin(ctx, p.Binding.ID, p.Message, true))
		default:
			key := [2]string{p.Binding.Server, p.Binding.Coach}
			loose[key] = append(loose[key], p)
		}
	}
	for key, pins := range loose {
		note(tellLoose(ctx, b, on, key[1], pins))
	}
	return errors.Join(failed...)
}

// holdPin reports whether a message has to wait for the end of quiet hours.
func (b *Bot) holdPin(ctx context.Context, binding store.Binding) (bool, error) {
	if b.now().Sub(binding.Given) < promptly {
		return false, nil
	}
	house, err := b.db.Clubhouse(ctx, binding.Server)
	return err == nil && record.Quiet(house, b.now()), err
}

// showPin brings the message of a thread up to date, posting it where there is
// none, and pins it. Its Message is "" if the thread is closed to the bot.
func showPin(ctx context.Context, b *Bot, on Platform, p store.Pin) (_ store.Pin, held bool, err error) {
	reply := pinned(p.Binding.Student)
	nonce := p.Binding.ID + "-" + p.Message[max(0, len(p.Message)-6):]
	if p.Message != "" {
		if err = on.Edit(ctx, p.Thread, p.Message, reply); errors.Is(err, ErrNoMessage) {
			p.Message = ""
		}
	}
	if p.Message == "" {
		if p.Message, err = on.Put(ctx, p.Thread, nonce, reply); err == nil {
			err = b.db.KeepPin(ctx, p.Binding.ID, p.Message, false)
		}
		if errors.Is(err, store.ErrNotFound) { // its student was forgotten meanwhile
			return p, true, on.Delete(ctx, p.Thread, p.Message)
		}
	}
	switch {
	case errors.Is(err, ErrNoChannel), errors.Is(err, ErrRefused):
		// The next start, or the next /bind, tries again.
		b.log.WarnContext(ctx, "the message with a student's buttons cannot be posted", "err", err)
		p.Message = ""
		return p, false, nil
	case err != nil:
		return p, false, err
	}
	err = on.Pin(ctx, p.Thread, p.Message)
	if errors.Is(err, ErrNoChannel) || errors.Is(err, ErrRefused) {
		return p, false, nil
	}
	return p, err == nil || errors.Is(err, ErrNoMessage), ignore(err, ErrNoMessage)
}

// tellLoose tells a coach in which threads the message stands unpinned, and is
// done with those.
func tellLoose(ctx context.Context, b *Bot, on Platform, coach string, pins []store.Pin) error {
	var threads []string
	for _, p := range pins {
		threads = append(threads, "<#"+p.Thread+">")
	}
	slices.Sort(threads)
	reply := Reply{Text: fmt.Sprintf("I may not pin messages in %s, so the one with your student's buttons stands there unpinned. "+
		"Give my role *Pin Messages* and use `/bind` there again, or pin it yourself.", strings.Join(threads, ", "))}
	if err := ignore(on.Direct(ctx, coach, pins[0].Binding.ID+"-loose", reply), ErrRefused); err != nil {
		return err
	}
	for _, p := range pins {
		if err := ignore(b.db.KeepPin(ctx, p.Binding.ID, p.Message, true), store.ErrNotFound); err != nil {
			return err
		}
	}
	return nil
}

// tellShut tells a coach whose student has just agreed that the bot cannot write
// in their thread: a private one that it is not in, most often. Later on only
// the log has it, so that a start does not tell again of threads long gone.
func (b *Bot) tellShut(ctx context.Context, on Platform, p store.Pin) error {
	if b.now().Sub(p.Binding.Given) >= promptly {
		return nil
	}
	reply := Reply{Text: fmt.Sprintf("I cannot write in <#%s>, so your student has no buttons there. If it is a private thread, write a message in it with an @ before my name, which brings me in; "+
		"else give my role *Send Messages in Threads*. Then use `/bind` there again.", p.Thread)}
	return ignore(on.Direct(ctx, p.Binding.Coach, p.Binding.ID+"-shut", reply), ErrRefused)
}

// unpin takes the message of a binding that has ended away.
func unpin(ctx context.Context, b *Bot, on Platform, p store.Pin) error {
	if p.Message != "" {
		err := on.Delete(ctx, p.Thread, p.Message)
		if err != nil && !errors.Is(err, ErrNoMessage) && !errors.Is(err, ErrNoChannel) && !errors.Is(err, ErrRefused) {
			return err
		}
	}
	return b.db.DropPin(ctx, p.Binding.ID)
}

// ignore is err, unless it is what does not matter.
func ignore(err, what error) error {
	if errors.Is(err, what) {
		return nil
	}
	return err
}
