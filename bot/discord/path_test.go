package discord_test

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// A command with a file goes in through the gateway, the bytes come from the
// file server, and text, picture, alt text and buttons come out.
func TestSlashCommandWithFile(t *testing.T) {
	var got bot.Request
	var read []byte
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	fetch := discord.NewFetcher(discord.FetchConfig{Hosts: []string{s.CDNHost()}})
	tk.handle = func(ctx context.Context, r bot.Request) bot.Reply {
		got = r
		b, err := fetch(ctx, r.Files[r.Options["file"]])
		if err != nil {
			return bot.Reply{Text: err.Error()}
		}
		read = b
		return bot.Reply{
			Text:    "Read one shot.",
			Picture: &bot.Picture{Name: "post.png", PNG: picture(), Alt: "One shot, 150 yards, straight."},
			Rows:    []bot.Row{{Buttons: []bot.Button{{Path: "v1/post/1/cause", Label: "Cause", Style: bot.Main}}}},
		}
	}
	out, err := s.wren.Slash(s.ctx, s.place, "post", standin.Options{"file": session, "club": "7i", "balls": 12})
	if err != nil {
		t.Fatalf("%v\n%s", err, s.log)
	}
	if out.Text != "Read one shot." || !out.Ephemeral {
		t.Errorf("Wren sees %q, ephemeral %v", out.Text, out.Ephemeral)
	}
	if p := out.Picture(); p == nil || p.Alt != "One shot, 150 yards, straight." || !bytes.Equal(p.Bytes, picture()) {
		t.Errorf("picture = %+v", p)
	}
	if diff := cmp.Diff([]string{"Cause"}, out.Labels()); diff != "" {
		t.Error(diff)
	}
	if !bytes.Equal(read, session.Bytes) {
		t.Errorf("the bot read %q", read)
	}
	if got.Command != "post" || got.Options["club"] != "7i" || got.Options["balls"] != "12" || got.Asker.Name != "Wren" || got.Manager || got.Server != s.server.ID || got.Channel != s.place.ID {
		t.Errorf("request = %+v", got)
	}
	s.settled()
}

