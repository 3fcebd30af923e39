package panel

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// The shapes have mean 0 and deviation 1; the gamma of shape 2 has skewness
// sqrt 2 and the t of 5 a kurtosis of 6 over the normal's: textbook values.
func TestShapesHaveTheirMoments(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, s := range Shapes() {
		var x []float64
		for range 100_000 {
			x = append(x, s.of(rng.NormFloat64(), drawFace))
		}
		m, sd := stat.MeanStdDev(x, nil)
		near(t, string(s)+": mean", m, 0, 0.01)
		near(t, string(s)+": deviation", sd, 1, 0.06) // the fourth moment of t3 is not finite
		want := 0.0
		if s == ShapeSkew {
			want = math.Sqrt2
		}
		if s != ShapeT3 && s != ShapeT5 {
			near(t, string(s)+": skewness", stat.Skew(x, nil), want, 0.05)
		}
		if s == ShapeT5 {
			if k := stat.ExKurtosis(x, nil); k < 3 || k > 12 {
				t.Errorf("t5: kurtosis %v over the normal's, want about 6", k)
			}
		}
	}
}

// A top, a duff and a shank finish well short, a shank far to the side away from
// the golfer, a thin ball flies low.
func TestMishitsAreMishits(t *testing.T) {
	seen := map[Mishit]int{}
	for _, c := range ShapeCases(3, 120) {
		s, tr := c.Play()
		if len(s.Shots) != c.Balls {
			t.Fatalf("%s: %d shots", c, len(s.Shots))
		}
		n := 0
		carry, apex := good(tr)
		for i, m := range tr.Mishits {
			if m == "" {
				continue
			}
			n++
			seen[m]++
			f := tr.Balls[i].Flight
			side := c.Hand.Mirror() * f.Lateral / f.Carry
			switch {
			case m == Top && f.Carry > 0.3*carry,
				m == Duff && f.Carry > 0.8*carry,
				m == Shank && (f.Carry > 0.8*carry || side < 0.35):
				t.Errorf("%s: a %s carries %.0f of %.0f m, side %.2f", c, m, f.Carry, carry, side)
			case m == Thin && f.Apex > 0.7*apex:
				t.Errorf("%s: a thin ball rises to %.1f m, the others to %.1f", c, f.Apex, apex)
			}
		}
		if n != len(c.Mishits) || 4*n > c.Balls {
			t.Errorf("%s: %d mishits", c, n)
		}
	}
	for _, m := range MishitKinds() {
		if seen[m] < 10 {
			t.Errorf("%d of %s", seen[m], m)
		}
	}
}

// good is the mean carry and apex of the balls that are no mishits.
func good(t ShapeTruth) (carry, apex float64) {
	n := 0.0
	for i, b := range t.Balls {
		if t.Mishits[i] == "" {
			carry += b.Flight.Carry
			apex += b.Flight.Apex
			n++
		}
	}
	return carry / n, apex / n
}

// The two swings differ by what they are called for, and only by that.
func TestMixturesAreApart(t *testing.T) {
	for _, c := range MixCases(5, 60) {
		_, tr := c.Play()
		var a, b analysis.Delivery
		var na, nb float64
		for i := range tr.Balls {
			if tr.Second[i] {
				nb++
			} else {
				na++
			}
		}
		for i, ball := range tr.Balls {
			if tr.Second[i] {
				b = plus(b, ball.Delivery, 1/nb)
			} else {
				a = plus(a, ball.Delivery, 1/na)
			}
		}
		parts := 2.0
		if c.Third {
			parts = 3
		}
		if nb != math.Floor(float64(c.Balls)/parts) {
			t.Errorf("%s: %v of the second", c, nb)
		}
		want := map[MixKind]float64{MixPath5: 5, MixPath8: 8, MixPath12: 12, MixPath20: 20}[c.Kind]
		sd := math.Sqrt(1/na+1/nb) * 2.4 // streaks widen it
		near(t, c.String()+": path", math.Abs(a.Path-b.Path)/deg, want, 4*sd)
		if loft := math.Abs(a.DynamicLoft-b.DynamicLoft) / deg; c.Kind == MixLoft {
			near(t, c.String()+": loft", loft, 8, 4*sd)
		}
		if slow := max(a.ClubSpeed, b.ClubSpeed) / min(a.ClubSpeed, b.ClubSpeed); c.Kind == MixSpeed {
			near(t, c.String()+": speed", slow, 1.25, 0.05)
		}
	}
}

// A fault changes what it says and nothing else of the session with the same
// seed but what is worked out from it.
func TestFaults(t *testing.T) {
	worked := []analysis.Number{analysis.FaceToPath, analysis.SpinLoft, analysis.Smash}
	for _, c := range FaultCases(2, 120, append(BallFaults(), ColumnFaults()...)) {
		s, tr := c.Play()
		honest, _ := c.Honest().Play()
		changed := map[analysis.Number]int{}
		for i := range s.Shots {
			for _, n := range analysis.Numbers() {
				a, _ := s.Shots[i].Value(n)
				b, _ := honest.Shots[i].Value(n)
				if a != b {
					changed[n]++
					if tr.At >= 0 && i != tr.At {
						t.Errorf("%s: ball %d changes", c, i)
					}
				}
			}
		}
		for n := range changed {
			ok := false
			for _, m := range append(worked, tr.Numbers...) {
				ok = ok || m == n
			}
			if !ok {
				t.Errorf("%s: %v changes", c, n)
			}
		}
		if tr.Contradicted && len(changed) == 0 {
			t.Errorf("%s: nothing changes", c)
		}
	}
}
