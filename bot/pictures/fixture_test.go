package pictures

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/bot/words"
)

// A made is what an invented set is drawn from.
type made struct {
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

// invent draws a set by what it is made of and fills in results as the analysis would.
// The figures are plausible, not computed: the pictures' tests need shapes.
func invent(p made) PostInput {
	rng := rand.New(rand.NewPCG(p.seed, 7))
	in := PostInput{Voice: words.Voice{Hand: p.hand}, Title: "11 yards left: face 2.9° closed", Who: "Wren", Target: p.carry}
	in.Set.Club = analysis.Club{Family: analysis.Iron, Number: 7}
	var miss, fm, pm, rest, faces, paths []float64
	for i := range p.balls {
		face, path := p.face+p.sdFace*rng.NormFloat64(), p.path+p.sdPath*rng.NormFloat64()
		f, q, o := faceWorth*face, pathWorth*path, p.rest+p.spread*rng.NormFloat64()
		y, x := f+q+o, p.carry-3+5*rng.NormFloat64()
		shot := analysis.Shot{N: i + 1, Club: in.Set.Club}.With(analysis.Carry, x).With(analysis.Lateral, y)
		in.Set.Shots = append(in.Set.Shots, shot.With(analysis.Face, face*analysis.Degree).With(analysis.Path, path*analysis.Degree))
		in.Cause.Balls = append(in.Cause.Balls, cause.Split{N: i + 1, Face: face * analysis.Degree, Path: path * analysis.Degree, Miss: y, FaceM: f, PathM: q, Rest: o})
		miss, fm, pm, rest = append(miss, y), append(fm, f), append(pm, q), append(rest, o)
		faces, paths = append(faces, face*analysis.Degree), append(paths, path*analysis.Degree)
	}
	in.Pattern = pattern.Of(in.Set)
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
	if p.balls > 0 {
		faceBy := -r.Miss.Mean / faceWorth * analysis.Degree
		r.WorkBack = cause.WorkBack{OK: true, FaceBy: faceBy * .8, PathBy: -faceBy * .2 * faceWorth / -pathWorth * -1, Number: analysis.Face}
		r.WorkBack.FaceAlone.Mean, r.WorkBack.FaceAlone.N = faceBy, p.balls
	}
	return in
}

// estimate is a mean with limits that are about right.
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

func patternOf(in PostInput) pattern.Pattern { return pattern.Of(in.Set) }
