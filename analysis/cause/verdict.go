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
// amount: each by more than a degree, apart by less than one and by less than
// half of what they are off.
func together(face, path float64) bool {
	const degree = analysis.Degree
	apart, least := math.Abs(face-path), min(math.Abs(face), math.Abs(path))
	return face*path > 0 && least > degree && apart < degree && apart < least/2
}

// tally counts the owners over the draws and returns the likeliest with its
// probability. Equal counts go to the first in this order.
func tally(draws []draw, refFace, refPath, zero float64) (v Verdict, probability float64) {
	counts := map[Verdict]int{}
	for _, d := range draws {
		d.faceAngle -= refFace
		d.pathAngle -= refPath
		counts[owner(d, zero)]++
	}
	most := 0
	for _, candidate := range []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, unexplained} {
		if counts[candidate] > most {
			v, most = candidate, counts[candidate]
		}
	}
	return v, float64(most) / float64(len(draws))
}
