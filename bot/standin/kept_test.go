package standin

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// What was said is there again in a world made the same way: to whom it was shown,
// its files, buttons and pins, the threads that were opened, and a message that is
// written anew after it.
func TestConversationIsKept(t *testing.T) {
	make := func() (*Stand, *Channel, *User, *User) {
		s := open(t, Config{Lean: true, Now: from(time.Date(2026, time.June, 1, 8, 0, 0, 0, time.UTC))})
		srv := s.Server("Saltmarsh Links")
		c := srv.Channel("practice")
		return s, c, srv.Join(s.User("Wren")), srv.Join(s.User("Coach"))
	}
	s, c, wren, coach := make()
	said := wren.Say(c, "@Coach this one", File{Name: "a.csv", Bytes: []byte("Carry\n150\n")})
	thread := c.PrivateThread("lessons", coach, wren)
	coach.Say(thread, "between us")
	wren.Say(wren.Direct(), "to the bot alone")
	s.mu.Lock()
	s.messages[said.ID].pinned = true
	s.messages[said.ID].components = []byte(`[{"type":1,"components":[{"type":2,"custom_id":"x/y","label":"Press","style":1}]}]`)
	s.add(&message{channel: c, author: s.botUser, viewer: s.users[wren.ID], content: "only yours", replyTo: s.messages[said.ID],
		origin: &interaction{id: "1", kind: kindCommand, user: s.users[wren.ID], words: "/post"}})
	s.add(&message{channel: c, author: s.botUser, loading: true})
	s.mu.Unlock()
	var b bytes.Buffer
	if err := s.Save(&b); err != nil {
		t.Fatal(err)
	}
	written := b.String()

	s2, c2, wren2, coach2 := make()
	if err := s2.Load(strings.NewReader(written)); err != nil {
		t.Fatal(err)
	}
	got := c2.Messages(wren2)
	if len(got) != 2 {
		t.Fatalf("Wren sees %d messages, want 2: %+v", len(got), got)
	}
	first, own := got[0], got[1]
	if !first.Pinned || len(first.Told) != 1 || first.Told[0] != "Coach" || len(first.Buttons) != 1 || string(first.Files[0].Bytes) != "Carry\n150\n" || !first.At.Equal(said.At) {
		t.Errorf("the message has become %+v", first)
	}
	if own.Viewer != "Wren" || own.Asker != "Wren" || own.Asked != "/post" || own.ReplyTo != first.Text {
		t.Errorf("the answer has become %+v", own)
	}
	if seen := c2.Messages(coach2); len(seen) != 1 {
		t.Errorf("the coach sees %d messages, one of them Wren's alone", len(seen))
	}
	again := c2.ThreadCalled("lessons", wren2)
	if again == nil || again.ID != thread.ID || len(again.Messages(coach2)) != 1 {
		t.Error("the thread or what was said in it is gone")
	}
	if direct := wren2.Direct(); direct.ID != wren.Direct().ID || len(direct.Messages(wren2)) != 1 {
		t.Error("what was said to the bot alone is gone")
	}
	if next := wren2.Say(c2, "and on"); !newer(next.ID, own.ID) {
		t.Errorf("a new message has id %s, older than %s", next.ID, own.ID)
	}
	if err := s2.Load(strings.NewReader(written[:len(written)/2])); err == nil {
		t.Error("half a conversation is taken for one")
	}
	if err := open(t, Config{}).Load(strings.NewReader(written)); err == nil || !strings.Contains(err.Error(), "another world") {
		t.Errorf("a conversation of people who are not there: %v", err)
	}
}

// from is a clock that goes on by a second at every look.
func from(at time.Time) func() time.Time {
	return func() time.Time { at = at.Add(time.Second); return at }
}
