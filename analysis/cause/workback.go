package cause

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// workBack flies the set with other faces and paths until the miss
// is gone: with either number alone, and with what the verdict asks for, which
// moves every number it moves toward the target. Then it names the setup tool
// that moves the same numbers the same way, and how far.
//
// A wind that was said is another one tomorrow: what it has of the miss is left to it.
func (e evidence) workBack(r *Result, draws []draw) WorkBack {
	miss := r.Miss.Mean - e.wind
	if r.Verdict == Strike {
		// The strike has to move, and no tool of setup is known for that.
		return WorkBack{OK: true, Number: analysis.StrikeToe}
	}
	w := WorkBack{OK: true}
	w.FaceAlone = e.alone(miss, r.Miss.N, draws, change{face: 1})
	w.PathAlone = e.alone(miss, r.Miss.N, draws, change{path: 1})

	off := change{r.Delivery[analysis.Face].Mean - r.RefFace, r.Delivery[analysis.Path].Mean - r.RefPath}
	var need change
	switch r.Verdict {
	case Aim:
		w.Number = analysis.Face
		both := (off.face + off.path) / 2
		need = change{-both, -both}
	case Path:
		w.Number = analysis.Path
		need = change{path: w.PathAlone.Mean}
		if !w.PathAlone.OK {
			need = e.together(off, miss)
		}
	case FaceAndPath:
		w.Number = analysis.FaceToPath
		need = e.together(off, miss)
	default:
		w.Number = analysis.Face
		need = change{face: w.FaceAlone.Mean}
		if !w.FaceAlone.OK {
			need = e.together(off, miss)
		}
	}
	w.FaceBy, w.PathBy = need.face, need.path
	if r.Or == Aim {
		return w // another grip mends no aim, which is looked to first
	}
	if w.Tool, w.ToolShare = e.tool(r.Verdict, off, need, miss); w.Tool != "" {
		w.Grounds = e.config.ResponseOf(w.Tool).Grounds
	}
	return w
}

// shift is how far a change of face and path moves the balls sideways, m,
// in the standard model.
func (e evidence) shift(by change) float64 {
	return e.lateral(e.standard, e.own, by) - e.lateral(e.standard, e.own, change{})
}

// lateral is where a model has the balls in the mean, each with its face and path
// changed: the middle of two balls a standard deviation of face against path to
// either side of the middle one. The further off the face is from the path, the less
// another degree is worth, and the middle ball alone would have all of a degree.
func (e evidence) lateral(m *ball.Model, own ball.Departure, by change) float64 {
	at := func(by change) float64 {
		d := e.typical
		d.Face += by.face
		d.Path += by.path
		return m.Land(d, own).Lateral
	}
	return (at(by.plus(e.apart)) + at(by.plus(e.apart.times(-1)))) / 2
}

// apart is how far face and path are from their means where the face is a
// standard deviation further from the path.
func apart(balls []struck) change {
	faces, paths, between := make([]float64, len(balls)), make([]float64, len(balls)), make([]float64, len(balls))
	for i, b := range balls {
		faces[i], paths[i], between[i] = b.delivery.Face, b.delivery.Path, b.delivery.Face-b.delivery.Path
	}
	sd := math.Sqrt(variance(between))
	if !(sd > 0) {
		return change{}
	}
	return change{covariance(faces, between) / sd, covariance(paths, between) / sd}
}

// together is the change that moves face and path toward the target by the same
// part of what each is off, as far as the miss asks for and never past it. A
// number that leans against the miss is left where it is: moving it to the
// target would make the miss larger.
func (e evidence) together(off change, miss float64) change {
	full := change{-off.face, -off.path}
	if e.shift(change{face: full.face})*miss >= 0 {
		full.face = 0
	}
	if e.shift(change{path: full.path})*miss >= 0 {
		full.path = 0
	}
	part, ok := smallest(func(t float64) float64 { return e.shift(full.times(t)) + miss }, 1)
	if !ok || part < 0 {
		part = 1
	}
	return full.times(part)
}

// How far a number may be asked to move at all, and how wide limits may be
// before a golfer can do nothing with them (our choice): within 20 degrees, to
// one side, and no wider than the change itself and four degrees more.
const (
	furthest    = 20 * analysis.Degree
	widestExtra = 4 * analysis.Degree
)

