package bot

import (
	"context"
	"errors"
	"fmt"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// runBind is /bind: a coach makes a thread the lesson thread of a student, and
// the student is asked there.
func runBind(ctx context.Context, b *Bot, r Call) (Reply, error) {
	student, ok := r.People[r.Options["student"]]
	switch {
	case !ok:
		return Reply{}, analysis.Refuse("Choose somebody of this server.", "I do not know that student.")
	case student.ID == r.Asker.ID:
		return Reply{}, analysis.Refuse("Choose the student.", "You cannot be your own coach here.")
	}
	if err := named(ctx, b, r.Server, student); err != nil {
		return Reply{}, err
	}
	if !r.Thread {
		return offerThread(student), nil
	}
	binding, err := b.db.AskConsent(ctx, r.Server, r.Channel, student.ID, r.Asker.ID)
	if errors.Is(err, store.ErrTaken) {
		return Reply{}, analysis.Refuse("Use another thread.", "This thread is another student's.")
	}
	if err != nil {
		return Reply{}, err
	}
	if binding.Live() {
		if err := ignore(b.db.WantPin(ctx, binding.ID), store.ErrNotFound); err != nil {
			return Reply{}, err
		}
		b.hurry()
		return Reply{
			Text:    fmt.Sprintf("%s agreed to this on %s; nothing has to be done.", words.Escape(student.Name), r.day(binding.Given)),
			Rows:    []Row{{Buttons: []Button{{Path: path("consent", binding.ID, "end"), Label: "Stop being their coach", Style: Danger}}}},
			Private: true,
		}, nil
	}
	return b.askToAgree(binding, words.Escape(r.Asker.Name)), nil
}

// askToAgree asks the student of a binding, or their guardian, whether they
// agree to it. by is how its coach is named.
func (b *Bot) askToAgree(binding store.Binding, by string) Reply {
	if b.known.junior(binding.Server, binding.Student) {
		return Reply{
			Text: fmt.Sprintf("<@%s>: %s asks to be your coach, with this thread as your lesson thread. For a junior a guardian decides; %s records it here.\n"+
				"With their agreement %s sees every session you post in this server and every number of it, and nobody else does. `/mine consent` takes it back at any time.",
				binding.Student, by, by, by),
			Rows: []Row{{Buttons: []Button{
				{Path: path("consent", binding.ID, "give"), Label: "A guardian agrees", Style: Main},
				{Path: path("consent", binding.ID, "end"), Label: "No"},
			}}},
			Notify: []string{binding.Student},
		}
	}
	return Reply{
		Text: fmt.Sprintf("<@%s>: %s asks to be your coach, with this thread as your lesson thread.\n"+
			"If you agree, %s sees every session you post in this server and every number of it, until you take that back with `/mine consent`. "+
			"What a setup did for you also counts, without your name and among five students at least, in what they are recommended. "+
			"What you post in this thread is answered in it, for whoever can read the thread.",
			binding.Student, by, by),
		Rows: []Row{{Buttons: []Button{
			{Path: path("consent", binding.ID, "give"), Label: "I agree", Style: Main},
			{Path: path("consent", binding.ID, "end"), Label: "No"},
		}}},
		Notify: []string{binding.Student},
	}
}

// pressConsent is the student's answer to /bind, or taking it back later.
func pressConsent(ctx context.Context, b *Bot, r Call) (Reply, error) {
	var (
		binding store.Binding
		err     error
	)
	switch r.Args[1] {
	case "give":
		if b.known.junior(r.Server, r.Asker.ID) {
			return Reply{}, analysis.Refuse("", "A guardian decides that; your coach records it.")
		}
		binding, err = b.db.GiveConsent(ctx, r.Server, r.Args[0], r.Asker.ID)
	case "end":
		binding, err = b.db.EndBinding(ctx, r.Server, r.Args[0], r.Asker.ID)
	default:
		return Reply{}, analysis.Refuse("Ask your coach to use `/bind` again.", "That button is from an older version of me.")
	}
	switch {
	case errors.Is(err, store.ErrForbidden):
		return Reply{}, analysis.Refuse("", "That is the student's to answer, nobody else's; for a junior their coach records what a guardian says.")
	case errors.Is(err, store.ErrTaken):
		return Reply{}, analysis.Refuse("Ask your coach to use `/bind` in another thread.", "This thread has become another student's.")
	case errors.Is(err, store.ErrExpired):
		return Reply{}, analysis.Refuse("Ask your coach to use `/bind` again.", "That was answered before.")
	case err != nil:
		return Reply{}, err
	}
	b.known.learn(binding)
	b.hurry()
	coach := fmt.Sprintf("<@%s>", binding.Coach)
	switch {
	case binding.Live():
		return Reply{Text: fmt.Sprintf("Agreed: %s now sees <@%s>'s sessions. To post, press the button of my next message here. `/mine consent` takes this back at any time.", coach, binding.Student)}, nil
	case binding.Why == store.Unbound:
		return Reply{Text: fmt.Sprintf("Done: <@%s> is no longer your student, and you see nothing of theirs any more.", binding.Student)}, nil
	case binding.Why == store.Declined:
		return Reply{Text: "Not agreed. Nobody sees anything."}, nil
	}
	return Reply{Text: fmt.Sprintf("Done: %s no longer sees your sessions. Replies already in the thread stay there until they are deleted.", coach)}, nil
}

// runConsent is /mine consent: who sees the asker's numbers, and the way to
// end that.
func runConsent(ctx context.Context, b *Bot, r Call) (Reply, error) {
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Asker.ID)
	none := errors.Is(err, store.ErrNotFound)
	if err != nil && !none {
		return Reply{}, err
	}
	entered, err := b.db.Entered(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	reply := private("Nobody but you sees your numbers here. A coach who wants to asks with `/bind`, and you decide.")
	var buttons []Button
	if !none {
		reply.Text = fmt.Sprintf("<@%s> sees your sessions, since %s. In <#%s> replies to you are for whoever can read that thread. Nobody else sees your numbers.",
			binding.Coach, r.day(binding.Given), binding.Thread)
		buttons = append(buttons, Button{Path: path("consent", binding.ID, "end"), Label: "Take it back", Style: Danger})
	}
	if entered > 0 {
		reply.Text += fmt.Sprintf("\nYour name and score show in %d of the club's challenges. Leave them, and your name goes from those that are over too; or leave the open ones alone.", entered)
		buttons = append(buttons, Button{Path: path("leave"), Label: "Leave the challenges", Style: Danger},
			Button{Path: path("leaveopen"), Label: "Leave the open ones, my name stays"})
	}
	if len(buttons) > 0 {
		reply.Rows = []Row{{Buttons: buttons}}
	}
	return reply, nil
}
