package export

import (
	"fmt"

	"rangepost/analysis"
)

// maxSmash is the most ball speed a club speed can give: the rules' limit of
// restitution with the heaviest usual head gives about 1.52; the rest is the
// noise of two measured speeds.
const maxSmash = 1.56

func setAside(r *Reading) {
	for i, s := range r.Session.Shots {
		if why := impossible(s); why != "" {
			s.Aside, s.Why = analysis.Impossible, why
		}
		r.Session.Shots[i] = s
	}
}

func impossible(s analysis.Shot) string {
	if v, ok := s.Value(analysis.Smash); ok && v > maxSmash {
		return fmt.Sprintf("ball speed is %.2f times club speed; %.2f is the most a ball takes", v, maxSmash)
	}
	return ""
}
