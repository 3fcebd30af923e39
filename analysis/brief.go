package analysis

import (
	"strings"
	"time"
)

// A Brief is what a coach asks a student to work on: one number and its limits.
// A nil limit is open; one of the two is set.
type Brief struct {
	Number    Number
	Low, High *float64  // SI
	Club      Club      // the zero club is every club
	Label     string    // the set it is about; "" for what was tried, where something was, or else every ball
	Balls     int       // 0 if not said
	Share     float64   // of the balls that has to be inside: of "draw 7 of 10" .7; 0 is more than half
	Until     time.Time // its last instant, zero if not said
}

// About reports whether the brief is about a set with that label: the one it
// names; else what was tried, and never the usual set that was hit beside it.
func (b Brief) About(label string, setup Setup) bool {
	if b.Label != "" {
		return strings.EqualFold(strings.TrimSpace(label), b.Label)
	}
	return setup != Usual
}

// Holds reports whether a value is inside the limits, ends included.
func (b Brief) Holds(v float64) bool {
	return (b.Low == nil || v >= *b.Low) && (b.High == nil || v <= *b.High)
}

// UsualBalls is how many balls a brief is about that says neither balls nor a
// date: about what one session has (common practice, no source).
const UsualBalls = 30

// Asked is how many balls settle the brief: those it names, UsualBalls if it
// names neither balls nor a date, 0 if it is its date alone that does.
func (b Brief) Asked() int {
	if b.Balls == 0 && b.Until.IsZero() {
		return UsualBalls
	}
	return b.Balls
}

// Over reports whether the brief's date has passed.
func (b Brief) Over(now time.Time) bool { return !b.Until.IsZero() && now.After(b.Until) }
