package trial_test

import (
	"fmt"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// A stronger grip turns the face three degrees left and the path goes after it.
// Twenty balls a set cannot tell whether they finish elsewhere; the delivery
// shows what happened.
func ExampleOf() {
	rng := rand.New(rand.NewPCG(1, 2))
	sets := []analysis.Set{
		hit(rng, "normal", 1, 20, neutral, 0.7),
		hit(rng, "strong grip", 21, 20, neutral.with(-3, -6), 0.7),
	}
	r, err := trial.Of(sets, 0, trial.Config{FaceWorth: faceWorth, PathWorth: pathWorth})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range r.Rows[:3] {
		k := row.Number.JSONScale()
		fmt.Printf("%-10s %+.1f (%+.1f to %+.1f): %s\n", row.Number, row.Difference/k, row.Low/k, row.High/k, row.Verdict)
	}
	c := r.Compensations[0]
	fmt.Printf("the path cancelled %.1f (%.1f to %.1f) of the face\n", c.Cancelled, c.Low, c.High)
	// Output:
	// lateral    -1.3 (-6.3 to +3.7): cannot tell
	// face angle -2.7 (-3.8 to -1.6): moved
	// club path  -5.9 (-6.8 to -5.1): moved
	// the path cancelled 0.9 (0.7 to 1.2) of the face
}
