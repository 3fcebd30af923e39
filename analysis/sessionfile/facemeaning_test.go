package sessionfile_test

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
	"rangepost/analysis/sessionfile"
)

var (
	faceCases = flag.Int("face-cases", 300, "how many of the panel's cases TestFaceMeaning reads")
	faceSeed  = flag.Uint64("face-seed", 1, "the seed of TestFaceMeaning's cases")
)

// faceFile is a session as a file under headings that leave open whether the face
// is against the target or against the path, its sides in letters or as signs.
func faceFile(s analysis.Session, relative, letters bool) string {
	var b strings.Builder
	numbers := []analysis.Number{}
	for _, n := range analysis.Numbers() {
		if _, ok := s.Shots[0].Value(n); ok && n != analysis.SpinLoft && n != analysis.FaceToPath {
			numbers = append(numbers, n)
		}
	}
	unit := map[analysis.Kind]string{analysis.Angle: "deg", analysis.Speed: "m/s", analysis.Length: "m", analysis.Small: "mm", analysis.Rate: "rpm", analysis.Time: "s"}
	scale := map[analysis.Kind]float64{analysis.Angle: analysis.Degree, analysis.Small: analysis.Millimetre, analysis.Rate: analysis.RevPerMinute}
	name := map[analysis.Number]string{analysis.Face: "Face Angle", analysis.Path: "Club Path", analysis.Lateral: "Side", analysis.Direction: "Launch Direction"}
	b.WriteString("Club")
	for _, n := range numbers {
		head := name[n]
		if head == "" {
			head = n.String()
		}
		fmt.Fprintf(&b, ",%s", head)
		if u := unit[n.Info().Kind]; u != "" {
			fmt.Fprintf(&b, " (%s)", u)
		}
	}
	for _, shot := range s.Shots {
		b.WriteString("\n" + shot.Club.Key())
		for _, n := range numbers {
			v, _ := shot.Value(n)
			if n == analysis.Face && relative {
				v, _ = shot.Value(analysis.FaceToPath)
			}
			if k := scale[n.Info().Kind]; k != 0 {
				v /= k
			}
			switch sideways := n.Info().Sideways; {
			case n.Info().Kind == analysis.Ratio:
				fmt.Fprintf(&b, ",%.2f", v)
			case sideways && letters && math.Abs(v) >= 0.05:
				fmt.Fprintf(&b, ",%.1f %c", math.Abs(v), "LR"[(1+int(math.Copysign(1, v)))/2])
			default:
				fmt.Fprintf(&b, ",%.1f", v)
			}
		}
	}
	return b.String() + "\n"
}

// TestFaceMeaning counts how a column is taken that says merely "Face Angle", in
// the panel's worlds: never wrongly, and hardly ever asked about where twelve balls
// and more have a start line and the face is as most files have it.
func TestFaceMeaning(t *testing.T) {
	type tally struct{ n, asked, right, wrong int }
	by := map[string]*tally{}
	for i, c := range panel.Cases(*faceSeed, *faceCases) {
		if !c.Columns.Has(analysis.Face) || !c.Columns.Has(analysis.Path) {
			continue
		}
		s, _ := c.Play()
		for _, relative := range []bool{false, true} {
			for _, letters := range []bool{true, false}[i%2 : i%2+1] {
				r, err := sessionfile.Read("f.csv", []byte(faceFile(s, relative, letters)), sessionfile.Options{Hand: s.Hand, HandSet: true})
				if err != nil {
					t.Fatalf("%v: %v", c, err)
				}
				what := "against the target"
				if relative {
					what = "against the path"
				}
				size := fmt.Sprintf("%s, %d balls", what, c.Balls)
				world := fmt.Sprintf("%s, %s", what, c.World.Name)
				asked := slices.ContainsFunc(r.Questions, func(q analysis.Question) bool { return q.Key == "column:faceangledeg" })
				wrong := false
				if v, ok := r.Session.Shots[0].Value(analysis.Face); ok && !asked {
					want, _ := s.Shots[0].Value(analysis.Face)
					wrong = math.Abs(math.Abs(v)-math.Abs(want)) > 0.11*analysis.Degree
				}
				told := fmt.Sprintf("%s, start line %v, twelve balls %v", what, c.Columns.Has(analysis.Direction), c.Balls >= 12)
				for _, k := range []string{what, size, world, told} {
					if by[k] == nil {
						by[k] = &tally{}
					}
					by[k].n++
					switch {
					case asked:
						by[k].asked++
					case wrong:
						by[k].wrong++
					default:
						by[k].right++
					}
				}
				if wrong {
					t.Errorf("case %d, %v: read wrongly: %s, sides in letters %v", i, c, what, letters)
				}
			}
		}
	}
	keys := []string{}
	for k := range by {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		c := by[k]
		if k == "against the target, start line true, twelve balls true" && 20*c.asked > c.n {
			t.Errorf("%s: %d of %d asked about", k, c.asked, c.n)
		}
		t.Logf("%-60s n %4d asked %5.1f %% wrong %d", k, c.n, 100*float64(c.asked)/float64(c.n), c.wrong)
	}
}
