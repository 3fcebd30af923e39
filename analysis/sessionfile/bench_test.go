package sessionfile

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

// BenchmarkRead reads the known session of 60 shots, and the largest session
// there may be, with every core column.
func BenchmarkRead(b *testing.B) {
	for _, c := range []struct {
		name, container string
		shots           int
	}{{"60 shots of CSV", "csv", 60}, {"60 shots of JSON", "json", 60}, {"60 shots in a workbook", "xlsx", 60}, {"5000 shots of CSV", "csv", maxShots}} {
		b.Run(c.name, func(b *testing.B) {
			rng := rand.New(rand.NewPCG(9, 9))
			s := plainShape(rng, c.container)
			_, data := s.bytes(rng, knownShots(rng, c.shots, 1))
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				if _, err := Read("bench", data, Options{Hand: analysis.RightHanded}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkReadStrange reads 60 shots under headings that the lexicon does not
// hold, so that all columns vote.
func BenchmarkReadStrange(b *testing.B) {
	for language, name := range []string{"abbreviated", "run together", "misspelt"} {
		b.Run(name, func(b *testing.B) {
			rng := rand.New(rand.NewPCG(9, 9))
			s := plainShape(rng, "csv")
			_, data := s.under(strangeWordings[language]).bytes(rng, knownShots(rng, 60, 1))
			for b.Loop() {
				if _, err := Read("bench", data, Options{Hand: analysis.RightHanded}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkReadWordless reads 60 shots whose columns nobody named, so that only
// figures and what ties them together tell.
func BenchmarkReadWordless(b *testing.B) {
	rng := rand.New(rand.NewPCG(9, 9))
	s := plainShape(rng, "csv")
	places := map[field]string{}
	for i, f := range s.fields {
		places[f] = fmt.Sprintf("Column %d", i+1)
	}
	_, data := s.under(places).bytes(rng, knownShots(rng, 60, 1))
	for b.Loop() {
		if _, err := Read("bench", data, Options{Hand: analysis.RightHanded}); err != nil {
			b.Fatal(err)
		}
	}
}
