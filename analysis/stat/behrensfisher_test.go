package stat_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

// Two samples of two values with equal variances: the sum of two Cauchy
// variables with shares 1/sqrt(2) is Cauchy with scale sqrt(2), in closed form.
func TestBehrensFisherCauchy(t *testing.T) {
	a, b := stat.Sample{N: 2, Mean: 3, Variance: 2}, stat.Sample{N: 2, Mean: 1, Variance: 2}
	d, ok := stat.NewBehrensFisher(a, b)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "SE", d.SE, math.Sqrt2, 1e-15)
	near(t, "p", d.P(0), 1-2/math.Pi*math.Atan(2/math.Sqrt2/math.Sqrt2), 1e-9)
	low, high := d.Limits(0.9)
	half := math.Sqrt2 * math.Sqrt2 * math.Tan(math.Pi*0.45)
	near(t, "low", low, 2-half, 5e-5)
	near(t, "high", high, 2+half, 5e-5)
}

// The 5 % two-sided points of the Behrens-Fisher distribution at 45 degrees
// (shares equal) in Fisher & Yates's table VI for six and six, eight and eight
// and twelve and twelve degrees of freedom, from Sukhatme 1938 (Sankhya 4:39):
// 2.435, 2.292 and 2.167 [M]. They were interpolated: the first is 2.4359.
func TestBehrensFisherTable(t *testing.T) {
	for df, want := range map[int]float64{6: 2.435, 8: 2.292, 12: 2.167} {
		s := stat.Sample{N: df + 1, Variance: 1}
		d, _ := stat.NewBehrensFisher(s, s)
		_, high := d.Limits(0.95)
		near(t, "point", high/d.SE, want, 0.001/want)
	}
}

// Inside the margin at 5 % is the same as 90 % limits inside it.
func TestBehrensFisherEquivalence(t *testing.T) {
	d, _ := stat.NewBehrensFisher(stat.SampleOf(usual), stat.SampleOf(base))
	low, high := d.Limits(0.9)
	near(t, "p at the farther limit", d.Equivalence(max(-low, high)), 0.05, 1e-7)
	if p := d.Equivalence(-low / 2); p < 0.05 {
		t.Errorf("half way to the limit: p = %v, want over 0.05", p)
	}
	near(t, "p of a margin inside the difference", d.Equivalence(-d.Difference), 0.5, 1e-9)
}

// One share gone, the distribution is Student's; many degrees of freedom, the
// normal.
func TestBehrensFisherEnds(t *testing.T) {
	for _, df := range []int{1, 2, 3, 8, 29, 200, 999, 1000, 1001} {
		flat, varied := stat.Sample{N: 9, Mean: 0, Variance: 0}, stat.Sample{N: df + 1, Mean: 2, Variance: 1.7}
		d, _ := stat.NewBehrensFisher(varied, flat)
		student := distuv.StudentsT{Sigma: 1, Nu: float64(df)}
		near(t, "p", d.P(0), 2*student.Survival(2/d.SE), 1e-10)
	}
	many := stat.Sample{N: 100000, Mean: 0, Variance: 1}
	shifted := stat.Sample{N: 100000, Mean: 0.01, Variance: 2}
	d, _ := stat.NewBehrensFisher(shifted, many)
	near(t, "p", d.P(0), 2*distuv.UnitNormal.Survival(0.01/d.SE), 1e-4)
}

// The integral against plain sampling of its definition.
func TestBehrensFisherAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	a, b := stat.SampleOf(strong), stat.SampleOf(weak)
	d, _ := stat.NewBehrensFisher(a, b)
	draw := func(s stat.Sample) float64 {
		chi := 0.0
		for range s.N - 1 {
			z := rng.NormFloat64()
			chi += z * z
		}
		return math.Sqrt(s.Variance/float64(s.N)) * rng.NormFloat64() / math.Sqrt(chi/float64(s.N-1))
	}
	const draws = 400_000
	far := 0
	for range draws {
		if math.Abs(draw(a)-draw(b)) >= math.Abs(d.Difference)*0.6 {
			far++
		}
	}
	want := float64(far) / draws
	near(t, "p", d.P(0.4*d.Difference), want, 4*math.Sqrt(want/draws))
}

