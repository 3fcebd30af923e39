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
	face, path, rest := way*d.face, way*d.path, way*d.rest
	made := face + path
	if rest > made { // also where face and path are large and cancel: how much of the little that is left is theirs hangs on the model
		if way*d.strike >= rest/3 { // gear effect is known to a factor, and only the part that shows
			return Strike
		}
		return unexplained
	}
	switch {
	case together(d.faceAngle, d.pathAngle):
		return Aim
	case face >= made/3 && path >= made/3: // the rest is neither's, and tips no scale between them
		return FaceAndPath
	case face >= path:
		return Face
	}
	return Path
}

// Named reports whether a verdict names a cause.
func (v Verdict) Named() bool {
	switch v {
	case Aim, Face, Path, FaceAndPath, Strike:
		return true
	}
	return false
}

// together reports whether face and path are off the same way by the same
// amount: each by more than a degree, and apart by less than half of what they
// are off and less than a degree, or a third of it where that is more.
func together(face, path float64) bool {
	const degree = analysis.Degree
	apart, least := math.Abs(face-path), min(math.Abs(face), math.Abs(path))
	return face*path > 0 && least > degree && apart < max(degree, least/3) && apart < least/2
}

// pairs are the verdicts that a session may leave open between them: what both
// have of the cause, and what only the other adds.
var pairs = [...]struct{ core, or Verdict }{{Face, FaceAndPath}, {Path, FaceAndPath}, {Face, Aim}, {Path, Aim}}

// spare is how much of what the level leaves to chance a cause may leave that is named
// alone for certain, one of two neighbours, and a cause that no neighbour explains; of
// no cause it may be all. So set, causes named alone and one of two are each right 95
// times of 100 and as often as they say, and as many are named (seeds 1 and 5 of
// TestPanel).
var spare = struct{ alone, either, cause float64 }{0.4, 0.6, 0.75}

// verdict weighs the owners over the draws and returns the likeliest with its
// probability, which is of exactly that verdict, and whether that is enough to
// name it: see spare. Where that is one of two neighbours it is what they have in
// common, or the other, and the probability is of either. Equals go to the first in
// the order below.
func (e evidence) verdict(draws []draw) (v, or Verdict, probability float64, enough bool) {
	weight := map[Verdict]float64{}
	total := 0.0
	for _, d := range draws {
		d.faceAngle -= e.config.RefFace
		d.pathAngle -= e.config.RefPath
		weight[owner(d, e.zero)] += d.weight
		total += d.weight
	}
	most := 0.0
	for _, candidate := range []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, unexplained} {
		if weight[candidate] > most {
			v, most = candidate, weight[candidate]
		}
	}
	left := 1 - e.config.level()
	probability = most / total
	if probability >= 1-spare.alone*left {
		return v, "", probability, true
	}
	enough = probability >= 1-left
	if v.Named() {
		enough = probability >= 1-spare.cause*left
	}
	for _, p := range pairs {
		if both := (weight[p.core] + weight[p.or]) / total; both >= 1-spare.either*left && both > probability {
			v, or, probability, enough = p.core, p.or, both, true
		}
	}
	if e.wind != 0 && !enough {
		// Whichever of a known wind and a number has more of a miss, both have a part of
		// it, and that is what is said of one that is not face and path's alone.
		for _, number := range []Verdict{Face, Path} {
			if both := (weight[unexplained] + weight[number]) / total; both >= 1-spare.either*left {
				return unexplained, "", both, true
			}
		}
	}
	return v, or, probability, enough
}
