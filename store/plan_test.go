package store_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

func newPlan(t *testing.T, db *store.DB, claim string) store.Plan {
	t.Helper()
	p, err := db.SetPlan(t.Context(), store.Plan{
		Server: saltmarsh, Student: wren, Setter: coach, Club: club(t, "7i"), Number: analysis.Path, Card: []byte(`{}`), Claim: claim,
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A student has one plan at a time; the one before it ends unsettled.
func TestOnePlanAtATime(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	if _, err := db.LastPlan(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("no plan: %v", err)
	}
	first := newPlan(t, db, "")
	c.add(1e9)
	second := newPlan(t, db, "")
	all, err := db.Plans(t.Context(), saltmarsh, wren)
	if err != nil || len(all) != 2 || !all[0].Ended.Equal(second.At) || all[0].Status != "" || !all[1].Ended.IsZero() {
		t.Fatalf("%+v, %v", all, err)
	}
	if kept, err := db.SettlePlan(t.Context(), first.ID, "moved", nil); err != nil || kept.Status != "" {
		t.Errorf("an ended plan was settled: %+v, %v", kept, err)
	}
	c.add(1e9)
	kept, err := db.SettlePlan(t.Context(), second.ID, "moved", &analysis.TrialGist{Club: club(t, "7i"), Base: "usual"})
	if err != nil || kept.Status != "moved" || !kept.Settled.Equal(c.at) || !kept.Ended.Equal(c.at) {
		t.Errorf("%+v, %v", kept, err)
	}
	again, err := db.SettlePlan(t.Context(), second.ID, "held", nil)
	if d := cmp.Diff(kept, again); err != nil || d != "" {
		t.Errorf("settled twice: %v\n%s", err, d)
	}
	if last, err := db.LastPlan(t.Context(), saltmarsh, wren); err != nil || last.ID != second.ID {
		t.Errorf("%+v, %v", last, err)
	}
	if err := db.EndPlan(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("ending none: %v", err)
	}
}

// Nobody says what they expect, or what a claim means, once a ball was hit.
func TestExpectedBeforeABallIsHit(t *testing.T) {
	db := open(t)
	n := full(t)
	n.Server, n.Student = saltmarsh, wren
	s, _, err := db.PostSession(t.Context(), n)
	if err != nil {
		t.Fatal(err)
	}
	p := newPlan(t, db, "it slices")
	expect := func(who string, chance float64) error {
		return db.Expect(t.Context(), store.Forecast{Plan: p.ID, Who: who, Chance: chance})
	}
	for _, err := range []error{expect(wren, 0.3), expect(wren, 0.7), expect(coach, 0.1)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	// A session that is none of the plan's leaves it unhit.
	if err := db.Place(t.Context(), store.Placed{Session: s.ID, Plan: p.ID, Reading: store.Elsewhere, Turns: []int{-1}}); err != nil {
		t.Fatal(err)
	}
	if err := db.Claims(t.Context(), p.ID, 1); err != nil {
		t.Fatal(err)
	}
	if err := db.Claims(t.Context(), p.ID, -1); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("said the other way afterwards: %v", err)
	}
	if err := db.Place(t.Context(), store.Placed{Session: s.ID, Plan: p.ID, Reading: "whole", Turns: []int{0, -1}}); err != nil {
		t.Fatal(err)
	}
	if err := expect(coach, 0.99); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("expected afterwards: %v", err)
	}
	got, err := db.Forecasts(t.Context(), saltmarsh, coach, wren)
	if err != nil || len(got) != 1 || got[0].Chance != 0.1 {
		t.Errorf("%+v, %v", got, err)
	}
	placed, err := db.PlacedAt(t.Context(), s.ID)
	if err != nil || placed.Reading != "whole" || !cmp.Equal(placed.Turns, []int{0, -1}) {
		t.Errorf("%+v, %v", placed, err)
	}
	// A session that is deleted is on no card any more.
	if err := db.RemoveSession(t.Context(), saltmarsh, wren, s.ID); err != nil {
		t.Fatal(err)
	}
	if left, err := db.PlacedOn(t.Context(), p.ID); err != nil || len(left) != 0 {
		t.Errorf("%+v, %v", left, err)
	}
}

// Nobody's balls come onto somebody else's card.
func TestPlacedOnOnesOwnCard(t *testing.T) {
	db := open(t)
	n := full(t)
	n.Server, n.Student = saltmarsh, tamsin
	s, _, err := db.PostSession(t.Context(), n)
	if err != nil {
		t.Fatal(err)
	}
	p := newPlan(t, db, "")
	if err := db.Place(t.Context(), store.Placed{Session: s.ID, Plan: p.ID, Reading: "whole"}); err != nil {
		t.Fatal(err)
	}
	if _, err := db.PlacedAt(t.Context(), s.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("placed all the same: %v", err)
	}
}
