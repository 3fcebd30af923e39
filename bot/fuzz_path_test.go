package bot

import (
	"testing"
	"time"
)

// Whatever a custom id says, it is acknowledged from memory, in one of the four
// ways, and never panics; only taking consent back is urgent.
func FuzzPath(f *testing.F) {
	for _, r := range routes() {
		f.Add(path(r.name, make([]string, r.args)...))
	}
	f.Add("v1/consent/8f3k/end")
	f.Add("v1//")
	b := &Bot{known: &known{}, now: time.Now}
	f.Fuzz(func(t *testing.T, p string) {
		for _, kind := range []RequestKind{PressRequest, ChooseRequest, SubmitRequest} {
			r := Request{ID: "1", Kind: kind, Path: p, Server: "1", Channel: "2", Asker: Person{ID: "3"}}
			switch a := b.Ack(r); a {
			case AckPublic, AckPrivate, AckUpdate, AckImmediate:
			default:
				t.Errorf("%q is acknowledged as %q", p, a)
			}
			route, args, err := findRoute(p)
			if b.Urgent(r) && (err != nil || route.name != "consent" || args[1] != "end") {
				t.Errorf("%q is urgent", p)
			}
		}
	})
}
