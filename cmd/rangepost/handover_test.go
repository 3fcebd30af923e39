package main

import (
	"context"
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/standin"
	"rangepost/store/pgtest"
)

// A student who never types a command posts with the pinned message and with
// the button under a reply, asks what the task is and how it is going; nobody
// else can do it for them.
func TestHandOver(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	wants(t, p, "nothing is posted yet", p.press(p.wren, p.pinned(p.wrens), "How am I doing"), "There is no session yet")
	neither := p.send(p.wren, p.press(p.wren, p.pinned(p.wrens), "Post a session"), nil)
	wants(t, p, "an empty form", neither, "neither a file nor rows")
	if again := p.press(p.wren, neither, "Try again"); again.Modal == nil {
		t.Errorf("no form to try again: %q", again.Text)
	}
	first := p.handOver(p.wren, p.pinned(p.wrens), "Post a session", "wren-1-first.csv", map[string]string{"ball": "range"})
	second := p.handOver(p.wren, first, "Post the next one", "wren-3-before-lesson.csv", nil)
	p.must(t)
	for _, out := range []*standin.Outcome{first, second} {
		if out.Ephemeral || out.Channel != p.wrens || out.Picture() == nil || !strings.HasPrefix(out.Text, "The balls finished about") {
			t.Errorf("%q, for Wren alone: %v", out.Text, out.Ephemeral)
		}
	}
	if form := p.press(p.wren, second, "Post the next one"); form.Modal == nil || form.Modal.Fields[2].Value != "range" {
		t.Errorf("last time's ball is not in the form: %+v", form.Modal)
	}
	task := func(who *standin.User, want string) {
		t.Helper()
		out := p.press(who, p.pinned(p.wrens), "My task")
		p.must(t)
		if out.Ephemeral || !strings.Contains(out.Text, want) {
			t.Errorf("the task, asked by %s: %q, want something with %q", who.Name, out.Text, want)
		}
	}
	task(p.wren, "No task is set")
	p.slash(p.coach, p.wrens, "brief", standin.Options{"text": "face within 2, 7-iron, 40 balls"})
	task(p.wren, "40 balls")
	task(p.coach, "40 balls")
	for _, who := range []*standin.User{p.wren, p.coach} {
		if out := p.press(who, p.pinned(p.wrens), "How am I doing"); out.Ephemeral || out.Picture() == nil {
			t.Errorf("%s asks how Wren is doing: %q", who.Name, out.Text)
		}
	}
	wants(t, p, "the coach posts with her button", p.press(p.coach, p.pinned(p.wrens), "Post a session"), "Only the one who hit the balls")
	for _, label := range []string{"My task", "How am I doing"} {
		out := p.press(p.odell, p.pinned(p.wrens), label)
		wants(t, p, "another member presses "+label, out, "not yours to see")
		if !out.Ephemeral {
			t.Errorf("everybody sees what another member is told of %s", label)
		}
	}
	if got := p.sessionsOf(p.wren); got != 2 {
		t.Errorf("%d sessions are kept, want 2", got)
	}
}

// An event that comes several times opens one form, and a form that comes
// several times is one session with one answer.
func TestFormsComeTwice(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	p.st.Repeat(2)
	defer p.st.Repeat(0)
	out := p.handOver(p.wren, p.pinned(p.wrens), "Post a session", "wren-1-first.csv", nil)
	p.must(t)
	answers := 0
	for _, m := range p.wrens.Messages(p.wren) {
		if m.Picture() != nil {
			answers++
		}
	}
	if got := p.sessionsOf(p.wren); got != 1 || answers != 1 {
		t.Errorf("%d sessions and %d answers, want one of each: %q", got, answers, out.Text)
	}
}

// The intake keeps a form's file: the bot is killed while it waits for it, and
// the next run fetches and reads it.
func TestKilledOverAFormsFile(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	st := gather(t, 1)
	wren, db := st.people[0], pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db"))
	p := serveProcess(t, st.Stand, db)
	defer func() { p.kill() }()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	form, err := wren.Slash(ctx, st.practice, "post", nil)
	if err != nil || form.Modal == nil {
		t.Fatalf("%+v, %v", form, err)
	}
	hang := st.Break(standin.Rule{Path: "/attachments/", Delay: 20 * time.Second})
	done := make(chan *standin.Outcome, 1)
	go func() {
		out, err := wren.Submit(ctx, form.Modal, map[string]string{"ball": "range", "note": "windy"}, standin.File{Name: "first.csv", Bytes: session})
		if err != nil {
			t.Errorf("the form: %v", err)
		}
		done <- out
	}()
	for end := time.Now().Add(20 * time.Second); st.Hits(hang) == 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("the file is not asked for\n%s", p.log)
		}
	}
	p.kill()
	left := openKept(t, db)
	open, err := left.Unfinished(ctx)
	if err != nil || len(open) != 1 {
		t.Fatalf("%d requests are unfinished, %v", len(open), err)
	}
	var r bot.Request
	if err := json.Unmarshal(open[0].Body, &r); err != nil || r.Files[r.Fields["file"]].Name != "first.csv" || r.Files[r.Fields["file"]].URL == "" {
		t.Errorf("the intake kept %+v, %v", r, err)
	}
	if err := left.Close(); err != nil {
		t.Fatal(err)
	}
	st.Heal()
	p = serveProcess(t, st.Stand, db)
	out := <-done
	if out.Picture() == nil || !strings.Contains(out.Text, "because the face pointed") {
		t.Errorf("answered with %q\n%s", out.Text, p.log)
	}
}

// Where the bot may not pin, the message stands unpinned and the coach is told
// once; it goes with the consent, and with everything else that is deleted.
func TestUnpinnedIsSaid(t *testing.T) {
	p := rehearse(t)
	p.wrens.Deny(standin.PinMessages)
	p.setUp()
	p.tick()
	p.must(t)
	buttons := func(thread *standin.Channel) (all []standin.Message) {
		for _, m := range thread.Messages(p.coach) {
			if slices.Contains(m.Labels(), "My task") {
				all = append(all, m)
			}
		}
		return all
	}
	told := func() (n int) {
		for _, m := range p.coach.Direct().Messages(p.coach) {
			if strings.Contains(m.Text, "Pin Messages") && strings.Contains(m.Text, "<#"+p.wrens.ID+">") {
				n++
			}
		}
		return n
	}
	if all := buttons(p.wrens); len(all) != 1 || all[0].Pinned || told() != 1 {
		t.Errorf("Wren's thread: %+v, the coach was told %d times", all, told())
	}
	if all := buttons(p.tamsins); len(all) != 1 || !all[0].Pinned {
		t.Errorf("Tamsin's thread: %+v", all)
	}
	mine := p.slash(p.wren, p.practice, "mine consent", nil)
	p.press(p.wren, mine, "Take it back")
	p.press(p.tamsin, p.press(p.tamsin, p.slash(p.tamsin, p.practice, "mine forget", nil), "Delete it all"), "Yes, delete it all")
	p.tick()
	p.must(t)
	for _, thread := range []*standin.Channel{p.wrens, p.tamsins} {
		if all := buttons(thread); len(all) != 0 {
			t.Errorf("in %s stands %+v", thread.Name, all)
		}
	}
}
