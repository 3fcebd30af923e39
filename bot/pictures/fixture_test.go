package pictures

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/bot/words"
)

// a plan is what an invented set is drawn from.
type plan struct {
	balls      int
	face, path float64 // mean, deg
	sdFace     float64
	sdPath     float64
	rest       float64 // mean lateral owed to neither, m
	spread     float64 // sd of the rest, m
	carry      float64 // m
	hand       analysis.Hand
	seed       uint64
}

// faceWorth and pathWorth are lateral metres a degree, round figures of the
// order a mid-iron has.
const faceWorth, pathWorth = 4.2, -1.7

// invent draws a set by the plan and fills in results as the analysis would.
// The figures are plausible, not computed: the pictures' tests need shapes.
func invent(p plan) PostInput {
	rng := rand.New(rand.NewPCG(p.seed, 7))
	in := PostInput{Voice: words.Voice{Hand: p.hand}, Title: "Starts left, face 2.9° left of target", Who: "Wren", Target: p.carry}
	in.Set.Club = analysis.Club{Family: analysis.Iron, Number: 7}
	var xs, ys, miss, fm, pm, rest, faces, paths []float64
	for i := range p.balls {
		face, path := p.face+p.sdFace*rng.NormFloat64(), p.path+p.sdPath*rng.NormFloat64()
		f, q, o := faceWorth*face, pathWorth*path, p.rest+p.spread*rng.NormFloat64()
		y, x := f+q+o, p.carry-3+5*rng.NormFloat64()
		in.Pattern.Points = append(in.Pattern.Points, pattern.Point{N: i + 1, X: x, Y: y})
		in.Cause.Balls = append(in.Cause.Balls, cause.Split{N: i + 1, Face: face * analysis.Degree, Path: path * analysis.Degree, Miss: y, FaceM: f, PathM: q, Rest: o})
		xs, ys, miss, fm, pm, rest = append(xs, x), append(ys, y), append(miss, y), append(fm, f), append(pm, q), append(rest, o)
		faces, paths = append(faces, face*analysis.Degree), append(paths, path*analysis.Degree)
	}
	in.Pattern.Balls, in.Pattern.Used = p.balls, p.balls
	in.Pattern.Lateral, in.Pattern.Carry = estimate(ys), estimate(xs)
	if p.balls >= 5 {
		n := float64(p.balls)
		in.Pattern.Ellipse80 = ellipse(xs, ys, math.Sqrt(2*(n*n-1)/(n*(n-2))*quantileF(.8, n-2)))
		in.Pattern.Centre = ellipse(xs, ys, math.Sqrt(2*(n-1)/(n*(n-2))*quantileF(.95, n-2)))
	}
	r := &in.Cause
	r.Verdict, r.HalfWidth = cause.Face, 4.5
	r.Miss, r.Face, r.Path, r.Rest = estimate(miss), estimate(fm), estimate(pm), estimate(rest)
	r.Delivery[analysis.Face], r.Delivery[analysis.Path] = estimate(faces), estimate(paths)
	r.Corridor.OK = p.balls > 0
	for deg := -15.0; deg <= 15; deg++ {
		mid := (-p.rest - pathWorth*deg) / faceWorth
		r.Corridor.Edges = append(r.Corridor.Edges, cause.CorridorEdge{Path: deg * analysis.Degree,
			FaceLow: (mid - 4.5/faceWorth) * analysis.Degree, FaceHigh: (mid + 4.5/faceWorth) * analysis.Degree})
	}
	return in
}

// quantileF is the quantile of F with 2 and v degrees of freedom, in closed form.
func quantileF(q, v float64) float64 { return v / 2 * (math.Pow(1-q, -2/v) - 1) }

func estimate(v []float64) (e analysis.Estimate) {
	e.N = len(v)
	if e.N == 0 {
		return e
	}
	for _, x := range v {
		e.Mean += x / float64(e.N)
	}
	if e.N < 2 {
		return e
	}
	for _, x := range v {
		e.SD += (x - e.Mean) * (x - e.Mean) / float64(e.N-1)
	}
	e.SD = math.Sqrt(e.SD)
	half := 2.2 * e.SD / math.Sqrt(float64(e.N))
	e.Low, e.High, e.OK = e.Mean-half, e.Mean+half, true
	return e
}

func ellipse(xs, ys []float64, k float64) *pattern.Ellipse {
	ex, ey := estimate(xs), estimate(ys)
	cov := 0.0
	for i := range xs {
		cov += (xs[i] - ex.Mean) * (ys[i] - ey.Mean) / float64(len(xs)-1)
	}
	a, d := ex.SD*ex.SD, ey.SD*ey.SD
	root := math.Hypot((a-d)/2, cov)
	return &pattern.Ellipse{X: ex.Mean, Y: ey.Mean,
		Major: k * math.Sqrt((a+d)/2+root), Minor: k * math.Sqrt(max(0, (a+d)/2-root)),
		Angle: math.Atan2(2*cov, a-d) / 2}
}
