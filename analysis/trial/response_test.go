package trial_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

func find(t *testing.T, all []trial.Response, tool analysis.Tool, n analysis.Number) trial.Response {
	t.Helper()
	for _, r := range all {
		if r.Tool == tool && r.Number == n {
			return r
		}
	}
	t.Fatalf("no response of %s to %s", n, tool)
	return trial.Response{}
}

// With nothing seen the answer is the trade's prior, mirrored for a left-hander
// where the tool goes by the golfer and not where it goes by the target.
func TestLearnNothing(t *testing.T) {
	right, left := trial.Learn(nil, analysis.RightHanded), trial.Learn(nil, analysis.LeftHanded)
	ofClub := 0
	for _, n := range analysis.Compared() {
		if n.Info().Of == analysis.OfClub {
			ofClub++
		}
	}
	if want := len(analysis.Tools()) * ofClub; ofClub < 6 || len(right) != want {
		t.Fatalf("%d responses, want %d", len(right), want)
	}
	for _, c := range []struct {
		tool   analysis.Tool
		number analysis.Number
		mirror float64
	}{
		{analysis.StrongerGrip, analysis.Face, -1},
		{analysis.BallBack, analysis.Path, -1},
		{analysis.BallBack, analysis.Attack, 1},
		{analysis.AimLeft, analysis.Face, 1},
	} {
		r, l := find(t, right, c.tool, c.number), find(t, left, c.tool, c.number)
		if r.Trials != 0 || math.Abs(r.Mean-r.PriorMean) > 1e-12 || math.Abs(r.SD-r.PriorSD) > 1e-12 {
			t.Errorf("%s of %s: %+v is not its prior", c.number, c.tool, r)
		}
		if math.Abs(l.Mean-c.mirror*r.Mean) > 1e-12 {
			t.Errorf("%s of %s: left-handed %v, right-handed %v", c.number, c.tool, l.Mean, r.Mean)
		}
		if half := 1.959964 * r.PriorSD; math.Abs(r.High-r.Mean-half) > 1e-6 {
			t.Errorf("%s of %s: limits %v to %v are not the prior's", c.number, c.tool, r.Low, r.High)
		}
	}
}

// The figures are those of a numerical integration over effect and spread, by
// an independent route: the posterior on a plain grid.
func TestLearnAgainstGrid(t *testing.T) {
	deg := analysis.Degree
	seen := []analysis.Observation{
		{Tool: analysis.StrongerGrip, Number: analysis.Face, Difference: -3.1 * deg, SE: 0.7 * deg, Balls: 10},
		{Tool: analysis.StrongerGrip, Number: analysis.Face, Difference: -1.2 * deg, SE: 0.9 * deg, Balls: 8},
		{Tool: analysis.StrongerGrip, Number: analysis.Path, Difference: -1.2 * deg, SE: 0.9 * deg, Balls: 8},
	}
	got := find(t, trial.Learn(seen, analysis.RightHanded), analysis.StrongerGrip, analysis.Face)
	if got.Trials != 2 || got.Balls != 18 {
		t.Errorf("Trials, Balls = %d, %d; want 2, 18", got.Trials, got.Balls)
	}
	normal := func(x, sd float64) float64 { return math.Exp(-x*x/(2*sd*sd)) / sd }
	var sum, mean, square, cumulative, low float64
	const step = 0.01
	for pass := range 2 {
		for mu := -15.0; mu < 12; mu += step {
			at := 0.0
			for u := step / 2; u < 1; u += step { // by shares of tau's prior
				tau := 2 * math.Tan(math.Pi/2*u)
				at += normal(mu+2, 3) *
					normal(-3.1-mu, math.Hypot(tau, 0.7)) * normal(-1.2-mu, math.Hypot(tau, 0.9))
			}
			if pass == 0 {
				sum += at
				mean += at * mu
				square += at * mu * mu
				continue
			}
			if cumulative += at / sum; cumulative < 0.025 {
				low = mu
			}
		}
	}
	mean /= sum
	sd := math.Sqrt(square/sum - mean*mean)
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"mean", got.Mean / deg, mean}, {"SD", got.SD / deg, sd}, {"low", got.Low / deg, low}} {
		// 32 values of the spread between trials against 100: a hundredth of a
		// degree.
		if math.Abs(c.got-c.want) > 0.02 {
			t.Errorf("%s = %.4f deg, want %.4f", c.what, c.got, c.want)
		}
	}
}

// Students whose tool effects are drawn about as the prior has it, and differ from
// trial to trial: limits hold the truth in 93 to 97 % from the first trial on,
// whatever the sizes. Then one student far from what the trade expects, whom
// the trials must win over: a stronger grip that opens the face by 3 deg.
func TestSimulatedResponse(t *testing.T) {
	const trials = 4
	for _, c := range []struct {
		name string
		mean func(rng *rand.Rand) float64 // deg
		tau  func(rng *rand.Rand) float64
	}{
		{"as the trade expects", func(rng *rand.Rand) float64 { return -2 + 3*rng.NormFloat64() }, func(rng *rand.Rand) float64 { return math.Abs(1.5 * rng.NormFloat64() / rng.NormFloat64()) }},
		{"as much from trial to trial as some", func(rng *rand.Rand) float64 { return -2 + 3*rng.NormFloat64() }, func(*rand.Rand) float64 { return 2.5 }},
		{"the other way round", func(*rand.Rand) float64 { return 3 }, func(*rand.Rand) float64 { return 0.7 }},
	} {
		rng := rand.New(rand.NewPCG(13, 14))
		var holds [trials]int
		n := 4 * *simulate
		for range n {
			mean, tau := c.mean(rng), c.tau(rng)
			var seen []analysis.Observation
			for k := range trials {
				effect := mean + tau*rng.NormFloat64()
				r := of(t, []analysis.Set{
					hit(rng, "normal", 1, 3+rng.IntN(20), neutral, 1),
					hit(rng, "strong grip", 100, 3+rng.IntN(20), neutral.with(effect, 0), 0.7+0.6*rng.Float64()),
				}, trial.Config{Numbers: []analysis.Number{analysis.Face}})
				seen = append(seen, trial.Observations(r)...)
				got := find(t, trial.Learn(seen, analysis.RightHanded), analysis.StrongerGrip, analysis.Face)
				if truth := mean * analysis.Degree; got.Low <= truth && truth <= got.High {
					holds[k]++
				}
			}
		}
		for k, h := range holds {
			low, high := share(t, c.name+", trials "+strconv.Itoa(k+1)+": limits hold it", h, n)
			if low > 0.97 || high < 0.93 {
				t.Errorf("%s, after %d trials: limits hold the truth outside 93 to 97 %%", c.name, k+1)
			}
		}
	}
}
