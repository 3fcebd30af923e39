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

// date reads an option that holds a day.
func date(r Call, option string) (time.Time, error) {
	text := r.Options[option]
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return t, analysis.Refuse("Write it as year-month-day: 2026-09-30.", "that is not a day.").Of(option)
	}
	return t, nil
}

// day says a day.
func day(t time.Time) string { return t.Format("2 January 2006") }
