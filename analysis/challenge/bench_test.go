package challenge_test

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis/challenge"
)

// BenchmarkStand is the standings of a club of 60: 1,770 pairs and the chance
// of being the best.
func BenchmarkStand(b *testing.B) {
	terms := rules()[0]
	rng := rand.New(rand.NewPCG(1, 1))
	var scores []challenge.Score
	for range 60 {
		scores = append(scores, terms.Score(member{sd: 8}.stretch(terms.Balls, rng), challenge.Past{}))
	}
	b.ReportAllocs()
	for b.Loop() {
		terms.Stand(scores)
	}
}