// What Welch's test gets wrong and this one does not: two values against
// thirty, at the significance one of forty rows is tested at.
func TestTwoValuesAgainstThirty(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const trials, alpha = 20_000, 0.05 / 40
	welch, fisher := 0, 0
	for range trials {
		a, b := normalSample(rng, 2, 0), normalSample(rng, 30, 0)
		if w, _ := stat.Welch(a, b); w.P < alpha {
			welch++
		}
		if d, _ := stat.NewBehrensFisher(a, b); d.P(0) < alpha {
			fisher++
		}
	}
	t.Logf("false calls in %d, %v expected: Welch %d, Behrens-Fisher %d", trials, trials*alpha, welch, fisher)
	if welch < 20*trials*alpha {
		t.Errorf("Welch calls %d, want many times %v: the reason for this test is gone", welch, trials*alpha)
	}
	if low, _, _ := stat.Wilson(fisher, trials, 0.99); low > alpha {
		t.Errorf("Behrens-Fisher calls %d of %d, want at most %v of them", fisher, trials, alpha)
	}
}

func normalSample(rng *rand.Rand, n int, mean float64) stat.Sample {
	x := make([]float64, n)
	for i := range x {
		x[i] = mean + rng.NormFloat64()
	}
	return stat.SampleOf(x)
}

func TestBehrensFisherPower(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, c := range [][2]int{{3, 3}, {5, 5}, {12, 12}, {17, 17}, {60, 60}, {5, 10}, {5, 30}, {10, 30}, {3, 20}} {
		for _, alpha := range []float64{0.05, 0.05 / 8, 0.05 / 40} {
			d := stat.NewBehrensFisherPower(c[0], c[1], alpha).Detectable(0.8)
			const trials = 2000
			found := 0
			for range trials {
				test, _ := stat.NewBehrensFisher(normalSample(rng, c[0], d), normalSample(rng, c[1], 0))
				if test.P(0) < alpha {
					found++
				}
			}
			low, high, _ := stat.Wilson(found, trials, 0.99)
			if low > 0.83 || high < 0.77 {
				t.Errorf("%v at %.4f: %d of %d find d = %.2f, want 80 %% within 3 points", c, alpha, found, trials, d)
			}
		}
	}
}

func BenchmarkBehrensFisher(b *testing.B) {
	d, _ := stat.NewBehrensFisher(stat.SampleOf(strong), stat.SampleOf(base))
	b.Run("p", func(b *testing.B) {
		for b.Loop() {
			d.P(0)
		}
	})
	b.Run("limits", func(b *testing.B) {
		for b.Loop() {
			d.Limits(0.95)
		}
	})
}

// Two samples of two balls make Cauchy variables, whose sum has their scales
// added: exact at every ratio of variances, however small one is.
func TestBehrensFisherOfTwoBalls(t *testing.T) {
	for _, tiny := range []float64{1, 1e-2, 1e-4, 1e-8, 1e-12, 1e-20, 1e-30} {
		a, b := stat.Sample{N: 2, Mean: 1, Variance: tiny}, stat.Sample{N: 2, Mean: 0, Variance: 1}
		d, ok := stat.NewBehrensFisher(a, b)
		if !ok {
			t.Fatalf("variance %g: not compared", tiny)
		}
		scale := math.Sqrt(tiny/2) + math.Sqrt(0.5)
		want := 1 - 2/math.Pi*math.Atan(1/scale)
		if got := d.P(0); math.Abs(got-want) > 1e-4 {
			t.Errorf("variance %g: P = %.6f, want %.6f", tiny, got, want)
		}
		half := scale * math.Tan(math.Pi*0.475)
		if low, high := d.Limits(0.95); math.Abs(low-(1-half)) > 2e-3*half || math.Abs(high-(1+half)) > 2e-3*half {
			t.Errorf("variance %g: %.5f to %.5f, want %.5f to %.5f", tiny, low, high, 1-half, 1+half)
		}
	}
}
