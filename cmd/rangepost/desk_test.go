package main

import (
	"strings"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// A weekly message that the coach's settings refuse is said in their roster
// instead, and nothing stops for it.
func TestDigestRefused(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.slash(p.coach, p.practice, "digest", standin.Options{"day": "0", "hour": 18, "zone": "Europe/London"})
	p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"})
	p.coach.RefuseDirect()
	p.at(7, 19, 0)
	p.tick()
	roster := p.slash(p.coach, p.practice, "roster", nil)
	p.must(t)
	if !strings.Contains(roster.Text, "allow direct messages") || !roster.Ephemeral {
		t.Errorf("the roster after a refusal, for the coach alone %v: %q", roster.Ephemeral, roster.Text)
	}
}

// A comment for a thread that is gone is not lost without a word.
func TestThreadGone(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"})
	review := p.slash(p.coach, p.practice, "review", nil)
	p.wrens.Delete()
	sent := p.submit(p.coach, p.press(p.coach, p.choose(p.coach, review, "Open one", "Wren"), "Comment"), "text", "Well hit.")
	p.must(t)
	if !strings.Contains(sent.Text, "it no longer exists") {
		t.Errorf("a comment for a thread that is gone: %q", sent.Text)
	}
	anew := p.practice.Thread("wren anew")
	p.press(p.wren, p.slash(p.coach, anew, "bind", standin.Options{"student": p.wren}), "I agree")
	told := p.slash(p.coach, p.practice, "brief", standin.Options{"student": p.wren, "text": "face within 2"})
	p.must(t)
	if strings.Contains(told.Text, "could not") || len(anew.Messages(p.wren)) < 2 {
		t.Errorf("after binding another thread: %q", told.Text)
	}
}

// Somebody who leaves the server is asked anew when they come back.
func TestMemberLeaves(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"})
	server := p.practice.Server()
	server.Leave(p.wren)
	p.must(t)
	if err := p.st.bot.Sweep(p.ctx, p.st.on); err != nil {
		t.Fatal(err)
	}
	server.Join(p.wren)
	gone := p.slash(p.coach, p.practice, "timeline", standin.Options{"student": p.wren})
	mine := p.slash(p.wren, p.practice, "timeline", nil)
	p.must(t)
	if !strings.Contains(gone.Text, "not yours to see") {
		t.Errorf("the coach of somebody who left sees %q", gone.Text)
	}
	if mine.Picture() == nil {
		t.Errorf("who came back has lost their own: %q", mine.Text)
	}
	// A coach who lost the role has no desk, and it is back with the role.
	server.Take(p.coach, p.coachRole)
	without := p.slash(p.coach, p.practice, "roster", nil)
	server.Join(p.coach, p.coachRole)
	with := p.slash(p.coach, p.practice, "roster", nil)
	p.must(t)
	if !strings.Contains(without.Text, "Only coaches") || !strings.Contains(with.Text, "2 students") {
		t.Errorf("without the role %q, with it %q", without.Text, with.Text)
	}
}

// What is offered while a timeline is typed comes in time, and can be sent as
// it is: several numbers, several clubs, since a lesson.
func TestTimelineAsOffered(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"})
	p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": "grip"})
	p.post(p.wren, p.wrens, "wren-3-before-lesson.csv", standin.Options{"ball": "range"})
	p.must(t)
	offered := func(option, typed string, o standin.Options) []standin.Choice {
		t.Helper()
		began := time.Now()
		choices, err := p.wren.Complete(p.ctx, p.wrens, "timeline", o, option, typed)
		if err != nil {
			t.Fatal(err)
		}
		if len(choices) == 0 {
			t.Fatalf("nothing is offered for %s after %q", option, typed)
		}
		t.Logf("%s after %q: %d choices in %v", option, typed, len(choices), time.Since(began).Round(time.Millisecond))
		return choices
	}
	numbers := offered("number", "face, pa", nil)
	if numbers[0].Value != "face, path" {
		t.Errorf("offered after \"face, pa\": %v", numbers)
	}
	clubs := offered("club", "", nil)
	since := offered("since", "les", nil)
	if since[0].Value != "lesson" {
		t.Errorf("offered after \"les\": %v", since)
	}
	out := p.slash(p.wren, p.wrens, "timeline", standin.Options{"number": numbers[0].Value, "club": clubs[0].Value})
	p.must(t)
	if out.Picture() == nil || !strings.Contains(out.Picture().Alt, "2 panels") || !strings.Contains(out.Text, "face angle") || !strings.Contains(out.Text, "club path") {
		t.Errorf("two numbers: %q", out.Text)
	}
	for _, tt := range []struct {
		o    standin.Options
		want string
	}{
		{standin.Options{"since": since[0].Value}, "Since the lesson on"},
		{standin.Options{"since": "last 1"}, "The last 1 session"},
		{standin.Options{"since": "2026-06-01"}, "Since 1 June 2026"},
		{standin.Options{"since": "soon"}, "neither a day, a lesson nor a number of sessions"},
		{standin.Options{"number": "elbow"}, "is not a number I know"},
		{standin.Options{"number": "face, path, carry", "club": "7i, driver"}, "That makes 6 timelines"},
		{standin.Options{"club": "putter"}, "No session has face-to-path there yet"},
	} {
		got := p.slash(p.wren, p.wrens, "timeline", tt.o)
		p.must(t)
		if !strings.Contains(got.Text, tt.want) {
			t.Errorf("%v: %q, want something with %q", tt.o, got.Text, tt.want)
		}
	}
}
