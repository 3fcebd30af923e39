package analysis

import (
	"fmt"
	"strings"
)

// Hand is the side a golfer plays from. It decides words (open, closed,
// in-to-out) and never the sign of a stored number.
type Hand int8

// The two hands. The zero value is a right-handed golfer.
const (
	RightHanded Hand = iota
	LeftHanded
)

// ParseHand reads "right", "left", "r" or "l", in any case.
func ParseHand(s string) (Hand, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "right", "r", "right-handed":
		return RightHanded, nil
	case "left", "l", "left-handed":
		return LeftHanded, nil
	}
	return 0, fmt.Errorf("hand %q is neither left nor right", s)
}

func (h Hand) String() string {
	if h == LeftHanded {
		return "left"
	}
	return "right"
}

// Mirror is +1 for a right-handed golfer and -1 for a left-handed one. It
// turns a sideways number in the frame of the target into the golfer's own:
// open, in-to-out and away-from-the-body come out positive.
func (h Hand) Mirror() float64 {
	if h == LeftHanded {
		return -1
	}
	return 1
}
