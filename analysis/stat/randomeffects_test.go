package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

var bcg = stat.Means{
	Y: []float64{-0.889311333920205, -1.58538865720143, -1.34807314829969, -1.44155119002131, -0.217547322211296, -0.786115585818864, -1.62089822359839, 0.0119523335238405, -0.469417648738149, -1.37134480347278, -0.339358828338391, 0.445913400571379, -0.0173139482168798},
	V: []float64{0.325584765003961, 0.194581121398144, 0.415367965367965, 0.0200100319022476, 0.0512101721696309, 0.00690561845590876, 0.223017247572315, 0.00396157929781773, 0.056434210463249, 0.0730247936130289, 0.0124122139715597, 0.532505845200153, 0.0714046596839863},
}

// Log risk ratios of the thirteen BCG trials (Colditz et al. 1994, J. Am. Med.
// Assoc. 271:698, as metadat::dat.bcg). R package metafor [C]; Q and the
// DerSimonian-Laird figures are also in its tests against Stata: 152.2330,
// -0.7141 [-1.0644, -0.3638] [S].
func TestRandomEffectsBCG(t *testing.T) {
	y, v := bcg.Y, bcg.V
	for _, c := range []struct {
		name         string
		method       stat.Heterogeneity
		mu, se, tau2 float64
		tol          float64
	}{
		{"DerSimonian-Laird", stat.DerSimonianLaird, -0.714117222073227, 0.178742089535403, 0.308760262862376, 1e-12},
		{"Paule-Mandel", stat.PauleMandel, -0.714968153493444, 0.180892191537624, 0.318068452205024, 1e-5}, // metafor solves to 1e-5
		{"REML", stat.REML, -0.714532342158139, 0.179781516105206, 0.313243258136481, 1e-6},                // and iterates to 1e-5
	} {
		r, ok := stat.NewRandomEffects(y, v, nil, c.method)
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" mean", r.B[0], c.mu, c.tol)
		near(t, c.name+" plain SE", r.Wald[0], c.se, c.tol)
		near(t, c.name+" tau2", r.Tau2, c.tau2, c.tol)
		near(t, c.name+" Q", r.Q, 152.233008082373, 1e-12)
	}
	r, _ := stat.NewRandomEffects(y, v, nil, stat.REML)
	near(t, "Knapp-Hartung SE", r.SE[0], 0.180791744092848, 1e-6)
	low, high := r.Limits(0, 0.95)
	near(t, "low", low, -1.10844371368555, 1e-5)
	near(t, "high", high, -0.320620970630728, 1e-5)
}

// beforeAfter are eight invented sessions, a lesson after the fourth. A Welch
// test on the balls says p = .0046; the balls of a session are not
// independent, and the sessions say .20.
var beforeAfter = [][]float64{
	{7.1, 12.2, 7.6, 13.5, 12.4, 7.6},
	{7.3, 3.7, 0.3, 1.8, 2.5, 5, 4.7, 4.3, 5.8},
	{-0.3, 6.4, 3.6, 5.1, 4.6},
	{1.1, 2.8, 1.3, 5.3, 3.8, 3.3, 2.5, 2.1, 6, 0.7, 3.2, 4.3},
	{4.4, -0.4, 0.6, -1.9, 0.4, 0.3, 4.7},
	{2.8, 1.6, 3.7, 0.7, 1.3, 2.3, 5.6, 3.2, 2.6, -2.6},
	{4.2, 3.8, 1.2, 3.6},
	{2.8, 3.7, 4.1, 3.2, 5.1, 4.3, 5.2, 5.5},
}

// R package metafor, rma(y, v, mods = ~after, method = "REML", test = "knha")
// [C]; lmer with Satterthwaite's and Kenward and Roger's degrees of freedom
// says .2007 and .2006.
func TestRandomEffectsBeforeAfter(t *testing.T) {
	var samples []stat.Sample
	for _, s := range beforeAfter {
		samples = append(samples, stat.SampleOf(s))
	}
	within, _, _ := stat.Pooled(samples...)
	near(t, "variance within", within, 4.25018665768194, 1e-12)
	var y, v []float64
	for _, s := range samples {
		y = append(y, s.Mean)
		v = append(v, within/float64(s.N))
	}
	r, ok := stat.NewRandomEffects(y, v, []float64{0, 0, 0, 0, 1, 1, 1, 1}, stat.REML)
	if !ok || r.DF != 6 {
		t.Fatalf("ok, DF = %v, %d; want true, 6", ok, r.DF)
	}
	near(t, "difference", r.B[1], -2.5205232285469, 1e-6)
	near(t, "tau2", r.Tau2, 5.5212418863815, 1e-4) // metafor iterates to 1e-5
	near(t, "SE", r.SE[1], 1.75431354754883, 1e-5)
	near(t, "p", r.P(1), 0.200813814848598, 1e-5)
	low, high := r.Limits(1, 0.95)
	near(t, "low", low, -6.8131738386683, 1e-5)
	near(t, "high", high, 1.7721273815745, 1e-5)

	naive, _ := stat.Welch(
		stat.SampleOf(concat(beforeAfter[:4])), stat.SampleOf(concat(beforeAfter[4:])))
	near(t, "the wrong p", naive.P, 0.00462841390230638, 1e-10)
}

func concat(groups [][]float64) (all []float64) {
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// With equal variances the model is least squares: its p is that of Student's
// pooled test on the session means.
func TestRandomEffectsEqualVariances(t *testing.T) {
	x := []float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}
	y := append(append([]float64{}, sleepA...), sleepB...)
	want, _ := stat.PooledT(stat.SampleOf(sleepB), stat.SampleOf(sleepA))
	for _, each := range []float64{0, 0.5, 2} {
		v := make([]float64, len(y))
		for i := range v {
			v[i] = each
		}
		r, ok := stat.NewRandomEffects(y, v, x, stat.REML)
		if !ok {
			t.Fatalf("v = %v: not ok", each)
		}
		near(t, "difference", r.B[1], want.Difference, 1e-10)
		near(t, "p", r.P(1), want.P, 1e-10)
		near(t, "tau2", r.Tau2, 1.89862525363032*1.89862525363032-each, 1e-6)
	}
}
