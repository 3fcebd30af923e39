package store_test

import (
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// A finding is written down once and goes with its lesson.
func TestFindings(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	lesson, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: wren, Coach: coach})
	if err != nil {
		t.Fatal(err)
	}
	found := store.Finding{Lesson: lesson.ID, Number: analysis.Face, Club: club(t, "7i"), Sessions: 6, Hit: c.at, Difference: -0.03, Low: -0.05, High: -0.01}
	first := c.at
	if err := db.KeepFindings(t.Context(), []store.Finding{found, {Lesson: "gone", Number: analysis.Face}}); err != nil {
		t.Fatal(err)
	}
	c.add(time.Hour)
	later := found
	later.Sessions, later.Difference = 12, -0.02
	if err := db.KeepFindings(t.Context(), []store.Finding{later}); err != nil {
		t.Fatal(err)
	}
	found.At = first
	if got, err := db.Findings(t.Context(), saltmarsh, wren); err != nil || len(got) != 1 || got[0] != found {
		t.Errorf("findings: %+v, %v; want the first, %+v", got, err, found)
	}
	if err := db.DeleteLesson(t.Context(), saltmarsh, wren, lesson.ID); err != nil {
		t.Fatal(err)
	}
	if got, err := db.Findings(t.Context(), saltmarsh, wren); err != nil || len(got) != 0 {
		t.Errorf("the lesson was taken back: %+v, %v", got, err)
	}
}
