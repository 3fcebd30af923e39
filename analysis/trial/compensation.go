package trial

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// compensations weighs, for each set, what path did against what face did.
func (t *trial) compensations() []Compensation {
	if t.FaceWorth == 0 || t.PathWorth == 0 {
		return nil
	}
	base := t.metres(0)
	if len(base.lead) == 0 {
		return nil
	}
	var all []Compensation
	for set := 1; set < len(t.sets); set++ {
		here := t.metres(set)
		if len(here.lead) == 0 {
			continue
		}
		c := Compensation{Set: set, Lead: analysis.Face}
		c.FaceM = stat.SampleOf(here.lead).Mean - stat.SampleOf(base.lead).Mean
		c.PathM = stat.SampleOf(here.follow).Mean - stat.SampleOf(base.follow).Mean
		c.Opposed = c.FaceM*c.PathM < 0
		if f := t.cancelled(base, here); f.OK {
			c.OK, c.Cancelled, c.Low, c.High = true, f.Value, f.Low, f.High
		}
		c.Reverse = t.cancelled(base.turned(), here.turned())
		if tool := ToolOf(t.sets[set].Label); tool == analysis.BallForward || tool == analysis.BallBack {
			c.Lead = analysis.Path
		}
		all = append(all, c)
	}
	return all
}

// metres are what the number that leads and the one that follows put some balls
// sideways, m, the face and the path unless turned; and what a standard deviation of
// what the path is worth adds to either.
type metres struct{ lead, follow, leadBy, followBy []float64 }

func (m metres) turned() metres { return metres{m.follow, m.lead, m.followBy, m.leadBy} }

// in are the moments of the two in a world whose path is worth so many standard
// deviations more; not ok under two balls.
func (m metres) in(off float64) (stat.Moments, bool) {
	lead, follow := make([]float64, len(m.lead)), make([]float64, len(m.lead))
	for i := range lead {
		lead[i], follow[i] = m.lead[i]+off*m.leadBy[i], m.follow[i]+off*m.followBy[i]
	}
	return stat.MomentsOf(lead, follow)
}

// metres lists what face and path of a set's balls are worth: as the ball was split
// where balls were, else by what an angle is worth.
func (t *trial) metres(set int) (m metres) {
	for _, s := range t.used[set] {
		face, okFace := s.Value(analysis.Face)
		path, okPath := s.Value(analysis.Path)
		of, split := t.Split[s.N]
		if !okFace || !okPath || !split && len(t.Split) > 0 {
			continue
		}
		if !split {
			of = Metres{face * t.FaceWorth, path * t.PathWorth}
		}
		m.lead, m.follow = append(m.lead, of.Face), append(m.follow, of.Path)
		m.leadBy, m.followBy = append(m.leadBy, 0), append(m.followBy, t.WorthDoubt*path*t.FaceWorth)
	}
	return m
}

// doubts are worlds that may be the true one, in standard deviations of what the
// path is worth: the middles of as many equally likely parts.
var doubts = func() (off [21]float64) {
	for i := range off {
		off[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(len(off)))
	}
	return off
}()

// cancelled is the fraction of what the number that leads did that the other
// cancelled, with Fieller's limits: the fractions f for which the difference of
// follow + f lead is not told apart from zero. They are bounded when, and only when,
// the difference of the one that leads is.
//
// What the path may be worth is averaged over, one side at a time: the probability
// that the fraction is under f rises with f in every world, so it does on average,
// where the two-sided one has a peak for each world and gaps between.
func (t *trial) cancelled(base, here metres) Fraction {
	with, okWith := here.in(0)
	without, okWithout := base.in(0)
	if !okWith || !okWithout {
		return Fraction{}
	}
	lead, ok := stat.NewBehrensFisher(t.sample(with.N, with.X, with.XX), t.sample(without.N, without.X, without.XX))
	if !ok || lead.P(0) >= alpha {
		return Fraction{}
	}
	sum := func(m stat.Moments, f float64) stat.Sample { // of follow + f lead
		return t.sample(m.N, m.Y+f*m.X, max(0, m.YY+2*f*m.XY+f*f*m.XX))
	}
	p := func(f float64) float64 {
		d, ok := stat.NewBehrensFisher(sum(with, f), sum(without, f))
		if !ok {
			return 0
		}
		return d.P(0)
	}
	r := Fraction{Value: -(with.Y - without.Y) / lead.Difference}
	if d, ok := stat.NewBehrensFisher(sum(with, r.Value), sum(without, r.Value)); ok && t.WorthDoubt > 0 {
		// The tails of a normal curve as wide as the limits: what is averaged over
		// is looked at hundreds of times.
		low, high := d.Limits(1 - alpha)
		wide := math.Copysign(2*d.SE*distuv.UnitNormal.Quantile(1-alpha/2)/(high-low), lead.Difference)
		var worlds [len(doubts)][2]stat.Moments
		for i, off := range doubts {
			worlds[i][0], _ = here.in(off)
			worlds[i][1], _ = base.in(off)
		}
		p = func(f float64) float64 {
			low := 0.0
			for _, w := range worlds {
				if d, ok := stat.NewBehrensFisher(sum(w[0], f), sum(w[1], f)); ok {
					low += distuv.UnitNormal.CDF(wide*d.Difference/d.SE) / float64(len(worlds))
				}
			}
			return 2 * min(low, 1-low)
		}
	}
	var okLow, okHigh bool
	r.Low, okLow = edge(p, r.Value, -1)
	r.High, okHigh = edge(p, r.Value, 1)
	r.OK = okLow && okHigh
	if !r.OK {
		return Fraction{}
	}
	return r
}

// sample is one of balls that count as those of this trial do.
func (t *trial) sample(n int, mean, variance float64) stat.Sample {
	return stat.Sample{N: n, Mean: mean, Variance: variance, Counted: t.counts * float64(n)}
}

// edge walks from the fraction at, where p is about 1, toward side until p falls
// to alpha.
func edge(p func(float64) float64, at, side float64) (f float64, ok bool) {
	near, step := at, 0.125
	for p(at+side*step) > alpha {
		near = at + side*step
		if step *= 2; step > 1e6 {
			return 0, false
		}
	}
	far := at + side*step
	for range 40 {
		mid := (near + far) / 2
		if p(mid) > alpha {
			near = mid
		} else {
			far = mid
		}
		if math.Abs(far-near) < 1e-4 {
			break
		}
	}
	return (near + far) / 2, true
}