// Each way of asking arrives as the request it is, with the asker's standing
// taken from that very event.
func TestRequests(t *testing.T) {
	seen := make(chan bot.Request, 1)
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	coach := s.server.Role("Coach", 0)
	tamsin := s.server.Join(s.User("Tamsin"), coach, s.server.Role("Manager", standin.ManageServer))
	form := &bot.Modal{Path: "v1/sets/1", Title: "Label the balls", Fields: []bot.Field{
		{ID: "labels", Label: "Which balls", Value: "1-10 normal", Placeholder: "1-10 normal", Long: true, Required: true, Max: 200},
		{Kind: bot.FileField, ID: "file", Label: "The file", Hint: "At most 10 MB"},
		{Kind: bot.ChoiceField, ID: "ball", Label: "The ball", Value: "range", Choices: []bot.Choice{{Value: "new", Text: "new"}, {Value: "range", Text: "from the range"}}},
		{Kind: bot.FileField, ID: "other", Label: "Another one", Required: true},
		{Kind: bot.ChoiceField, ID: "club", Label: "The club", Required: true, Choices: []bot.Choice{{Value: "7i", Text: "7 iron"}}},
	}}
	tk.ack = func(r bot.Request) bot.Ack {
		switch {
		case r.Kind == bot.CompletionAsk, r.Path == "v1/open":
			return bot.AckImmediate
		case r.Kind == bot.PressRequest, r.Kind == bot.ChooseRequest, r.Kind == bot.SubmitRequest:
			return bot.AckUpdate
		}
		return bot.AckPublic
	}
	tk.handle = func(_ context.Context, r bot.Request) bot.Reply {
		seen <- r
		switch {
		case r.Kind == bot.CompletionAsk:
			return bot.Reply{Choices: []bot.Choice{{Value: "7i", Text: "7 iron"}}}
		case r.Path == "v1/open":
			return bot.Reply{Modal: form}
		}
		return bot.Reply{
			Text: "kind " + string(r.Kind),
			Rows: []bot.Row{
				{Buttons: []bot.Button{{Path: "v1/cause", Label: "Cause"}, {Path: "v1/open", Label: "Sets"}}},
				{Menu: &bot.Menu{Path: "v1/which", Choices: []bot.Choice{{Value: "a", Text: "First"}, {Value: "b", Text: "Second"}}}},
			},
		}
	}
	must := func(out *standin.Outcome, err error) *standin.Outcome {
		t.Helper()
		if err != nil {
			t.Fatalf("%v\n%s", err, s.log)
		}
		if out.Failed != "" {
			t.Fatalf("%s\n%s", out.Failed, s.log)
		}
		return out
	}

	out := must(tamsin.Slash(s.ctx, s.place, "bind", standin.Options{"student": s.wren}))
	r := <-seen
	if r.Kind != bot.CommandRequest || r.Options["student"] != s.wren.ID || r.People[s.wren.ID].Name != "Wren" {
		t.Errorf("bind: %+v", r)
	}
	if !r.Manager || !cmp.Equal(r.Roles[:1], []string{coach.ID}) {
		t.Errorf("Tamsin's standing: manager %v, roles %v", r.Manager, r.Roles)
	}
	if out.Ephemeral {
		t.Error("a public acknowledgement gave a private answer")
	}

	must(s.wren.Slash(s.ctx, s.place, "mine export", nil))
	if r := <-seen; r.Command != "mine export" {
		t.Errorf("subcommand: %q", r.Command)
	}

	said := s.odell.Say(s.place, "from this morning", session)
	must(tamsin.Use(s.ctx, said, "Read this session"))
	r = <-seen
	if r.Kind != bot.MessageRequest || r.Message.Author.Name != "Odell" || len(r.Message.Files) != 1 || r.Message.Files[0].Name != session.Name {
		t.Errorf("message command: %+v", r)
	}

	pressed := must(s.wren.Press(s.ctx, &out.Message, "Cause"))
	if r := <-seen; r.Kind != bot.PressRequest || r.Path != "v1/cause" || r.Asker.Name != "Wren" || r.Manager {
		t.Errorf("press: %+v", r)
	}
	if pressed.ID != out.ID || pressed.Text != "kind press" {
		t.Errorf("the press changed another message: %+v", pressed.Message)
	}

	must(s.wren.Choose(s.ctx, &out.Message, "", "Second"))
	if r := <-seen; r.Kind != bot.ChooseRequest || r.Path != "v1/which" || !cmp.Equal(r.Values, []string{"b"}) {
		t.Errorf("choose: %+v", r)
	}

	opened := must(s.wren.Press(s.ctx, &out.Message, "Sets"))
	<-seen
	if opened.Modal == nil || opened.Modal.Title != "Label the balls" || opened.Modal.Fields[0].Label != "Which balls" {
		t.Fatalf("form: %+v", opened.Modal)
	}
	fields := opened.Modal.Fields
	if f := fields[1]; f.Files != 1 || f.Required || f.Hint != "At most 10 MB" {
		t.Errorf("the field of a file: %+v", f)
	}
	if f := fields[2]; f.Value != "range" || f.Required || len(f.Choices) != 2 {
		t.Errorf("the field of a choice: %+v", f)
	}
	opened.Modal.Fields = append(fields[:3:3], fields[4]) // the other file was the same again
	must(s.wren.Submit(s.ctx, opened.Modal, map[string]string{"labels": "1-5 normal, 6-10 strong", "club": "7i"}, session))
	r = <-seen
	if r.Kind != bot.SubmitRequest || r.Path != "v1/sets/1" || r.Fields["labels"] != "1-5 normal, 6-10 strong" || r.Fields["ball"] != "range" || r.Fields["club"] != "7i" {
		t.Errorf("submit: %+v", r)
	}
	if f := r.Files[r.Fields["file"]]; f.Name != session.Name || f.Size != int64(len(session.Bytes)) || f.URL == "" {
		t.Errorf("the form's file: %+v of %+v", f, r.Files)
	}
	opened.Modal.Fields = fields[:3]
	must(s.wren.Submit(s.ctx, opened.Modal, map[string]string{"labels": "all", "ball": ""}))
	if r := <-seen; r.Fields["file"] != "" || r.Fields["ball"] != "" || len(r.Files) != 0 {
		t.Errorf("a form with nothing but text: %+v", r)
	}

	offers, err := s.wren.Complete(s.ctx, s.place, "post", nil, "club", "7")
	if err != nil {
		t.Fatalf("%v\n%s", err, s.log)
	}
	if r := <-seen; r.Kind != bot.CompletionAsk || r.Focused != "club" || r.Options["club"] != "7" {
		t.Errorf("complete: %+v", r)
	}
	if diff := cmp.Diff([]standin.Choice{{Value: "7i", Text: "7 iron"}}, offers); diff != "" {
		t.Error(diff)
	}

	must(s.wren.Slash(s.ctx, s.wren.Direct(), "mine export", nil))
	if r := <-seen; r.Server != "" || r.Asker.Name != "Wren" {
		t.Errorf("direct: %+v", r)
	}

	answer := must(s.odell.Ask(s.ctx, s.place, "@Rangepost please", session))
	if r := <-seen; r.Kind != bot.MentionRequest || len(r.Message.Files) != 1 || r.Server != s.server.ID {
		t.Errorf("mention: %+v", r)
	}
	if answer.ReplyTo == "" || len(answer.Told) != 0 {
		t.Errorf("the answer to a mention: %+v", answer.Message)
	}
	must(s.odell.Ask(s.ctx, s.odell.Direct(), "here", session))
	if r := <-seen; r.Kind != bot.MentionRequest || r.Server != "" {
		t.Errorf("direct file: %+v", r)
	}

	// What is not meant for the bot does not reach it.
	s.odell.Say(s.place, "no mention", session)
	s.odell.Say(s.place, "@Rangepost no file")
	must(s.wren.Slash(s.ctx, s.place, "mine export", nil))
	if r := <-seen; r.Command != "mine export" {
		t.Errorf("a message not meant for the bot arrived: %+v", r)
	}
	s.settled()
}

