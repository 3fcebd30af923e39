package cause

import (
	"math"

	"rangepost/analysis"
)

// unexplained is a miss that neither face nor path owns and no sign of a
// strike supports: wind, the device's aim, or what the model does not know. It
// is said as Unmeasured.
const unexplained Verdict = "unexplained"

// owner names whose the miss of one draw is.
func owner(d draw, zero float64) Verdict {
	miss := d.miss()
	if math.Abs(miss) <= zero {
		return Centred
	}
	way := math.Copysign(1, miss)
	total := math.Abs(miss)
	face, path, rest := way*d.face/total, way*d.path/total, way*d.rest/total
	if rest > face && rest > path && rest > face+path {
		if way*d.strike >= rest*total/2 {
			return Strike
		}
		return unexplained
	}
	switch {
	case together(d.faceAngle, d.pathAngle):
		return Aim
	case face >= 1.0/3 && path >= 1.0/3:
		return FaceAndPath
	case face >= path:
		return Face
	}
	return Path
}

// together reports whether face and path are off the same way by the same
// amount: each by more than a degree, and apart by less than half of what they
// are off and less than a degree, or a third of it where that is more.
func together(face, path float64) bool {
	const degree = analysis.Degree
	apart, least := math.Abs(face-path), min(math.Abs(face), math.Abs(path))
	return face*path > 0 && least > degree && apart < max(degree, least/3) && apart < least/2
}

// shared is the probability from which a finer verdict is preferred over a
// coarser one, when it is sure enough that one of the two is right: face and
// path together over either alone, and aim over face or path, since alignment
// is the cheapest to check.
const shared = 0.6

// tally weighs the owners over the draws and returns the verdict with its
// probability, which may be under the level asked of it.
//
// A verdict of face stands for draws in which the face owns the most, whether
// or not the path owns a third of its own; likewise path. Equals go to the
// first in the order below.
func tally(draws []draw, refFace, refPath, zero, level float64) (v Verdict, probability float64) {
	weight := map[Verdict]float64{}
	total, faceFirst, pathFirst := 0.0, 0.0, 0.0
	for _, d := range draws {
		d.faceAngle -= refFace
		d.pathAngle -= refPath
		o := owner(d, zero)
		weight[o] += d.weight
		total += d.weight
		switch {
		case o == Face || o == FaceAndPath && math.Abs(d.face) >= math.Abs(d.path):
			faceFirst += d.weight
		case o == Path || o == FaceAndPath:
			pathFirst += d.weight
		}
	}
	either := (weight[Face] + weight[Path] + weight[FaceAndPath]) / total
	switch together := weight[FaceAndPath] / total; {
	case together >= shared && either >= level:
		return FaceAndPath, either
	case together < level:
		weight[Face], weight[Path] = faceFirst, pathFirst
	}
	if aim := weight[Aim] / total; aim >= shared && aim+either >= level {
		return Aim, aim + either
	}
	most := 0.0
	for _, candidate := range []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, unexplained} {
		if weight[candidate] > most {
			v, most = candidate, weight[candidate]
		}
	}
	return v, most / total
}

// How large a rest to expect that no strike speaks for, as standard deviations
// (our choice): wind nobody wrote down and a flight model somewhat off, as a
// fraction of the carry; and, where nothing shows the strike, what a golfer
// who strikes this far off the centre on average makes of it.
const (
	usualRest   = 0.015
	usualStrike = 6 * analysis.Millimetre
)

// How far golfers' mean face and path are from the target line, as standard
// deviations (common practice, no source).
const usualFace, usualPath = 2.5 * analysis.Degree, 3.5 * analysis.Degree

// weigh gives each draw the probability it has before any ball is hit. The
// yards must add up, and a model that leaves much of them over is the less
// likely for it; and a few balls far off are more often bad luck than a golfer
// that far off.
func weigh(draws []draw, rest float64) {
	for i := range draws {
		d := &draws[i]
		d.weight = usual((d.rest-d.strike)/rest) * usual(d.faceAngle/usualFace) * usual(d.pathAngle/usualPath)
	}
}

// usual is the density of a normal with a heavy tail, so that a real wind or a
// golfer far off is not argued away: four in five of standard deviation 1, one
// in five of 6.
func usual(z float64) float64 {
	const odd, times, never = 0.2, 6, 1e-30 // not 0: of impossible draws one is still the least impossible
	far := z / times
	return never + (1-odd)*math.Exp(-z*z/2) + odd/times*math.Exp(-far*far/2)
}
