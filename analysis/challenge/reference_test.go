package challenge_test

import (
	"math"
	"testing"

	"rangepost/analysis/challenge"
	"rangepost/analysis/stat"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s = %.15g, want %.15g (tolerance %g)", what, got, want, tol)
	}
}

// Six invented members with 3 to 40 balls each, by mean distance.
var (
	memberBalls = []int{5, 40, 12, 20, 8, 3}
	memberMean  = []float64{6.2, 8.9, 7.4, 10.1, 9, 5.5}
	memberSD    = []float64{2.9, 4.1, 3.3, 4.6, 3.8, 1.2}
)

// Limits of shares: Newcombe 1998 (Stat. Med. 17:857), table I, the four
// examples .2553 to .3662, .0624 to .1605, 0 to .1611, .0061 to .1718 [M];
// digits from R 4.2.2 prop.test(x, n, correct = FALSE) [C].
func TestSharesHaveWilsonLimits(t *testing.T) {
	for _, c := range []struct {
		in, of    int
		low, high float64
	}{
		{81, 263, 0.255288519878274, 0.3662095769828},
		{15, 148, 0.0623863995307363, 0.160487241723308},
		{0, 20, 0, 0.161125158052819},
		{1, 29, 0.00611321429276265, 0.171755218793203},
		{7, 12, 0.31951131254955, 0.806739686341243},
		{3, 5, 0.230724281276013, 0.882379225767352},
		{0, 5, 0, 0.434482464783175},
		{5, 5, 0.565517535216825, 1},
	} {
		zone := challenge.Terms{Rule: challenge.Zone, Target: 100, Wide: 10, Deep: 10}
		var s challenge.Stretch
		for i := range c.of {
			b := challenge.Ball{Carry: 100, Lateral: 20}
			if i*c.in/c.of != (i+1)*c.in/c.of { // in no streaks
				b.Lateral = 0
			}
			s.Balls = append(s.Balls, b)
		}
		got := zone.Score(s, challenge.Past{})
		near(t, "low", got.Low, c.low, 1e-12)
		near(t, "high", got.High, c.high, 1e-12)
		if got.In != c.in || got.Of != c.of {
			t.Errorf("%d of %d inside, want %d of %d", got.In, got.Of, c.in, c.of)
		}
	}
}

// Who is likely the best: R, integrate(phi_i prod(1 - Phi_j)) over the drawn-in
// means [C]. The member with three lucky balls leads as seen, at 5.5, and is
// not the likeliest.
func TestChanceOfBeingTheBest(t *testing.T) {
	drawn := []float64{8.12850456606723, 8.74922019380087, 8.15267752202709, 9.21295327378086, 8.62817273572796, 8.19069728062109}
	errors := []float64{0.874272709614302, 0.544164359579107, 0.764837411396639, 0.677551862004804, 0.822292365413181, 0.914450676913068}
	sum := 0.0
	for i, want := range []float64{0.293577705289361, 0.0396524281327003, 0.258951944011131, 0.0169849546875196, 0.115554965771999, 0.27527800210729} {
		got := challenge.ChanceLeast(drawn, errors, i)
		near(t, "chance", got, want, 1e-7)
		sum += got
	}
	near(t, "sum", sum, 1, 1e-9)
}

// Rank intervals from pairs: R, pairwise t with the pooled variance (82 degrees
// of freedom) and p.adjust "holm" [C]: the smallest p is .0549 as it stands and
// .823 adjusted, so each of the six may hold any rank.
func TestRanksOfMembers(t *testing.T) {
	var members []stat.Sample
	for i, n := range memberBalls {
		members = append(members, stat.Sample{N: n, Mean: memberMean[i], Variance: memberSD[i] * memberSD[i]})
	}
	pooled, df, _ := stat.Pooled(members...)
	near(t, "pooled variance", pooled, 16.0368292682927, 1e-12)
	var raw []float64
	pairs := challenge.Apart(6, func(i, j int) (float64, bool) {
		p := pooledP(members[i], members[j], pooled, df)
		raw = append(raw, p)
		return p, true
	})
	// In the order of pairs (1,2), (1,3), ..., (5,6).
	for k, want := range []float64{
		0.158995495709831, 0.575002025219863, 0.0548656467356545, 0.223531871044093, 0.811428890592586,
		0.258425137875427, 0.2770769434322, 0.94874849025486, 0.159885020646144,
		0.0684362948089048, 0.383940776014297, 0.464423460093299,
		0.513263546762854, 0.067149205285957, 0.200339882460358,
	} {
		near(t, "p", raw[k], want, 1e-10)
	}
	near(t, "smallest adjusted p", stat.Holm(raw)[2], 0.822984701034818, 1e-10)
	low, high := pairs.Ranks()
	for i := range 6 {
		if low[i] != 1 || high[i] != 6 {
			t.Errorf("member %d may hold ranks %d to %d, want 1 to 6", i+1, low[i], high[i])
		}
	}
}