// Nobody but the asker sees what is private, whatever was promised when it was
// acknowledged.
func TestPrivateAfterPublic(t *testing.T) {
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	tk.ack = func(r bot.Request) bot.Ack {
		if r.Kind == bot.PressRequest {
			return bot.AckUpdate
		}
		return bot.AckPublic
	}
	private := false
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		return bot.Reply{Text: "Row 14 is no number.", Private: private, Rows: []bot.Row{{Buttons: []bot.Button{{Path: "v1/x", Label: "Cause"}}}}}
	}
	public, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	private = true
	before := len(s.place.Messages(s.odell))
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	if !out.Ephemeral || out.Text != "Row 14 is no number." {
		t.Errorf("Wren sees %+v", out.Message)
	}
	out, err = s.odell.Press(s.ctx, &public.Message, "Cause")
	if err != nil {
		t.Fatal(err)
	}
	if !out.Ephemeral || out.ID == public.ID {
		t.Errorf("Odell's press: %+v", out.Message)
	}
	others := s.place.Messages(s.User("Priya"))
	if len(others) != before {
		t.Errorf("others see %d messages, want %d", len(others), before)
	}
	s.settled()
}

// A private answer to a mention goes to the asker directly. Somebody who takes
// no direct messages is told so, and nothing of the answer shows.
func TestPrivateMention(t *testing.T) {
	tk := &talk{handle: say("Your numbers: 12, 14.")}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	out, err := s.wren.Ask(s.ctx, s.place, "@Rangepost", session)
	if err != nil {
		t.Fatal(err)
	}
	if out.Channel != s.wren.Direct() || !answers(out.Text, "Your numbers: 12, 14.") || !strings.HasPrefix(out.Text, "Your message with wren-7i.") {
		t.Errorf("Wren sees %+v", out.Message)
	}
	s.odell.RefuseDirect()
	out, err = s.odell.Ask(s.ctx, s.place, "@Rangepost", session)
	if err != nil {
		t.Fatal(err)
	}
	if out.Channel != s.place || !strings.Contains(out.Text, "cannot send you direct messages") || strings.Contains(out.Text, "numbers") || !cmp.Equal(out.Told, []string{"Odell"}) {
		t.Errorf("Odell sees %+v", out.Message)
	}
	s.settled()
}

