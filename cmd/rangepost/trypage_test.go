package main

import (
	"testing"
)

// The page is looked at, with -shots DIR, as wide as a phone and as a desk, in
// the light and in the dark.
func TestTryLooks(t *testing.T) {
	v := visit(t)
	for _, width := range []struct {
		pixels int64
		name   string
	}{{360, "360"}, {1280, "1280"}} {
		v.wide(width.pixels)
		for _, scheme := range []string{"light", "dark"} {
			v.scheme(scheme)
			for _, p := range []struct{ path, name string }{
				{"/as/wren/in/wren", "wren"}, {"/as/coach/in/practice", "coach"}, {"/as/steward/in/challenges", "steward"},
			} {
				v.open(p.path)
				v.until("document.getElementById('conversation').children.length > 0")
				if w := ask[int64](v, "document.documentElement.scrollWidth"); w > width.pixels {
					t.Errorf("%s is %d pixels wide at %d", p.path, w, width.pixels)
				}
				v.shot(p.name + "-" + width.name + "-" + scheme)
			}
		}
	}
	v.content()
}
