package bot

import "testing"

// Taking consent back does not wait; giving it, and everything that must keep
// its order, does.
func TestUrgent(t *testing.T) {
	b := &Bot{}
	for _, c := range []struct {
		r    Request
		want bool
	}{
		{Request{Kind: PressRequest, Path: path("consent", "8f3k", "end")}, true},
		{Request{Kind: CommandRequest, Command: "mine consent"}, true},
		{Request{Kind: PressRequest, Path: path("consent", "8f3k", "give")}, false},
		{Request{Kind: PressRequest, Path: path("forget", "8f3k")}, false},
		{Request{Kind: PressRequest, Path: path("leave")}, false},
		{Request{Kind: PressRequest, Path: "v1/consent"}, false},
		{Request{Kind: CommandRequest, Command: "post"}, false},
		{Request{Kind: CompletionAsk, Command: "mine consent"}, false},
	} {
		if got := b.Urgent(c.r); got != c.want {
			t.Errorf("Urgent(%s %q%q) = %v, want %v", c.r.Kind, c.r.Command, c.r.Path, got, c.want)
		}
	}
}
