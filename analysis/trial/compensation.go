package trial

import (
	"math"

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
		if f := cancelled(base, here, t.WorthDoubt); f.OK {
			c.OK, c.Cancelled, c.Low, c.High = true, f.Value, f.Low, f.High
		}
		c.Reverse = cancelled(metres{base.path, base.face}, metres{here.path, here.face}, t.WorthDoubt)
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
// logarithm, with the weight of each: Gauss and Hermite's rule of five points.
var doubts = [...]struct{ off, weight float64 }{
	{0, 8. / 15}, {1.3556261799742659, 0.2220759220056126}, {-1.3556261799742659, 0.2220759220056126},
	{2.8569700138728056, 0.0112574113277207}, {-2.8569700138728056, 0.0112574113277207},
}

// cancelled is the fraction of the face's effect that the path cancelled, with
// Fieller's limits: the fractions f for which the difference of path + f face
// is not told apart from zero, on average over what the ratio of their worths
// may be. They are bounded when, and only when, the face's own difference is.
func cancelled(base, here metres, doubt float64) Fraction {
	apart := func(f float64) float64 {
		d, ok := stat.NewBehrensFisher(stat.SampleOf(sum(here, f)), stat.SampleOf(sum(base, f)))
		if !ok {
			return 0
		}
		return d.P(0)
	}
	p := apart
	if doubt > 0 {
		p = func(f float64) (mean float64) {
			for _, d := range doubts {
				mean += d.weight * apart(f*math.Exp(d.off*doubt))
			}
			return mean
		}
	}
	face, ok := stat.NewBehrensFisher(stat.SampleOf(here.face), stat.SampleOf(base.face))
	if !ok || face.P(0) >= alpha {
		return Fraction{}
	}
	path := stat.SampleOf(here.path).Mean - stat.SampleOf(base.path).Mean
	r := Fraction{Value: -path / face.Difference}
	var okLow, okHigh bool
	r.Low, okLow = edge(p, r.Value, -1)
	r.High, okHigh = edge(p, r.Value, 1)
	r.OK = okLow && okHigh
	if !r.OK {
		return Fraction{}
	}
	return r
}

func sum(m metres, f float64) []float64 {
	out := make([]float64, len(m.path))
	for i := range out {
		out[i] = m.path[i] + f*m.face[i]
	}
	return out
}

// edge walks from the fraction at, where p is 1, toward side until p falls to
// alpha.
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
