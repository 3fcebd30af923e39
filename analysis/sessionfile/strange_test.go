package sessionfile

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

// TestStrangeHeadings writes the known session under headings that the lexicon
// does not hold. None may be read wrongly, and most are read without a question
// beside those that signs and units raise under any heading.
func TestStrangeHeadings(t *testing.T) {
	shapes := shapesToTry(t) / 2
	rng := rand.New(rand.NewPCG(6, 2026))
	count, why := map[verdict]int{}, map[string]int{}
	columns := 0
	for i := range shapes {
		s := drawShape(rng)
		s.strange = true
		s.shots = max(s.shots, 20)
		for k := range s.answers { // of headings nobody has seen nothing is remembered
			delete(s.answers, k)
		}
		if s.hand == analysis.LeftHanded {
			s.hand = analysis.RightHanded
		}
		for f := range s.signs {
			s.signs[f] = 1
		}
		shots := knownShots(rng, s.shots, 1)
		name, data := s.bytes(rng, shots)
		r, err := Read(name, data, Options{Hand: s.hand, HandSet: true, Answers: s.answers})
		v, detail := judge(s, shots, r, err)
		count[v]++
		if v == asked {
			why[detail]++
			if len(detail) > 6 && detail[:6] == "column" {
				columns++
			}
		}
		if v == readWrong {
			t.Errorf("shape %d read wrongly: %s\n%v\n%q\n%v", i, detail, s, r.Decisions, r.Questions)
		}
		if v == refused {
			t.Logf("shape %d refused: %s\n%v", i, detail, s)
		}
	}
	t.Logf("%d shapes: %d read right, %d asked (%d about columns), %d refused, %d read wrongly: %v",
		shapes, count[readRight], count[asked], columns, count[refused], count[readWrong], why)
}
