package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

// An answer serves its giver, and whose file it was about; a coach's or a
// manager's serves everybody who said nothing of their own.
func TestAnswers(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	remember := func(a store.Answer) store.Answer {
		t.Helper()
		c.add(time.Minute)
		a.Server, a.Fingerprint = saltmarsh, "header-1"
		a, err := db.RememberAnswer(t.Context(), a)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	counts := func(what, student string, want ...store.Answer) {
		t.Helper()
		got, err := db.Answers(t.Context(), saltmarsh, "header-1", student)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	counts("none", wren)
	first := remember(store.Answer{Key: "signs", Value: "target", Who: wren, Student: wren})
	unit := remember(store.Answer{Key: "unit:carry", Value: "yd", Who: wren, Student: wren})
	counts("one's own", wren, first, unit)
	counts("what one member answers changes nobody else's reading", tamsin)
	second := remember(store.Answer{Key: "signs", Value: "golfer", Who: wren, Student: wren})
	counts("the newest of a rank", wren, unit, second)
	managers := remember(store.Answer{Key: "unit:carry", Value: "m", Who: "steward", Student: "steward", Manager: true})
	coachs := remember(store.Answer{Key: "signs", Value: "target-left", Who: coach, Student: tamsin, Coach: true})
	counts("of a file of hers", tamsin, managers, coachs)
	counts("a coach's and a manager's serve everybody", "odell", managers, coachs)
	counts("one's own counts more", wren, unit, second)
	about := remember(store.Answer{Key: "signs", Value: "target-left", Who: coach, Student: wren, Coach: true})
	counts("a coach's about one's own file is as one's own", wren, unit, about)

	history, err := db.AnswerHistory(t.Context(), saltmarsh)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]store.Answer{about, coachs, managers, second, unit, first}, history); d != "" {
		t.Errorf("history (-want +got):\n%s", d)
	}
	if _, err := db.UndoAnswer(t.Context(), elsewhere, coachs.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("undone from another server: %v, want ErrNotFound", err)
	}
	for _, undo := range []store.Answer{about, second} {
		if a, err := db.UndoAnswer(t.Context(), saltmarsh, undo.ID); err != nil || a.ID != undo.ID {
			t.Fatal(a, err)
		}
	}
	counts("undone", wren, first, unit)
	if other, err := db.Answers(t.Context(), elsewhere, "header-1", wren); err != nil || len(other) != 0 {
		t.Errorf("on another server: %v, %v", other, err)
	}
	if other, err := db.Answers(t.Context(), saltmarsh, "header-2", wren); err != nil || len(other) != 0 {
		t.Errorf("under another header: %v, %v", other, err)
	}
}

// Answers within one millisecond are still in order.
func TestAnswersAtOnce(t *testing.T) {
	db := open(t, store.WithClock(newClock().now))
	for _, value := range []string{"a", "b", "c"} {
		if _, err := db.RememberAnswer(t.Context(), store.Answer{Server: saltmarsh, Key: "k", Value: value, Who: wren}); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := db.Answers(t.Context(), saltmarsh, "", wren); err != nil || len(got) != 1 || got[0].Value != "c" {
		t.Errorf("the last answer is %v, %v, want c", got, err)
	}
}
