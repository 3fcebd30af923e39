package discord_test

import (
	"errors"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// A thread is private, with the people in it who are there, and is found again
// rather than opened once more; where the bot may not it says so.
func TestThreadIsOpened(t *testing.T) {
	s := stage(t, &talk{handle: say("")}, standin.Config{}, discord.Config{})
	coach, other := s.server.Join(s.User("Coach")), s.server.Join(s.User("Tamsin"))
	want := bot.Thread{Server: s.server.ID, Channel: s.place.ID, Name: "Wren", People: []string{s.wren.ID, s.User("who left").ID, coach.ID}, Since: time.Now()}
	id, err := s.adapter.Open(s.ctx, want)
	if err != nil {
		t.Fatal(err)
	}
	for who, sees := range map[*standin.User]bool{s.wren: true, coach: true, other: false, s.Bot(): true} {
		if there := s.place.ThreadCalled("Wren", who) != nil; there != sees {
			t.Errorf("%s sees it: %v", who.Name, there)
		}
	}
	if again, err := s.adapter.Open(s.ctx, want); err != nil || again != id {
		t.Errorf("asked again: %s, %v, want %s", again, err, id)
	}
	// Wanted anew much later it is another one, and so is one of another channel.
	later, elsewhere := want, want
	later.Since = time.Now().Add(time.Hour)
	elsewhere.Channel = s.server.Channel("elsewhere").ID
	for _, w := range []bot.Thread{later, elsewhere} {
		if other, err := s.adapter.Open(s.ctx, w); err != nil || other == id {
			t.Errorf("another one: %s, %v", other, err)
		}
	}
	s.place.Deny(standin.PrivateThreads)
	later.Name = "Tamsin"
	if _, err := s.adapter.Open(s.ctx, later); !errors.Is(err, bot.ErrNoChannel) {
		t.Errorf("without the permission: %v, want ErrNoChannel", err)
	}
	later.Channel = s.place.ThreadCalled("Wren", s.wren).ID
	if _, err := s.adapter.Open(s.ctx, later); !errors.Is(err, bot.ErrRefused) && !errors.Is(err, bot.ErrNoChannel) {
		t.Errorf("in a thread: %v, want a refusal", err)
	}
}