// alone is the change of one number that lands the balls on target. It is
// not OK where none within reach does, or where limits are too wide to use: then
// that number alone will not do.
func (e evidence) alone(miss float64, n int, draws []draw, way change) analysis.Estimate {
	mean, ok := smallest(func(x float64) float64 { return e.shift(way.times(x)) + miss }, furthest)
	if !ok {
		return analysis.Estimate{}
	}
	a := analysis.Estimate{N: n, Mean: mean}
	curves, needs := e.curves(way), make([]float64, len(draws))
	for i, d := range draws {
		needs[i] = curves[d.model].against(d.miss()-e.wind, mean)
	}
	slices.Sort(needs)
	a.Low, a.High = stat.SortedQuantile(needs, 0.025), stat.SortedQuantile(needs, 0.975)
	if math.IsInf(a.Low, 0) || math.IsInf(a.High, 0) || math.IsNaN(a.Low) || math.IsNaN(a.High) ||
		a.High-a.Low > math.Abs(mean)+widestExtra || a.Low > mean || a.High < mean || a.Low*a.High <= 0 {
		return analysis.Estimate{N: n, Mean: mean}
	}
	a.OK = true
	return a
}

// smallest is the zero of f nearest to nothing, within most to either side; f
// is looked at in steps of a twentieth of that, and the zero found by false
// position.
func smallest(f func(float64) float64, most float64) (x float64, ok bool) {
	const steps = 20
	at := f(0)
	if at == 0 {
		return 0, true
	}
	last := [2]float64{at, at}
	for k := 1; k <= steps; k++ {
		for i, side := range [...]float64{1, -1} {
			far := side * most * float64(k) / steps
			v := f(far)
			if v == 0 {
				return far, true
			}
			if (v > 0) != (last[i] > 0) {
				near := side * most * float64(k-1) / steps
				a, b, fa, fb := near, far, last[i], v
				for range 6 {
					x := (a*fb - b*fa) / (fb - fa)
					fx := f(x)
					if (fx > 0) == (fa > 0) {
						a, fa = x, fx
					} else {
						b, fb = x, fx
					}
					if math.Abs(fx) < 0.01 { // m
						return x, true
					}
				}
				return (a*fb - b*fa) / (fb - fa), true
			}
			last[i] = v
		}
	}
	return 0, false
}

// curvePoints are the changes that each possible model is flown with, rad.
var curvePoints = [...]float64{-20 * analysis.Degree, -10 * analysis.Degree, -4 * analysis.Degree, 0, 4 * analysis.Degree, 10 * analysis.Degree, 20 * analysis.Degree}

const middlePoint = len(curvePoints) / 2

// A curve is how far changes of one number move the balls in one model, m.
// They are flown when they are asked for: few are.
type curve struct {
	lateral func(by float64) float64
	at      [len(curvePoints)]float64
	flown   [len(curvePoints)]bool
}

func (c *curve) moved(i int) float64 {
	if !c.flown[i] {
		c.at[i], c.flown[i] = c.lateral(curvePoints[i]), true
		if i != middlePoint {
			c.moved(middlePoint)
		}
	}
	return c.at[i] - c.at[middlePoint]
}

// curves are those of a change one way, model by model.
func (e evidence) curves(way change) []curve {
	all := make([]curve, len(e.models))
	for k := range e.models {
		p := &e.models[k]
		all[k].lateral = func(by float64) float64 { return e.lateral(&p.model, p.own, way.times(by)) }
	}
	return all
}

// against is the change on a curve that takes a miss away: the one nearest to
// nothing, and infinite, on the side of guess, where none within reach does.
func (c *curve) against(miss, guess float64) float64 {
	for k := range middlePoint {
		more, okMore := c.crossing(middlePoint+k, middlePoint+k+1, miss)
		less, okLess := c.crossing(middlePoint-k, middlePoint-k-1, miss)
		switch {
		case okLess && (!okMore || -less < more):
			return less
		case okMore:
			return more
		}
	}
	return math.Copysign(math.Inf(1), guess)
}

// crossing is where between two points of a curve a miss is gone.
func (c *curve) crossing(i, j int, miss float64) (x float64, ok bool) {
	a, b := c.moved(i)+miss, c.moved(j)+miss
	if a == 0 {
		return curvePoints[i], true
	}
	if (a > 0) == (b > 0) {
		return 0, false
	}
	return curvePoints[i] + (curvePoints[j]-curvePoints[i])*a/(a-b), true
}
