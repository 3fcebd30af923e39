package trial_test

import (
	"math/rand/v2"
	"strconv"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Five sets of twenty balls against a baseline of twenty.
func BenchmarkOf(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	sets := []analysis.Set{hit(rng, "normal", 1, 20, neutral, 1)}
	for i := range 5 {
		sets = append(sets, hit(rng, strconv.Itoa(i), 1+20*(i+1), 20, neutral.with(float64(i), 0), 1))
	}
	for _, c := range []struct {
		name   string
		config trial.Config
	}{{"each spread", trial.Config{FaceWorth: faceWorth, PathWorth: pathWorth}}, {"equal spread", trial.Config{EqualSpread: true}}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := trial.Of(sets, 0, c.config); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
