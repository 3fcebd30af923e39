package trial

import (
	"strings"

	"rangepost/analysis"
)

// Setups says which setup each of the sets of one club in one session was hit
// with, by their labels in order of first appearance: "" for the usual one, else
// the label, in lower case and without spaces at its ends. The usual one is the
// baseline of the sets (see BaselineIndex), and any set whose label is a usual
// one; a label that names a tool is never usual, and one set alone is unless it
// does.
func Setups(labels []string) []string {
	sets := make([]analysis.Set, len(labels))
	for i, l := range labels {
		sets[i].Label = l
	}
	baseline, _ := BaselineIndex(sets, "")
	setups := make([]string, len(labels))
	for i, l := range labels {
		l = strings.ToLower(strings.TrimSpace(l))
		if ToolOf(l) != "" || i != baseline && !usual[l] {
			setups[i] = l
		}
	}
	return setups
}
