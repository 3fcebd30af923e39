package flight

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rangepost/analysis/stat"
)

// typicalReynolds is where balls of a spin ratio fly: a drive has 0.05 to 0.2 at
// Re 2e5 and down, a mid-iron 0.3 at 1.5e5, a wedge 0.5 and more.
func typicalReynolds(s float64) float64 { return min(2, max(0.7, 0.6+0.21/(s+0.1))) }

// readingError is what one source's value is known to: the figures are read to a
// hundredth, and closed forms fit their own data no better.
const readingError = 0.01

var spinRatios = []float64{0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5}

// pooled is the mean over sources with random effects, and their spread.
func pooled(of func(Source) func(s, q float64) (float64, bool), s, q float64) (mean, spread float64, row string, ok bool) {
	var y, v []float64
	for _, source := range Sources() {
		at := of(source)
		if at == nil {
			row += "     -"
			continue
		}
		c, has := at(s, q)
		if !has {
			row += "     ."
			continue
		}
		row += fmt.Sprintf(" %.3f", c)
		y, v = append(y, c), append(v, readingError*readingError)
	}
	r, ok := stat.NewRandomEffects(y, v, nil, stat.REML)
	if !ok {
		return 0, 0, row, false
	}
	return r.B[0], math.Sqrt(r.Tau2), row, true
}

func lifts(s Source) func(s, q float64) (float64, bool) { return s.Lift }
func drags(s Source) func(s, q float64) (float64, bool) { return s.Drag }

// The default coefficients are the mean of their sources.
func TestEvidenceIsTheMeanOfItsSources(t *testing.T) {
	var out strings.Builder
	for _, part := range []struct {
		name string
		of   func(Source) func(s, q float64) (float64, bool)
		at   func(s float64) float64
		tol  float64
	}{
		{"lift", lifts, func(s float64) float64 { _, cl := Evidence{}.At(s, 1); return cl }, 0.005},
		{"drag", drags, func(s float64) float64 { cd, _ := Evidence{}.At(s, 1); return cd }, 0.010},
	} {
		fmt.Fprintf(&out, "\n%s\n   S   Re/1e5", part.name)
		for _, s := range Sources() {
			fmt.Fprintf(&out, " %5.5s", s.Name)
		}
		out.WriteString("   mean spread default before\n")
		for _, s := range spinRatios {
			q := typicalReynolds(s)
			mean, spread, row, ok := pooled(part.of, s, q)
			if !ok {
				t.Fatalf("%s at %.2f: no sources", part.name, s)
			}
			cd, cl := Blended{}.At(s, q)
			before := cl
			if part.name == "drag" {
				before = cd
			}
			fmt.Fprintf(&out, " %.2f  %.2f   %s   %.3f %.3f  %.3f   %.3f\n", s, q, row, mean, spread, part.at(s), before)
			if math.Abs(part.at(s)-mean) > part.tol {
				t.Errorf("%s at S %.2f: %.4f, the sources' mean %.4f", part.name, s, part.at(s), mean)
			}
		}
	}
	t.Log(out.String())
}

// The doubt of lift is what the sources differ by: the root mean square over
// spin ratios of their spread, and of what the constants say.
func TestDoubtIsTheSpreadOfTheSources(t *testing.T) {
	var got, want float64
	for _, s := range spinRatios {
		mean, spread, _, _ := pooled(lifts, s, typicalReynolds(s))
		want += spread / mean * spread / mean
		tilt := LiftTilt * math.Log(s/spreadAt)
		got += LiftSpread*LiftSpread + tilt*tilt
	}
	if r := math.Sqrt(got / want); r < 0.9 || r > 1.3 {
		t.Errorf("the doubt is %.2f of the sources' spread", r)
	}
}

// Neither coefficient has a corner or a turn that the integrator or a reader
// would trip over.
func TestEvidenceIsSmooth(t *testing.T) {
	for s := 0.0; s < 4; s += 0.001 {
		cd0, cl0 := Evidence{}.At(s, 1)
		cd1, cl1 := Evidence{}.At(s+0.001, 1)
		if cl1 < cl0-1e-4 || math.Abs(cl1-cl0) > 0.01 || math.Abs(cd1-cd0) > 0.002 {
			t.Fatalf("at S %.3f: lift %.4f to %.4f, drag %.4f to %.4f", s, cl0, cl1, cd0, cd1)
		}
	}
}
