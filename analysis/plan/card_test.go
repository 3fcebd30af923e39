package plan

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rangepost/analysis"
)

func planned(t *testing.T) Plan {
	t.Helper()
	club, err := analysis.ParseClub("7i")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(Config{Club: club, Labels: []string{"as usual", "stronger grip"}, Number: analysis.Face, Change: 2 * analysis.Degree, Seed: 4})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A card comes back from its JSON as the plan it was.
func TestCardComesBack(t *testing.T) {
	p := planned(t)
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var back Plan
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, back, cmpopts.EquateApprox(0, 1e-12)); d != "" {
		t.Error(d)
	}
	for _, want := range []string{`"number":"face"`, `"measured_as":"face_deg"`, `"club":"7i"`, `"set":"stronger grip"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	var c struct{ Change float64 }
	if err := json.Unmarshal(text, &c); err != nil || math.Abs(c.Change-2) > 1e-9 {
		t.Errorf("change %v, %v", c.Change, err)
	}
}

// What is no card is refused with what is wrong about it.
func TestCardRefused(t *testing.T) {
	whole, err := json.Marshal(planned(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{
		{string(whole), "{}"},
		{`"club":"7i"`, `"club":"spoon"`},
		{`"number":"face"`, `"number":"luck"`},
		{`"set":"stronger grip"`, `"set":"another"`},
		{`"sets":["as usual","stronger grip"]`, `"sets":["as usual"]`},
		{`"block":1`, `"block":0`},
		{Schema, "rangepost.plan/9"},
	} {
		text := strings.Replace(string(whole), c[0], c[1], 1)
		if text == string(whole) {
			t.Fatalf("%s is not in the card", c[0])
		}
		var refusal *analysis.Refusal
		var p Plan
		if err := json.Unmarshal([]byte(text), &p); !errors.As(err, &refusal) || refusal.Hint == "" {
			t.Errorf("%s: %v", c[1], err)
		}
	}
}
