package analysis

import "strings"

// usualLabels are labels that golfers give the set they compare with.
var usualLabels = map[string]bool{
	"": true, "normal": true, "usual": true, "as usual": true, "as ever": true, "baseline": true, "neutral": true,
	"control": true, "before": true, "standard": true,
}

// UsualLabel reports whether a label is one that golfers give the set they compare
// with, or none.
func UsualLabel(label string) bool { return usualLabels[strings.ToLower(strings.TrimSpace(label))] }

// UsualSet is the index of the set that was hit as usual, among sets with one
// club: the first whose label is missing or says so ("normal", "baseline"), or
// else the first. -1 without any.
func UsualSet(sets []Set) int {
	for i, s := range sets {
		if UsualLabel(s.Label) {
			return i
		}
	}
	return min(0, len(sets)-1)
}

// Setup says how a ball was set up for, among the balls of its club.
type Setup uint8

// The setups.
const (
	Only  Setup = iota // there is but one
	Usual              // as usual, beside a set for which it was otherwise
	Tried              // otherwise than usual
)

// Setups says how each shot of a session was set up for.
func (s Session) Setups() []Setup {
	clubs := map[Club][]Set{}
	for _, set := range s.Sets() {
		clubs[set.Club] = append(clubs[set.Club], set)
	}
	usual := map[Club]string{} // looked for once a club: a file may have thousands of sets
	for club, sets := range clubs {
		usual[club] = sets[UsualSet(sets)].Label
	}
	setups := make([]Setup, len(s.Shots))
	for i, shot := range s.Shots {
		switch {
		case len(clubs[shot.Club]) == 1:
		case shot.Label == usual[shot.Club]:
			setups[i] = Usual
		default:
			setups[i] = Tried
		}
	}
	return setups
}
