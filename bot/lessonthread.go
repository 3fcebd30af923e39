package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// A lesson thread is best a private one: of a public one everybody who reads
// the channel reads the numbers. One that the bot opens it is in from the start;
// into a private one that somebody else opened it has to be invited, by a
// mention, before it can write there of its own accord (Discord documentation,
// "Threads" [P]: whoever is not invited sees none of it).

// threadPermissions are those of Request.Lacks that opening one takes.
var threadPermissions = []string{"View Channels", "Create Private Threads", "Send Messages in Threads"}

// offerThread is what /bind says outside of a thread.
func offerThread(student Person) Reply {
	reply := private(fmt.Sprintf("A lesson thread has to be a thread: in a whole channel everybody would read their numbers. I can open a private one in this channel, "+
		"read by %s, you and whoever moderates the threads here. Or open one yourself, write to me in it once with an @ before my name, and use `/bind` there.", words.Escape(student.Name)))
	reply.Rows = []Row{{Buttons: []Button{{Path: path("thread", student.ID), Label: "Open a private thread", Style: Main}}}}
	return reply
}

// pressThread is that button, and the menu of the last step of /clubhouse setup:
// a lesson thread for a student is opened in this channel within a minute.
func pressThread(ctx context.Context, b *Bot, r Call) (Reply, error) {
	student := r.Args[0]
	if r.Kind == ChooseRequest {
		if student = ""; len(r.Values) == 1 {
			student = r.Values[0]
		}
		if err := named(ctx, b, r.Server, r.People[student]); err != nil {
			return Reply{}, err
		}
	}
	if student == r.Asker.ID {
		return Reply{}, analysis.Refuse("Choose the student.", "You cannot be your own coach here.")
	}
	if r.Thread {
		return Reply{}, analysis.Refuse("Use it in a channel, or `/bind` in this thread.", "A thread holds no threads.")
	}
	known, err := b.db.Student(ctx, r.Server, student)
	if err != nil {
		return Reply{}, err
	}
	if known.Name == "" { // nobody of this server was chosen: a made-up path or value
		return Reply{}, analysis.Refuse("Choose somebody of this server.", "I do not know that member.")
	}
	for _, need := range threadPermissions {
		if slices.Contains(r.Lacks, need) {
			return Reply{}, analysis.Refuse(letMe(need), "I may not open a private thread in this channel.")
		}
	}
	if err := b.db.WantThread(ctx, r.Server, r.Channel, student, r.Asker.ID); err != nil {
		return Reply{}, err
	}
	b.hurry()
	return private(fmt.Sprintf("I open a private thread for <@%s> in this channel. You are both in it within a minute, and they are asked there whether they agree.", student)), nil
}

// letMe says how a permission is given in one channel.
func letMe(permission string) string {
	return fmt.Sprintf("In the channel's settings, under Permissions, give my role *%s*.", permission)
}

// tendThreads opens the lesson threads that are wanted, and asks the student in
// each. It goes by the database alone: broken off anywhere it goes on there.
func (b *Bot) tendThreads(ctx context.Context, on Platform) error {
	b.tending.Lock()
	defer b.tending.Unlock()
	all, err := b.db.Openings(ctx)
	if err != nil {
		return fmt.Errorf("bot: lesson threads: %w", err)
	}
	var failed []error
	for _, o := range all {
		if err := openThread(ctx, b, on, o); err != nil {
			failed = append(failed, fmt.Errorf("bot: a lesson thread: %w", err))
		}
	}
	return errors.Join(failed...)
}

func openThread(ctx context.Context, b *Bot, on Platform, o store.Opening) error {
	thread, err := o.Thread, error(nil)
	if thread == "" {
		thread, err = on.Open(ctx, Thread{Server: o.Server, Channel: o.Channel, Name: words.Cut(o.Name, 60), People: []string{o.Student, o.Coach}, Since: o.Asked})
		if err == nil {
			err = b.db.Opened(ctx, o.ID, thread)
		}
	}
	if errors.Is(err, store.ErrNotFound) { // somebody was forgotten meanwhile
		return nil
	}
	if err == nil {
		err = askInThread(ctx, b, on, o, thread)
	}
	switch {
	case errors.Is(err, store.ErrTaken): // opened once more, and bound by hand meanwhile
	case errors.Is(err, ErrNoChannel), errors.Is(err, ErrRefused):
		reply := private(fmt.Sprintf("I could not open a private thread in <#%s>. My role needs *View Channels*, *Create Private Threads* and *Send Messages in Threads* there: "+
			"they are in the channel's settings, under Permissions. Then use `/bind` there again.", o.Channel))
		if err := ignore(on.Direct(ctx, o.Coach, o.ID+"-shut", reply), ErrRefused); err != nil {
			return err
		}
	case err != nil:
		return err
	}
	return b.db.DropOpening(ctx, o.ID)
}

// askInThread asks the student in the thread that was opened.
func askInThread(ctx context.Context, b *Bot, on Platform, o store.Opening, thread string) error {
	binding, err := b.db.AskConsent(ctx, o.Server, thread, o.Student, o.Coach)
	if err != nil || binding.Live() {
		return err
	}
	_, err = on.Put(ctx, thread, o.ID+"-ask", b.askToAgree(binding, fmt.Sprintf("<@%s>", o.Coach)))
	return err
}
