package discord

import (
	"fmt"
	"strings"
	"testing"

	"rangepost/bot"
)

// Labels, menus, titles, file names and alt texts are shown as they are, so
// nothing that cannot be seen is in them; text is markdown and keeps it.
func TestNothingUnseen(t *testing.T) {
	const odd = "a\u200bb\u202ec"
	p := payloadOf(bot.Reply{
		Text:    odd,
		Picture: &bot.Picture{Name: odd, PNG: []byte("x"), Alt: odd},
		Files:   []bot.File{{Name: odd}},
		Rows: []bot.Row{
			{Buttons: []bot.Button{{Label: odd}}},
			{Menu: &bot.Menu{Placeholder: odd, Choices: []bot.Choice{{Text: odd}}}},
		},
	})
	if p.Content != odd {
		t.Errorf("content %q, want %q", p.Content, odd)
	}
	modal := modalOf(&bot.Modal{Title: odd, Fields: []bot.Field{{Label: odd, Placeholder: odd}}})
	shown := fmt.Sprint(p.Attachments, string(jsonBody(p.Components).bytes), string(jsonBody(modal).bytes),
		string(jsonBody(completionOf([]bot.Choice{{Text: odd}})).bytes), string(p.body().bytes[strings.Index(string(p.body().bytes), "files[0]"):]))
	if strings.ContainsAny(shown, "\u200b\u202e") || strings.Count(shown, "abc") < 9 {
		t.Errorf("shown as %q", shown)
	}
}
