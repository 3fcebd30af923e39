package asked

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/stat"
)

// Controlled lists the numbers of the delivery that control is of.
func Controlled() []analysis.Number {
	return []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack, analysis.DynamicLoft, analysis.ClubSpeed}
}

// A Hit set is the shot that was asked for and how it was delivered.
type Hit struct {
	Want  Want
	Swing cause.Swing
}

// A Control is how a golfer's club answered to what the shots of one session asked
// of it.
type Control struct {
	Gains []Gain
	Along []Along
}

// A Gain is the share of the change that was asked of a number which the golfer
// made: the slope of the one over the other.
type Gain struct {
	Number analysis.Number
	Shots  int
	Asked  float64           // from the least to the most that was asked of it, SI
	Made   analysis.Estimate // the share, with limits
}

// An Along is a number that moved though nothing was asked of it.
type Along struct {
	Number analysis.Number
	Set    int               // of the sets that were handed over
	By     analysis.Estimate // against the usual set, SI
}

// least is how far apart shots have to ask for a number before it has a gain.
func leastAsked(n analysis.Number, usual float64) float64 {
	if n == analysis.ClubSpeed {
		return 0.03 * usual
	}
	return 1.5 * analysis.Degree
}

// ControlOf is the control over the sets of one club. What each shot asks of the
// club is worked back from the usual swing; the usual set itself was asked for
// nothing, and is one of the points where its shot is the zero Want.
func ControlOf(usual cause.Swing, sets []Hit) (c Control) {
	if !usual.OK {
		return c
	}
	needs := make([]cause.Need, len(sets))
	for i, s := range sets {
		if !s.Swing.OK {
			continue
		}
		if goal := s.Want.Goal(); s.Want != (Want{}) {
			needs[i] = usual.Reach(goal)
		} else {
			needs[i] = usual.Stay()
		}
	}
	for _, n := range Controlled() {
		if g, ok := gainOf(n, usual, sets, needs); ok {
			c.Gains = append(c.Gains, g)
		} else {
			c.Along = append(c.Along, alongOf(n, usual, sets, needs)...)
		}
	}
	return c
}

// gainOf is the weighted least-squares slope of what was delivered over what was
// asked for. Its limits are Student's, from the scatter of the balls about their
// own set's mean, with the slope's doubt over the models that may be true.
func gainOf(n analysis.Number, usual cause.Swing, sets []Hit, needs []cause.Need) (g Gain, ok bool) {
	var x, y, w []float64
	var samples []stat.Sample
	var of []int
	for i, s := range sets {
		e := s.Swing.Delivery[n]
		if !needs[i].OK || e.N < 2 {
			continue
		}
		sample := sampleOf(e)
		samples = append(samples, sample)
		x, y, w, of = append(x, needs[i].Move.Of(n)), append(y, e.Mean), append(w, sample.Counted), append(of, i)
	}
	if len(x) < 2 {
		return g, false
	}
	g = Gain{Number: n, Shots: len(x), Asked: span(x)}
	if g.Asked < leastAsked(n, usual.Usual.ClubSpeed) {
		return g, false
	}
	variance, df, pooled := stat.Pooled(samples...)
	slope, sxx := slopeOf(x, y, w)
	if !pooled || !(sxx > 0) {
		return g, false
	}
	doubt, models := 0.0, 0
	for k := range needs[of[0]].Others {
		other := make([]float64, len(x))
		for j, i := range of {
			other[j] = needs[i].Others[k].Of(n)
		}
		if s, xx := slopeOf(other, y, w); xx > 0 {
			doubt += (s - slope) * (s - slope)
			models++
		}
	}
	if models > 0 {
		doubt /= float64(models)
	}
	half := math.Hypot(stat.StudentQuantile(0.975, df)*math.Sqrt(variance/sxx), 1.96*math.Sqrt(doubt))
	g.Made = analysis.Estimate{N: df + len(x), Mean: slope, Low: slope - half, High: slope + half, SD: math.Sqrt(variance/sxx + doubt), OK: true}
	return g, true
}

func span(x []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range x {
		low, high = min(low, v), max(high, v)
	}
	return high - low
}

func slopeOf(x, y, w []float64) (slope, sxx float64) {
	var sw, mx, my float64
	for i := range x {
		sw, mx, my = sw+w[i], mx+w[i]*x[i], my+w[i]*y[i]
	}
	mx, my = mx/sw, my/sw
	sxy := 0.0
	for i := range x {
		sxx += w[i] * (x[i] - mx) * (x[i] - mx)
		sxy += w[i] * (x[i] - mx) * (y[i] - my)
	}
	return sxy / sxx, sxx
}

// alongOf are the sets in which a number moved against the usual set though
// hardly anything was asked of it: by more than a golfer cares about, with limits
// on one side after Holm's adjustment for the sets.
func alongOf(n analysis.Number, usual cause.Swing, sets []Hit, needs []cause.Need) (all []Along) {
	base := usual.Delivery[n]
	if base.N < 2 {
		return nil
	}
	least := leastAsked(n, usual.Usual.ClubSpeed)
	var found []Along
	var p []float64
	for i, s := range sets {
		e := s.Swing.Delivery[n]
		if s.Want == (Want{}) || e.N < 2 || needs[i].OK && math.Abs(needs[i].Move.Of(n)) > least/2 {
			continue
		}
		d, ok := stat.NewBehrensFisher(sampleOf(e), sampleOf(base))
		if !ok {
			continue
		}
		low, high := d.Limits(0.95)
		found = append(found, Along{n, i, analysis.Estimate{N: e.N, Mean: d.Difference, Low: low, High: high, SD: d.SE, OK: true}})
		p = append(p, d.P(0))
	}
	for i, adjusted := range stat.Holm(p) {
		if adjusted < 0.05 && math.Abs(found[i].By.Mean) > least*2/3 {
			all = append(all, found[i])
		}
	}
	return all
}

// sampleOf is a mean as a sample, of as many balls as its limits say it counts
// for.
func sampleOf(e analysis.Estimate) stat.Sample {
	s := stat.Sample{N: e.N, Mean: e.Mean, Variance: e.SD * e.SD, Counted: float64(e.N)}
	if half := stat.StudentQuantile(0.975, e.N-1) * e.SD / math.Sqrt(float64(e.N)); half > 0 && e.High > e.Low {
		s.Counted *= math.Pow(2*half/(e.High-e.Low), 2)
	}
	return s
}
