package bot

import (
	"errors"
	"strconv"
	"time"

	"rangepost/analysis"
)

// index reads the one chosen value of a menu as a position below n. Values are
// whatever was sent, whether or not the menu had it.
func index(values []string, n int) (int, error) {
	if len(values) == 1 {
		if i, err := strconv.Atoi(values[0]); err == nil && i >= 0 && i < n {
			return i, nil
		}
	}
	return 0, analysis.Refuse("Ask again with the command and you get a fresh menu.", "That choice is not there.")
}

// of places a refusal at the option of a command that it is about.
func of(option string, err error) error {
	var refusal *analysis.Refusal
	if errors.As(err, &refusal) {
		return refusal.Of(option)
	}
	return err
}

// day says a day, in the zone of its time.
func day(t time.Time) string { return t.Format("2 January 2006") }

// day says the day a time falls on by the asker's clock.
func (c Call) day(t time.Time) string { return day(t.In(c.Zone)) }