// Text cannot call everybody: nobody is told of a message but those the reply
// names.
func TestMentions(t *testing.T) {
	tk := &talk{ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	tk.handle = func(_ context.Context, r bot.Request) bot.Reply {
		return bot.Reply{Text: "@everyone <@" + s.odell.ID + "> <@" + s.wren.ID + ">", Notify: []string{s.wren.ID}}
	}
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	if out.Loud || !cmp.Equal(out.Told, []string{"Wren"}) {
		t.Errorf("told: %v, everybody: %v", out.Told, out.Loud)
	}
}

// Messages to other channels go out before the reply, and the reply says which
// could not be posted and why.
func TestAlso(t *testing.T) {
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	thread, closed := s.place.Thread("Wren's lessons"), s.server.Channel("closed")
	closed.Deny(standin.SendMessages)
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		return bot.Reply{Text: "Asked.", Also: []bot.Notice{
			{Channel: thread.ID, Reply: bot.Reply{Text: "Wren, is this yours?"}},
			{Channel: closed.ID, Reply: bot.Reply{Text: "x"}},
		}}
	}
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.Text, "Asked.") || !strings.Contains(out.Text, "I could not post in <#"+closed.ID+">: I need the permissions") {
		t.Errorf("Wren sees %q", out.Text)
	}
	if ms := thread.Messages(s.wren); len(ms) != 1 || ms[0].Text != "Wren, is this yours?" {
		t.Errorf("thread: %+v", ms)
	}
}

// A message to another channel that does not get through soon holds up nobody,
// and is not given up: the reply says so, and the message comes later.
func TestAlsoIsOwed(t *testing.T) {
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{Also: 300 * time.Millisecond})
	thread := s.place.Thread("Wren's lessons")
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		return bot.Reply{Text: "Posted.", Also: []bot.Notice{{Channel: thread.ID, Reply: bot.Reply{Text: "Well struck."}}}}
	}
	s.Break(standin.Rule{Method: "POST", Path: "/channels/" + thread.ID + "/messages", Status: 522, Page: page, Times: 4})
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || !strings.HasPrefix(out.Text, "Posted.") || !strings.Contains(out.Text, "I could not post in <#"+thread.ID+"> yet, and go on trying.") {
		t.Fatalf("%v: %+v", err, out)
	}
	if _, err := thread.Await(s.ctx, s.wren, func(m *standin.Message) bool { return m.Text == "Well struck." }); err != nil {
		t.Fatalf("%v\n%s", err, s.log)
	}
	s.settled()
}

// A reply the platform refuses still brings its text.
func TestRefusedReply(t *testing.T) {
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		same := bot.Button{Path: "v1/same", Label: "Twice"}
		return bot.Reply{Text: "Your balls went right.", Rows: []bot.Row{{Buttons: []bot.Button{same, same}}}}
	}
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.Text, "Your balls went right.") || !strings.Contains(out.Text, "incident") {
		t.Errorf("Wren sees %q", out.Text)
	}
	s.settled()
}
