package discord_test

import (
	"errors"
	"testing"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

func TestNoticesArePostedAndWrittenAnew(t *testing.T) {
	s := stage(t, &talk{handle: say("")}, standin.Config{}, discord.Config{})
	first := bot.Reply{Text: "Standings", Picture: &bot.Picture{Name: "one.png", PNG: picture(), Alt: "one"}}
	id, err := s.adapter.Put(s.ctx, s.place.ID, "nonce", first)
	if err != nil {
		t.Fatal(err)
	}
	again, err := s.adapter.Put(s.ctx, s.place.ID, "nonce", first)
	if err != nil || again != id {
		t.Errorf("the same nonce is message %q, %v, want %q", again, err, id)
	}
	second := bot.Reply{
		Text: "Standings, newer", Picture: &bot.Picture{Name: "two.png", PNG: picture(), Alt: "two"},
		Rows: []bot.Row{{Buttons: []bot.Button{{Path: "v1/enter/x", Label: "Enter"}}}},
	}
	if err := s.adapter.Edit(s.ctx, s.place.ID, id, second); err != nil {
		t.Fatal(err)
	}
	seen := s.place.Messages(s.wren)
	if len(seen) != 1 || seen[0].Text != second.Text || len(seen[0].Files) != 1 || seen[0].Files[0].Alt != "two" || len(seen[0].Labels()) != 1 {
		t.Fatalf("%+v", seen)
	}

	s.Remove(&seen[0])
	if err := s.adapter.Edit(s.ctx, s.place.ID, id, second); !errors.Is(err, bot.ErrNoMessage) {
		t.Errorf("a message a moderator deleted: %v, want ErrNoMessage", err)
	}
	closed := s.server.Channel("closed")
	closed.Deny(standin.SendMessages)
	gone := s.server.Channel("gone")
	gone.Delete()
	for _, c := range []*standin.Channel{closed, gone} {
		if _, err := s.adapter.Put(s.ctx, c.ID, "n", first); !errors.Is(err, bot.ErrNoChannel) {
			t.Errorf("in #%s: %v, want ErrNoChannel", c.Name, err)
		}
	}
	if err := s.adapter.Edit(s.ctx, gone.ID, id, second); !errors.Is(err, bot.ErrNoChannel) {
		t.Errorf("in a channel that is gone: %v, want ErrNoChannel", err)
	}
	s.Break(standin.Rule{Status: 500, Path: "/messages", Times: 1})
	if _, err := s.adapter.Put(s.ctx, s.place.ID, "other", first); err != nil {
		t.Errorf("after one server error: %v", err)
	}
}
