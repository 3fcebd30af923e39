package store_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

func TestMeasured(t *testing.T) {
	db := open(t)
	at := newClock().at
	keep := func(raw, with string, c analysis.Conditions) string {
		t.Helper()
		n := newSession(t, seeded(), saltmarsh, wren, at, 0)
		n.Raw, n.Reading.Session.Conditions = []byte(raw), c
		n.Reading.Session.Shots = []analysis.Shot{analysis.Shot{N: 1, Club: club(t, with)}.With(analysis.Face, 0.1)}
		s, _, err := db.PostSession(t.Context(), n)
		if err != nil {
			t.Fatal(err)
		}
		return s.ID
	}
	cold := analysis.Conditions{Temperature: ptr(280.0), WindFrom: ptr(0.0), WindSpeed: ptr(3.0)}
	winter := keep("1", "7i", cold)
	keep("2", "7i", analysis.Conditions{})
	keep("3", "driver", analysis.Conditions{})
	got, err := db.Measured(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	want := []store.Measured{{analysis.Face, club(t, "7i"), 2}, {analysis.Face, club(t, "driver"), 1}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("measured (-want +got):\n%s", d)
	}
	airs, err := db.Airs(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(map[string]analysis.Conditions{winter: cold}, airs); d != "" {
		t.Errorf("airs (-want +got):\n%s", d)
	}
	if got, err := db.Measured(t.Context(), elsewhere, wren); err != nil || len(got) != 0 {
		t.Errorf("on another server: %v, %v", got, err)
	}
}
