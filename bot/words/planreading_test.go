package words_test

import (
	"testing"

	"rangepost/analysis/plan"
	"rangepost/bot/words"
)

// Balls that were taken by their count alone are said to be, so that whoever left
// out a turn and hit another twice is asked to say so.
func TestPlanTaken(t *testing.T) {
	for _, c := range []struct {
		r    plan.Reading
		want string
	}{
		{plan.Reading{Parts: []plan.Part{{What: plan.Whole}}, Doubt: 0.004}, "Taken as: all of the visit, as the card says."},
		{plan.Reading{Parts: []plan.Part{{What: plan.Whole}}, Doubt: 0.05},
			"Taken as: all of the visit, as the card says; the figures alone do not show it, so say if a turn was left out or hit twice."},
		{plan.Reading{Parts: []plan.Part{{What: plan.Labels}}}, "Taken as: as labelled by hand."},
	} {
		if got := words.PlanTaken(c.r); got != c.want {
			t.Errorf("%+v: %q, want %q", c.r, got, c.want)
		}
	}
}
