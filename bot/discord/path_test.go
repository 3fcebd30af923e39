package discord_test

import (
	"bytes"
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

func check(t *testing.T, s *scene) {}

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
}
