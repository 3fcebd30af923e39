package standin

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// declared is a stand-in on which commands are registered, with nobody to answer
// them.
func declared(t *testing.T, commands string) (s *Stand, c *Channel, wren, steward *User) {
	t.Helper()
	s = open(t, Config{})
	if err := json.Unmarshal([]byte(commands), &s.commands); err != nil {
		t.Fatal(err)
	}
	srv := s.Server("Saltmarsh Links")
	wren = srv.Join(s.User("Wren"))
	steward = srv.Join(s.User("Steward"), srv.Role("Stewards", ManageServer))
	return s, srv.Channel("practice"), wren, steward
}

// The platform's client offers a command only to whom and where it is declared
// for (Discord documentation, "Application Command Permissions", "Contexts").
func TestOfferedCommands(t *testing.T) {
	_, c, wren, steward := declared(t, `[
		{"name": "post", "contexts": [0, 1]},
		{"name": "clubhouse", "contexts": [0], "default_member_permissions": "32", "options": [{"type": 1, "name": "show"}]}
	]`)
	for _, o := range []struct {
		who     *User
		where   *Channel
		command string
		want    bool
	}{
		{wren, c, "post", true},
		{wren, wren.Direct(), "post", true},
		{wren, c, "clubhouse show", false},
		{steward, c, "clubhouse show", true},
		{steward, steward.Direct(), "clubhouse show", false},
		{steward, c, "nothing", false},
	} {
		if got := o.who.Sees(o.where, o.command); got != o.want {
			t.Errorf("%s sees /%s in %s: %t", o.who.Name, o.command, o.where.Label(), got)
		}
		if _, err := o.who.Slash(t.Context(), o.where, o.command, nil); (err == nil) != o.want {
			t.Errorf("%s uses /%s in %s: %v", o.who.Name, o.command, o.where.Label(), err)
		}
	}
}

func TestTooLargeFileIsNotSent(t *testing.T) {
	_, c, wren, _ := declared(t, `[{"name": "post", "options": [{"type": 11, "name": "file"}]}]`)
	_, err := wren.Slash(t.Context(), c, "post", Options{"file": File{Name: "bay.csv", Bytes: make([]byte, maxFile+1)}})
	if err == nil || !strings.Contains(err.Error(), "larger than the platform takes") {
		t.Errorf("a file that is too large: %v", err)
	}
	if _, err := wren.Slash(t.Context(), c, "post", Options{"file": File{Name: "bay.csv", Bytes: make([]byte, maxFile)}}); err != nil {
		t.Errorf("one that just fits: %v", err)
	}
}

// What somebody did is told as they saw it: buttons and choices by their texts,
// whatever stands for those on the wire.
func TestToldAsSeen(t *testing.T) {
	s, c, wren, _ := declared(t, `[{"name": "sets", "options": [{"type": 3, "name": "session", "autocomplete": true}]}]`)
	s.mu.Lock()
	m := &message{channel: c, author: s.botUser, content: "which?", components: json.RawMessage(`[
		{"type": 1, "components": [{"type": 2, "style": 2, "label": "Figures", "custom_id": "v1/figures"}]},
		{"type": 1, "components": [{"type": 3, "custom_id": "v1/answer", "options": [{"label": "Right of target", "value": "r"}]}]}
	]`)}
	s.add(m)
	s.mu.Unlock()
	seen := c.Messages(wren)[0]
	for _, did := range []struct {
		what string
		do   func(context.Context) (*Outcome, error)
	}{
		{"[Figures]", func(ctx context.Context) (*Outcome, error) { return wren.Press(ctx, &seen, "v1/figures") }},
		{"[Right of target]", func(ctx context.Context) (*Outcome, error) { return wren.Choose(ctx, &seen, "", "r") }},
		{"/sets session: 1 June, 7-iron", func(ctx context.Context) (*Outcome, error) {
			return wren.Slash(ctx, c, "sets", Options{"session": Choice{"8f3k", "1 June, 7-iron"}})
		}},
	} {
		if _, err := did.do(t.Context()); err != nil {
			t.Fatalf("%s: %v", did.what, err)
		}
		told := s.Transcript()
		last := told[len(told)-1] // but for what the platform says then
		if last.Kind == Unsettled {
			last = told[len(told)-2]
		}
		if last.Text != did.what {
			t.Errorf("told as %q, want %q", last.Text, did.what)
		}
	}
}

// A lean stand-in forgets what only tests ask for.
func TestLean(t *testing.T) {
	s := open(t, Config{Lean: true})
	wren := s.User("Wren")
	wren.Say(wren.Direct(), "hello")
	send(t, s, "GET", "/users/@me", "", nil)
	if len(s.Transcript())+len(s.Requests()) > 0 {
		t.Errorf("it keeps %d entries and %d requests", len(s.Transcript()), len(s.Requests()))
	}
}
