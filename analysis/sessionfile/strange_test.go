package sessionfile

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
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
	columns, balls, doubted := 0, 0, 0
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
		balls += len(shots)
		if v == readWrong && len(r.LeftOut) > 0 {
			doubted += len(r.LeftOut)
		} else if v == readWrong {
			t.Errorf("shape %d read wrongly: %s\n%v\n%q\n%v", i, detail, s, r.Decisions, r.Questions)
		}
		if v == refused {
			t.Logf("shape %d refused: %s\n%v", i, detail, s)
		}
	}
	if doubted*1000 > balls {
		t.Errorf("%d numbers of %d balls were left out, want at most 1 in 1,000 balls", doubted, balls)
	}
	t.Logf("%d shapes: %d read right, %d asked (%d about columns), %d refused, %d read wrongly: %v",
		shapes, count[readRight], count[asked], columns, count[refused], count[readWrong], why)
}

// slipOfThePen is a heading as a hasty hand writes it.
func slipOfThePen(rng *rand.Rand, heading, how string) string {
	words := strings.Fields(heading)
	for i, w := range words {
		r := []rune(w)
		if len(r) < 5 || r[0] >= 0x2e80 && how != "typo" || rng.IntN(2) == 0 {
			continue
		}
		switch k := 1 + rng.IntN(len(r)-2); how {
		case "typo":
			switch rng.IntN(3) {
			case 0:
				r = slices.Delete(r, k, k+1)
			case 1:
				r[k], r[k+1] = r[k+1], r[k]
			default:
				r[k] += 1
			}
		case "cut":
			r = append(r[:3+rng.IntN(2)], '.')
		case "vowels":
			r = append(r[:1:1], slices.DeleteFunc(r[1:], func(c rune) bool { return strings.ContainsRune("aeiouäöåéèìùü", c) })...)
		}
		words[i] = string(r)
	}
	if how == "order" {
		rng.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	}
	return strings.Join(words, " ")
}

// TestHastyHeadings spoils half the words of every heading. None is read
// wrongly without a question, and of what remains readable most is read whole.
func TestHastyHeadings(t *testing.T) {
	for _, c := range []struct {
		how   string
		whole int // at least, per cent; looked at
	}{{"typo", 86}, {"order", 90}, {"cut", 44}, {"vowels", 50}} {
		rng := rand.New(rand.NewPCG(27, 2026))
		count, balls, doubted := map[string]int{}, 0, 0
		shapes := shapesToTry(t) / 3
		for i := range shapes {
			s := drawShape(rng)
			s.shots, s.answers, s.hand, s.faceLoose = max(s.shots, 20), map[string]string{}, analysis.RightHanded, false
			if s.unitPlace == "none" {
				s.unitPlace = "bracket"
			}
			for f := range s.signs {
				s.signs[f] = 1
			}
			spoiled := maps.Clone(wordings[s.language])
			for _, f := range s.fields {
				spoiled[f] = slipOfThePen(rng, spoiled[f], c.how)
			}
			shots := knownShots(rng, s.shots, 1)
			balls += len(shots)
			name, data := s.under(spoiled).bytes(rng, shots)
			r, err := Read(name, data, Options{Hand: s.hand, HandSet: true})
			switch v, detail := judge(s, shots, r, err); {
			case v == readWrong && strings.Contains(detail, "missing"), v == readWrong && strings.Contains(detail, "label"), v == readWrong && strings.Contains(detail, "club "):
				count["left out"]++
			case v == readWrong && strings.Contains(detail, "face-to-path is") && slices.ContainsFunc(r.Decisions, func(d string) bool {
				return strings.Contains(d, "left out: ") && strings.Contains(d, "'"+spoiled[faceToPath])
			}):
				count["left out"]++ // it follows from face and path, each rounded
			case v == readWrong && len(r.Questions) > 0:
				count["asked"]++ // what follows from a column that is asked about is rounded otherwise
			case v == readWrong && len(r.LeftOut) > 0:
				doubted += len(r.LeftOut)
			case v == readWrong:
				t.Errorf("%s %d read wrongly: %s\n%v\n%q", c.how, i, detail, s, r.Decisions)
			default:
				count[string(v)]++
			}
		}
		t.Logf("%s: %d shapes, %v, %d numbers of %d balls left out", c.how, shapes, count, doubted, balls)
		if doubted*1000 > balls {
			t.Errorf("%s: %d numbers of %d balls were left out, want at most 1 in 1,000 balls", c.how, doubted, balls)
		}
		if got := count[string(readRight)]; got*100 < c.whole*shapes {
			t.Errorf("%s: %d of %d read whole, want %d %%", c.how, got, shapes, c.whole)
		}
	}
}

// TestLoftIsNoHeight holds what was measured of a height against a loft that has
// the same middle: only the height goes with slopes and length ball by ball.
func TestLoftIsNoHeight(t *testing.T) {
	shots := knownShots(rand.New(rand.NewPCG(9, 9)), 60, 1)[30:] // the 7-iron's
	vs := func(n analysis.Number) (all []float64) {
		for _, s := range shots {
			v, _ := s.Value(n)
			all = append(all, v)
		}
		return all
	}
	heights, lofts := vs(analysis.Apex), vs(analysis.DynamicLoft)
	scale := median(heights) / median(lofts)
	for i := range lofts {
		lofts[i] *= scale
	}
	tie := ties[slices.IndexFunc(ties, func(t tie) bool { return slices.Equal(t.fields, []field{apex, carry, launch, descent}) })]
	rest := [][]float64{vs(analysis.Carry), vs(analysis.LaunchAngle), vs(analysis.Descent)}
	height, loft := tie.score(append([][]float64{heights}, rest...)), tie.score(append([][]float64{lofts}, rest...))
	if height < 1.5 || height-loft < 1 {
		t.Errorf("a height scores %.1f, a loft in its place %.1f; want the height at least 1.5, and one more", height, loft)
	}
}
