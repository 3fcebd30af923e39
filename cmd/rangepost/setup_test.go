package main

import (
	"slices"
	"strings"
	"testing"

	"rangepost/bot/standin"
)

// A clubhouse is set up by menus and buttons alone, from the first page to the
// first post in a lesson thread, with a start of the bot in between.
func TestSetup(t *testing.T) {
	p := rehearse(t)
	p.at(1, 9, 0)
	p.server.Give(p.steward, p.coachRole)
	at := p.slash(p.steward, p.practice, "clubhouse setup", nil)
	p.must(t)
	first := at.ID
	says := func(want ...string) {
		t.Helper()
		p.must(t)
		if at.ID != first || !at.Ephemeral {
			t.Errorf("a page in another message than the first, or seen by everybody: %q", at.Text)
		}
		for _, w := range want {
			if !strings.Contains(at.Text, w) {
				t.Errorf("the page does not say %q:\n%s", w, at.Text)
			}
		}
	}
	says("Setting up, 1 of 8: coaches", "can be skipped", "Coaches: nobody yet")
	at = p.choose(p.steward, at, "The coaches' role", "Coaches")
	says("Noted.", "Coaches: members with <@&")
	if err := p.st.leave(); err != nil {
		t.Fatal(err)
	}
	if err := p.st.enter(p.ctx, kept.log()); err != nil {
		t.Fatal(err)
	}
	if err := p.st.Connected(p.ctx, 1); err != nil {
		t.Fatal(err)
	}
	at = p.press(p.steward, at, "Next")
	says("2 of 8: time zone", "not set, so I take UTC, where it is 09:00")
	at = p.choose(p.steward, at, "Europe and Africa", "Europe/London, 10:00 now")
	says("Time zone: Europe/London, where it is 10:00")
	wrong := p.submit(p.steward, p.press(p.steward, at, "Another time zone"), "text", "Atlantis")
	p.must(t)
	if !strings.Contains(wrong.Text, "is not a time zone I know") {
		t.Errorf("a zone that is none: %q", wrong.Text)
	}
	at = p.submit(p.steward, p.press(p.steward, at, "Another time zone"), "text", "America/New York")
	says(`Time zone: America/New\_York, where it is 05:00`)
	at = p.choose(p.steward, at, "Europe and Africa", "Europe/London")
	at = p.press(p.steward, p.press(p.steward, at, "Next"), "Metres, m/s")
	says("3 of 8: units", "Units: metres and m/s")
	at = p.choose(p.steward, p.press(p.steward, at, "Next"), "Quiet hours", "22:00 to 07:00")
	says("4 of 8: quiet hours", "Quiet hours: 22:00 to 07:00")
	at = p.choose(p.steward, p.press(p.steward, at, "Next"), "Who is a junior", "Odell")
	says("5 of 8: juniors", "Noted as juniors: <@"+p.odell.ID+">")
	at = p.press(p.steward, at, "Name juniors")
	says("Juniors: named in standings")
	at = p.choose(p.steward, p.press(p.steward, at, "Next"), "How long", "365 days")
	says("6 of 8: how long sessions are kept", "cannot be undone", "kept: for ever")
	at = p.press(p.steward, at, "Keep 365 days")
	says("Posted sessions are kept: 365 days")
	at = p.choose(p.steward, p.press(p.steward, at, "Next"), "The channels", "challenges")
	says("7 of 8: channels for challenges", "Channels for challenges: <#"+p.contests.ID+">")
	if posted := p.contests.Messages(p.wren); len(posted) != 1 || !strings.Contains(posted[0].Text, "challenges are posted") {
		t.Errorf("in the channel stands %+v", posted)
	}
	at = p.press(p.steward, at, "Next")
	says("8 of 8: a first lesson thread", "Choose a student")
	opens := p.choose(p.steward, at, "The student", "Wren")
	p.must(t)
	if !opens.Ephemeral || !strings.Contains(opens.Text, "I open a private thread") {
		t.Errorf("choosing a student: %q", opens.Text)
	}
	p.tick()
	at = p.press(p.steward, at, "Skip")
	says("Set up.", "Europe/London", "metres and m/s", "22:00 to 07:00", "365 days", "`/bind`")

	p.firstPost(t, p.practice, p.wren)
}

// firstPost is what follows in the thread that was opened for a student.
func (p *play) firstPost(t *testing.T, in *standin.Channel, who *standin.User) {
	t.Helper()
	p.must(t)
	thread := in.ThreadCalled(who.Name, who)
	if thread == nil || in.ThreadCalled(who.Name, p.priya) != nil {
		t.Fatalf("the thread of %s is there: %v; and others see it", who.Name, thread != nil)
	}
	asked := thread.Messages(who)
	if len(asked) != 1 || !slices.Equal(asked[0].Told, []string{who.Name}) {
		t.Fatalf("in the thread stands %+v", asked)
	}
	p.press(who, &standin.Outcome{Message: asked[0]}, "I agree")
	p.tick()
	posted := p.handOver(who, p.pinned(thread), "Post a session", "wren-1-first.csv", nil)
	p.must(t)
	if posted.Picture() == nil || posted.Ephemeral {
		t.Errorf("the first post: %q", posted.Text)
	}
}

// A private thread that somebody else opened has to bring the bot in; where the
// bot may not open one it says what it needs.
func TestPrivateThreads(t *testing.T) {
	p := rehearse(t)
	p.at(1, 9, 0)
	p.slash(p.steward, p.practice, "clubhouse coach", standin.Options{"role": p.coachRole})
	own := p.practice.PrivateThread("wren, private", p.coach, p.wren)
	p.press(p.wren, p.slash(p.coach, own, "bind", standin.Options{"student": p.wren}), "I agree")
	p.tick()
	p.must(t)
	told := p.coach.Direct().Messages(p.coach)
	if len(told) != 1 || !strings.Contains(told[0].Text, "I cannot write in <#"+own.ID+">") {
		t.Fatalf("the coach is told %+v", told)
	}
	p.coach.Say(own, "@Rangepost")
	p.slash(p.coach, own, "bind", standin.Options{"student": p.wren})
	p.tick()
	p.pinned(own)

	p.practice.Deny(standin.PrivateThreads)
	refused := p.press(p.coach, p.slash(p.coach, p.practice, "bind", standin.Options{"student": p.odell}), "Open a private thread")
	p.must(t)
	if want := "I may not open a private thread in this channel. In the channel's settings, under Permissions, give my role *Create Private Threads*."; refused.Text != want {
		t.Errorf("it says %q", refused.Text)
	}
	page := p.slash(p.steward, p.practice, "clubhouse setup", nil)
	p.must(t)
	if !strings.Contains(page.Text, "In this channel I lack a permission. In the channel's settings, under Permissions, give my role *Create Private Threads*.") {
		t.Errorf("setting up says %q", page.Text)
	}
	offered := p.slash(p.coach, p.contests, "bind", standin.Options{"student": p.odell})
	p.press(p.coach, offered, "Open a private thread")
	p.contests.Deny(standin.PrivateThreads) // meanwhile
	p.tick()
	p.must(t)
	if told = p.coach.Direct().Messages(p.coach); len(told) != 2 || !strings.Contains(told[1].Text, "*Create Private Threads*") {
		t.Errorf("the coach is told %+v", told)
	}
}
