package report

import (
	"testing"

	"rangepost/analysis"
)

// A label that cannot be seen whole is named without an escape of Go's.
func TestNames(t *testing.T) {
	got := names([]analysis.Set{{Label: "a\u200bb"}, {Label: "c"}, {}})
	if want := `"ab", "c" and the one without a name`; got != want {
		t.Errorf("names() = %s, want %s", got, want)
	}
}
