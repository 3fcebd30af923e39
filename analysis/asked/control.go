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

// leastAsked is how far apart shots have to ask for a number before it has a gain.
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

// A point is one set of a slope: what was asked of a number and what was made.
type point struct {
	set    int
	x      float64
	others []float64 // x in each model that may be true as well
	sample stat.Sample
	shift  float64 // what all of x may be off from the usual set's own, a standard deviation
}

// gainOf is the weighted least-squares slope of what was delivered over what was
// asked for. Its limits are Student's, from the scatter of the balls about their
// own set's mean, with the slope's doubt over the models that may be true. The
// usual set is a point only where the shots alone do not span enough: they share
// what the usual ball may be off, and it does not.
func gainOf(n analysis.Number, usual cause.Swing, sets []Hit, needs []cause.Need) (g Gain, ok bool) {
	var asked, all []point
	for i, s := range sets {
		e := s.Swing.Delivery[n]
		if !needs[i].OK || e.N < 2 {
			continue
		}
		p := point{set: i, x: needs[i].Move.Of(n), sample: sampleOf(e)}
		for _, m := range needs[i].Others {
			p.others = append(p.others, m.Of(n))
		}
		if by := needs[i].By[n]; by.OK {
			p.shift = (by.High - by.Low) / 2 / 1.96
		}
		all = append(all, p)
		if s.Want != (Want{}) {
			asked = append(asked, p)
		}
	}
	least, shift := leastAsked(n, usual.Usual.ClubSpeed), 0.0
	points := asked
	if span(asked) < least {
		points = all
		for _, p := range asked {
			if p.shift > 0 && (shift == 0 || p.shift < shift) {
				shift = p.shift
			}
		}
	}
	g = Gain{Number: n, Shots: len(points), Asked: span(points)}
	if g.Asked < least {
		return g, false
	}
	var samples []stat.Sample
	for _, p := range points {
		samples = append(samples, p.sample)
	}
	variance, df, pooled := stat.Pooled(samples...)
	slope, sxx := slopeOf(points, func(p point) float64 { return p.x })
	if !pooled || !(sxx > 0) {
		return g, false
	}
	doubt, models := 0.0, len(points[0].others)
	for k := range models {
		if s, xx := slopeOf(points, func(p point) float64 { return p.others[k] }); xx > 0 {
			doubt += (s - slope) * (s - slope) / float64(models)
		}
	}
	off := math.Hypot(cause.MoveDoubt(n), shift/g.Asked)
	if !usual.Measured(n) {
		off = math.Hypot(off, workedBack)
	}
	doubt += math.Pow(off*slope, 2)
	half := math.Hypot(stat.StudentQuantile(0.975, df)*math.Sqrt(variance/sxx), 1.96*math.Sqrt(doubt))
	g.Made = analysis.Estimate{N: df + len(points), Mean: slope, Low: slope - half, High: slope + half, SD: math.Sqrt(variance/sxx + doubt), OK: true}
	return g, true
}

// workedBack is what the change of a number that was worked back from the ball
// may be off, a fraction of it (our choice).
const workedBack = 0.15

// span is how far apart the points ask.
func span(points []point) float64 {
	if len(points) == 0 {
		return 0
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, p.x), max(high, p.x)
	}
	return high - low
}

// slopeOf is the slope over x of the means, each by the balls it counts for.
func slopeOf(points []point, of func(point) float64) (slope, sxx float64) {
	var sw, mx, my float64
	for _, p := range points {
		w := p.sample.Counted
		sw, mx, my = sw+w, mx+w*of(p), my+w*p.sample.Mean
	}
	mx, my = mx/sw, my/sw
	sxy := 0.0
	for _, p := range points {
		w, x := p.sample.Counted, of(p)-mx
		sxx += w * x * x
		sxy += w * x * (p.sample.Mean - my)
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
