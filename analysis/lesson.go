package analysis

import "time"

// A Lesson is a mark on a student's timeline.
type Lesson struct {
	At   time.Time
	Note string // untrusted text
}
