package timeline_test

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

func limit(deg float64) *float64 { v := deg * analysis.Degree; return &v }

// Twelve balls: seven inside -2..2 deg, ends included; a misread, a ball of
// another club and one without the number do not count, a mishit does.
func kept(b analysis.Brief, shots []analysis.Shot) timeline.Kept {
	return timeline.Keep(b, timeline.Count(b, shots))
}

func TestKeep(t *testing.T) {
	ball := func(deg float64) analysis.Shot {
		return analysis.Shot{Club: iron}.With(analysis.FaceToPath, deg*analysis.Degree)
	}
	var shots []analysis.Shot
	for _, deg := range []float64{0, 1, -1, 2, -2, 1.5, 0.3, 2.1, -3, 5, 4} {
		shots = append(shots, ball(deg))
	}
	mishit, misread, other := ball(9), ball(0), ball(0)
	mishit.Aside, misread.Aside = analysis.Mishit, analysis.Impossible
	other.Club = analysis.Club{Family: analysis.Driver}
	shots = append(shots, mishit, misread, other, analysis.Shot{Club: iron})

	k := kept(analysis.Brief{Number: analysis.FaceToPath, Low: limit(-2), High: limit(2), Club: iron, Balls: 12}, shots)
	if k.Inside != 7 || k.Of != 12 || !k.Enough {
		t.Fatalf("Inside, Of, Enough = %d, %d, %v; want 7, 12, true", k.Inside, k.Of, k.Enough)
	}
	k = timeline.Shared(k.Brief, k.Inside, k.Of, 12)
	// Newcombe 1998, Stat. Med. 17:857, method 3; R's prop.test [C].
	near(t, "low", k.ShareLow, 0.31951131254955, 1e-12)
	near(t, "high", k.ShareHigh, 0.806739686341243, 1e-12)

	open := kept(analysis.Brief{Number: analysis.FaceToPath, High: limit(0)}, shots)
	if open.Inside != 5 || open.Of != 13 {
		t.Errorf("open below, any club: %d of %d inside, want 5 of 13", open.Inside, open.Of)
	}
	none := kept(analysis.Brief{Number: analysis.ClubSpeed, Low: limit(1)}, shots)
	if none.Of != 0 || none.Enough || none.Share != 0 || none.ShareLow != 0 || none.ShareHigh != 1 {
		t.Errorf("nothing measured: %+v, want nothing known", none)
	}
	if math.IsNaN(none.Share) {
		t.Error("share of nothing is NaN")
	}
}
