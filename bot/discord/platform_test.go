package discord_test

import (
	"fmt"
	"testing"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// A message sent directly is found again among the bot's latest, long after the
// platform has forgotten its nonce; what was not sent is not, nor what others
// wrote.
func TestSentIsFoundAgain(t *testing.T) {
	s := stage(t, &talk{handle: say("")}, standin.Config{}, discord.Config{})
	sent := func(want string) bool {
		t.Helper()
		there, err := s.adapter.Sent(s.ctx, s.wren.ID, func(text string) bool { return text == want })
		if err != nil {
			t.Fatal(err)
		}
		return there
	}
	const digest = "Your students since 1 June 2026:\n**Wren**: 1 post."
	if sent(digest) {
		t.Error("found before it was sent")
	}
	if err := s.adapter.Direct(s.ctx, s.wren.ID, "digest", bot.Reply{Text: digest}); err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		if err := s.adapter.Direct(s.ctx, s.wren.ID, fmt.Sprint(i), bot.Reply{Text: fmt.Sprint("message ", i)}); err != nil {
			t.Fatal(err)
		}
	}
	if !sent(digest) || !sent("message 2") {
		t.Error("not found again")
	}
	if sent("Your students since 8 June 2026:\n**Wren**: 1 post.") {
		t.Error("found without having been sent")
	}
}
