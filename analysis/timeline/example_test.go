package timeline_test

import (
	"fmt"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// Five sessions, a lesson that opened the face by two degrees, five sessions.
func ExampleOf() {
	rng := rand.New(rand.NewPCG(1, 2))
	sessions := students["usual"].sessions(rng, 10, 5, 2*analysis.Degree)
	r := timeline.Of(analysis.FaceToPath, iron, sessions, []analysis.Lesson{{At: day(9)}})
	e := r.Effect
	fmt.Printf("%d sessions before, %d after: %s, %.1f deg (%.1f to %.1f)\n", e.Before, e.After, e.Change,
		e.Difference/analysis.Degree, e.Low/analysis.Degree, e.High/analysis.Degree)
	// Output:
	// 5 sessions before, 5 after: changed, 2.9 deg (1.7 to 4.1)
}
