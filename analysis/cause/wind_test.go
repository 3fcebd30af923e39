package cause

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A wind that was said speaks for its own yards: a square golfer's miss is
// then in nothing the club did, and a fault beside it is still found.
func TestKnownWind(t *testing.T) {
	speed, from := 6.0, -90*degree // from the left
	conditions := analysis.Conditions{WindSpeed: &speed, WindFrom: &from}

	p := golfer(iron, 0, 0)
	p.World.Ball.Flight.Wind = flight.WindOf(conditions)
	r := judged(p.Set(30, "", seeded(1)), Config{Conditions: conditions})
	if r.Wind < 3 || math.Abs(r.Wind-r.Miss.Mean) > 3 {
		t.Errorf("the wind speaks for %.1f m of %.1f", r.Wind, r.Miss.Mean)
	}
	warned := false
	for _, w := range r.Warnings {
		warned = warned || w.Code == Unexplained
	}
	if r.Verdict != Unmeasured || !warned {
		t.Errorf("square in the wind: %s (%.2f), miss %.1f = face %.1f + path %.1f + rest %.1f", r.Verdict, r.Confidence, r.Miss.Mean, r.Face.Mean, r.Path.Mean, r.Rest.Mean)
	}

	// What is asked for takes away what the face made, and leaves the wind its own.
	p.Delivery.Face = 6 * degree
	r = judged(p.Set(30, "", seeded(1)), Config{Conditions: conditions})
	if need := r.WorkBack.FaceAlone; r.Verdict != Face || !need.OK || math.Abs(need.Mean+6*degree) > 1.2*degree {
		t.Errorf("open in the wind: %s (%.2f), miss %.1f = face %.1f + path %.1f + rest %.1f, and asked is %.1f deg", r.Verdict, r.Confidence,
			r.Miss.Mean, r.Face.Mean, r.Path.Mean, r.Rest.Mean, need.Mean/degree)
	}

	// Half each: whichever has a yard more, more balls would not tell.
	p.Delivery.Face = 4.5 * degree
	for seed := range uint64(8) {
		if r := judged(p.Set(14, "", seeded(seed)), Config{Conditions: conditions}); r.Verdict == TooFew || r.Verdict == Centred {
			t.Errorf("half open in the wind, seed %d: %s (%.2f), miss %.1f = face %.1f + path %.1f + rest %.1f", seed, r.Verdict, r.Confidence,
				r.Miss.Mean, r.Face.Mean, r.Path.Mean, r.Rest.Mean)
		}
	}

	calm := judged(golfer(iron, 0, 0).Set(30, "", seeded(1)), Config{})
	within(t, "wind of a calm day", calm.Wind, 0, 0)
}
