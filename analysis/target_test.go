package analysis_test

import (
	"encoding/json"
	"maps"
	"testing"

	"rangepost/analysis"
)

// Targets are kept by the names of clubs, and come back.
func TestTargetsKept(t *testing.T) {
	iron, wedge := analysis.Club{Family: analysis.Iron, Number: 7}, analysis.Club{Family: analysis.Wedge, Wedge: "56"}
	want := analysis.Targets{{}: 90, iron: 137.2, wedge: 80}
	b, err := json.Marshal(want)
	if err != nil || string(b) != `{"":90,"56":80,"7i":137.2}` {
		t.Fatalf("%s, %v", b, err)
	}
	var got analysis.Targets
	if err := json.Unmarshal(b, &got); err != nil || !maps.Equal(got, want) {
		t.Errorf("%v, %v, want %v", got, err, want)
	}
	if s := want.String(); s != "90.0m, 56 80.0m, 7i 137.2m" {
		t.Errorf("said as %q", s)
	}
	if err := json.Unmarshal([]byte(`{"spoon":90}`), &got); err == nil {
		t.Error("a club of nobody's was taken")
	}

	// What is said later counts, of the clubs it is about.
	if got := (analysis.Targets{iron: 140}).Over(want); got[iron] != 140 || got[wedge] != 80 || want[iron] != 137.2 {
		t.Errorf("said again: %v over %v", got, want)
	}
}
