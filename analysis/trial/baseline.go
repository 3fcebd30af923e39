package trial

import (
	"strings"

	"rangepost/analysis"
)

// BaselineIndex is the set with the given label; case and spaces at the ends
// do not matter. With no label it is the usual one (analysis.UsualSet). ok is
// false when no set has the label.
func BaselineIndex(sets []analysis.Set, label string) (i int, ok bool) {
	label = strings.TrimSpace(label)
	if label == "" {
		i = analysis.UsualSet(sets)
		return max(i, 0), i >= 0
	}
	for i, s := range sets {
		if strings.EqualFold(strings.TrimSpace(s.Label), label) {
			return i, true
		}
	}
	return 0, false
}
