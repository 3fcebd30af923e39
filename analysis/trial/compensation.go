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
	baseFace, basePath := both(t.used[0])
	if len(baseFace) == 0 {
		return nil
	}
	var all []Compensation
	for set := 1; set < len(t.sets); set++ {
		face, path := both(t.used[set])
		if len(face) == 0 {
			continue
		}
		base := metres{scaled(baseFace, t.FaceWorth), scaled(basePath, t.PathWorth)}
		here := metres{scaled(face, t.FaceWorth), scaled(path, t.PathWorth)}
		c := Compensation{Set: set, Lead: analysis.Face}
		c.FaceM = stat.SampleOf(here.face).Mean - stat.SampleOf(base.face).Mean
		c.PathM = stat.SampleOf(here.path).Mean - stat.SampleOf(base.path).Mean
		c.Opposed = c.FaceM*c.PathM < 0
		if f := t.cancelled(base, here); f.OK {
			c.OK, c.Cancelled, c.Low, c.High = true, f.Value, f.Low, f.High
		}
		c.Reverse = t.cancelled(metres{base.path, base.face}, metres{here.path, here.face})
		if tool := ToolOf(t.sets[set].Label); tool == analysis.BallForward || tool == analysis.BallBack {
			c.Lead = analysis.Path
		}
		all = append(all, c)
	}
	return all
}

// metres are the face and path of some balls, each in metres of lateral.
type metres struct{ face, path []float64 }

// both lists face and path of the shots that have both.
func both(shots []analysis.Shot) (face, path []float64) {
	for _, s := range shots {
		f, okFace := s.Value(analysis.Face)
		p, okPath := s.Value(analysis.Path)
		if okFace && okPath {
			face = append(face, f)
			path = append(path, p)
		}
	}
	return face, path
}

func scaled(values []float64, by float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v * by
	}
	return out
}

// doubts are how far a ratio of worths may be off, in standard deviations of its
// logarithm: the middles of as many equally likely parts.
var doubts = func() (off [21]float64) {
	for i := range off {
		off[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(len(off)))
	}
	return off
}()

// cancelled is the fraction of the face's effect that the path cancelled, with
// Fieller's limits: the fractions f for which the difference of path + f face
// is not told apart from zero. They are bounded when, and only when, the face's own
// difference is.
//
// What the ratio of their worths may be is averaged over, one side at a time: the
// probability that the fraction is under f rises with f in every world, so it does
// on average, where the two-sided one has a peak for each world and gaps between.
func (t *trial) cancelled(base, here metres) Fraction {
	with, okWith := stat.MomentsOf(here.face, here.path)
	without, okWithout := stat.MomentsOf(base.face, base.path)
	if !okWith || !okWithout {
		return Fraction{}
	}
	face, ok := stat.NewBehrensFisher(t.sample(with.N, with.X, with.XX), t.sample(without.N, without.X, without.XX))
	if !ok || face.P(0) >= alpha {
		return Fraction{}
	}
	sum := func(m stat.Moments, f float64) stat.Sample { // of path + f face
		return t.sample(m.N, m.Y+f*m.X, max(0, m.YY+2*f*m.XY+f*f*m.XX))
	}
	apart := func(f float64) (stat.BehrensFisher, bool) {
		return stat.NewBehrensFisher(sum(with, f), sum(without, f))
	}
	p := func(f float64) float64 {
		d, ok := apart(f)
		if !ok {
			return 0
		}
		return d.P(0)
	}
	r := Fraction{Value: -(with.Y - without.Y) / face.Difference}
	if d, ok := apart(r.Value); ok && t.WorthDoubt > 0 {
		// The tails of a normal curve as wide as the limits: what is averaged over
		// is looked at hundreds of times.
		low, high := d.Limits(1 - alpha)
		wide := 2 * d.SE * distuv.UnitNormal.Quantile(1-alpha/2) / (high - low)
		under := func(f float64) float64 {
			d, ok := apart(f)
			if !ok {
				return 0
			}
			return distuv.UnitNormal.CDF(math.Copysign(wide, face.Difference) * d.Difference / d.SE)
		}
		p = func(f float64) float64 {
			low := 0.0
			for _, off := range doubts {
				low += under(f*math.Exp(off*t.WorthDoubt)) / float64(len(doubts))
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
