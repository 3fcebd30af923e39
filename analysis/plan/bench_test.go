package plan_test

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
)

func BenchmarkNew(b *testing.B) {
	c := config()
	c.Change = 1 * analysis.Degree
	c.Earlier = []analysis.Session{earlier(1, 200, faceSD)}
	b.ReportAllocs()
	for b.Loop() {
		made(b, c)
	}
}

// A card of sixty turns in five visits, hit to its end.
func BenchmarkJudge(b *testing.B) {
	c := config()
	c.Change = 1 * analysis.Degree
	rng := rand.New(rand.NewPCG(1, 2))
	p := sixty(made(b, c), rng)
	visits := golfer{effect: []float64{0, 1}}.hit(p, rng)
	for name, w := range map[string]plan.Worths{"without worths": {}, "with worths": worths} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := p.Judge(visits, w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
