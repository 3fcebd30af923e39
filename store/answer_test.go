package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

func TestAnswers(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	remember := func(who string, isCoach bool, key, value string) store.Answer {
		t.Helper()
		c.add(time.Minute)
		a, err := db.RememberAnswer(t.Context(), store.Answer{
			Server: saltmarsh, Fingerprint: "header-1", Key: key, Value: value, Who: who, Coach: isCoach,
		})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	counts := func(what string, want analysis.Answers) {
		t.Helper()
		got, err := db.Answers(t.Context(), saltmarsh, "header-1")
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	counts("none", analysis.Answers{})
	first := remember(wren, false, "signs", "target")
	unit := remember(wren, false, "unit:carry", "yd")
	counts("two questions", analysis.Answers{"signs": first.Value, "unit:carry": unit.Value})
	second := remember(tamsin, false, "signs", "golfer")
	counts("the newest of a rank", analysis.Answers{"signs": second.Value, "unit:carry": unit.Value})
	coachs := remember(coach, true, "signs", "target-left")
	late := remember(wren, false, "signs", "target")
	counts("a coach outranks a later student", analysis.Answers{"signs": coachs.Value, "unit:carry": unit.Value})

	history, err := db.AnswerHistory(t.Context(), saltmarsh)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]store.Answer{late, coachs, second, unit, first}, history); d != "" {
		t.Errorf("history (-want +got):\n%s", d)
	}
	if _, err := db.UndoAnswer(t.Context(), elsewhere, coachs.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("undone from another server: %v, want ErrNotFound", err)
	}
	for _, undo := range []store.Answer{coachs, late} {
		if _, err := db.UndoAnswer(t.Context(), saltmarsh, undo.ID); err != nil {
			t.Fatal(err)
		}
	}
	counts("undone", analysis.Answers{"signs": second.Value, "unit:carry": unit.Value})
	if other, err := db.Answers(t.Context(), elsewhere, "header-1"); err != nil || len(other) != 0 {
		t.Errorf("on another server: %v, %v", other, err)
	}
	if other, err := db.Answers(t.Context(), saltmarsh, "header-2"); err != nil || len(other) != 0 {
		t.Errorf("under another header: %v, %v", other, err)
	}
}

// Answers within one millisecond are still in order.
func TestAnswersAtOnce(t *testing.T) {
	db := open(t, store.WithClock(newClock().now))
	for _, value := range []string{"a", "b", "c"} {
		if _, err := db.RememberAnswer(t.Context(), store.Answer{Server: saltmarsh, Key: "k", Value: value}); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := db.Answers(t.Context(), saltmarsh, ""); err != nil || got["k"] != "c" {
		t.Errorf("the last answer is %q, %v, want c", got["k"], err)
	}
}
