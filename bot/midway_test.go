package bot

import (
	"slices"
	"strings"
	"testing"
)

// Who sees a reply is settled by what holds when it is ready as well as by what
// held when it was asked: for every kind of reply, with every change of
// standing in between.
func TestStandingChangesMidway(t *testing.T) {
	if testing.Short() {
		t.Skip("one request after the other: nothing meets for a race detector to see")
	}
	end := func(t *testing.T, b *Bot, binding, by string) {
		t.Helper()
		ended, err := b.db.EndBinding(t.Context(), "saltmarsh", binding, by)
		if err != nil {
			t.Fatal(err)
		}
		b.known.learn(ended)
	}
	// Every reply about the student, made in her thread before anything changed.
	type answered struct {
		name  string
		r     Request
		reply Reply
	}
	var made []answered
	b, session, binding, review, planned := settled(t)
	for _, a := range permits(session, binding, review, planned) {
		if a.do.Kind == CompletionAsk || strings.HasPrefix(a.name, "consent") {
			continue
		}
		for _, who := range []string{student, coach} {
			r := as(who, a.do)
			r.Channel, r.Thread = "thread-"+student+coach, true
			if reply, err := b.answer(t.Context(), r); err == nil && (reply.about == student || slices.Contains(reply.among, student)) {
				made = append(made, answered{a.name, r, reply})
			}
		}
	}
	if len(made) < 25 {
		t.Fatalf("only %d replies are about the student", len(made))
	}
	for _, change := range []struct {
		name    string
		does    func(t *testing.T, b *Bot, binding string)
		refuses bool // the coach, who is no longer the student's
	}{
		{"the student is made a junior", func(t *testing.T, b *Bot, _ string) {
			if err := b.db.SetJunior(t.Context(), "saltmarsh", student, true); err != nil {
				t.Fatal(err)
			}
			b.known.setJunior("saltmarsh", student, true)
		}, false},
		{"the student takes consent back", func(t *testing.T, b *Bot, binding string) { end(t, b, binding, student) }, true},
		{"the coach stops, or left the server", func(t *testing.T, b *Bot, binding string) { end(t, b, binding, coach) }, true},
		{"the student agrees to another coach", func(t *testing.T, b *Bot, _ string) {
			asked, err := b.db.AskConsent(t.Context(), "saltmarsh", "thread-elsewhere", student, rival)
			if err != nil {
				t.Fatal(err)
			}
			given, err := b.db.GiveConsent(t.Context(), "saltmarsh", asked.ID, student)
			if err != nil {
				t.Fatal(err)
			}
			b.known.learn(given)
		}, true},
		{"another role is the coaches'", func(t *testing.T, b *Bot, _ string) { b.known.setCoachRole("saltmarsh", "others") }, true},
	} {
		after, _, binding, _, _ := settled(t)
		change.does(t, after, binding)
		for _, m := range made {
			reply := m.reply
			err := after.show(t.Context(), m.r, &reply)
			switch coachs := m.r.Asker.ID == coach; {
			case coachs && change.refuses:
				if err == nil {
					t.Errorf("%s, by the coach, while %s: shown: %.60q", m.name, change.name, reply.Text)
				}
			case reply.shared && change.name != "the student is made a junior": // theirs to do
			case err == nil && !reply.Private && change.name != "another role is the coaches'":
				t.Errorf("%s, by %s, while %s: in the open: %.60q", m.name, m.r.Asker.ID, change.name, reply.Text)
			}
		}
	}
}

// What was asked of a message that nobody else sees stays an update of it.
func TestHiddenMessagesAreUpdated(t *testing.T) {
	b, session, _, _, _ := settled(t)
	r := as(student, Request{Kind: ChooseRequest, Path: path("set", session), Values: []string{"0"}, Hidden: true})
	if reply := b.Handle(t.Context(), r); reply.Private || reply.Picture == nil {
		t.Errorf("private %v: %q", reply.Private, reply.Text)
	}
	r.Hidden = false
	if reply := b.Handle(t.Context(), r); !reply.Private {
		t.Error("under a message everybody sees, outside the thread, and in the open")
	}
}
