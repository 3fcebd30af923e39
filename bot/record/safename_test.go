package record

import "testing"

// A posted name leads nowhere, and looks like nothing else, when unpacked.
func TestSafeName(t *testing.T) {
	for name, want := range map[string]string{
		"wren-7i.csv":             "wren-7i.csv",
		"../../wren.csv":          "_.._wren.csv",
		"wren\u202evsc.exe":       "wrenvsc.exe",
		"\u2066a\u2069\u200b.csv": "a.csv",
		"\u200b../x":              "_x",
	} {
		if got := safeName(name); got != want {
			t.Errorf("safeName(%q) = %q, want %q", name, got, want)
		}
	}
}
