package trial

import (
	"strings"

	"rangepost/analysis"
)

// usual are labels that golfers give the set they compare with.
var usual = map[string]bool{"": true, "normal": true, "usual": true, "as usual": true, "as ever": true, "baseline": true, "neutral": true, "control": true, "before": true, "standard": true}

// Usual reports whether a label is one that golfers give the set they compare
// with, or none.
func Usual(label string) bool { return usual[strings.ToLower(strings.TrimSpace(label))] }

// BaselineIndex is the set with the given label; case and spaces at the ends
// do not matter. With no label it is the first whose own label is missing or a
// usual one ("normal", "baseline"), or else the first. ok is false when no set
// has the label.
func BaselineIndex(sets []analysis.Set, label string) (i int, ok bool) {
	label = strings.TrimSpace(label)
	for i, s := range sets {
		own := strings.TrimSpace(s.Label)
		if label == "" && Usual(own) || label != "" && strings.EqualFold(own, label) {
			return i, true
		}
	}
	return 0, label == "" && len(sets) > 0
}
