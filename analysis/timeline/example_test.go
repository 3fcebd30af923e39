package timeline_test

import (
	"fmt"
	"math/rand/v2"

	"rangepost/analysis"
)

// Six sessions, a lesson that opened the face by four degrees over four
// sessions, and twelve more.
func ExampleOf() {
	rng := rand.New(rand.NewPCG(1, 2))
	sessions := usual.sessions(rng, 18, func(i int) float64 { return min(4, max(0, float64(i-5))) })
	e := ftp(sessions, before(6)).Effect
	fmt.Printf("%d sessions before, %d after: %s after %d, %.1f deg (%.1f to %.1f), %s, %s\n", e.Before, e.After, e.Change, e.Found,
		e.Difference/analysis.Degree, e.Low/analysis.Degree, e.High/analysis.Degree, e.Shape, e.Lasts)
	// Output:
	// 6 sessions before, 12 after: changed after 6, 3.7 deg (1.3 to 5.1), gradual, kept
}
