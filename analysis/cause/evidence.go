package cause

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// evidence is all that a verdict rests on.
type evidence struct {
	means  means
	models []possible
	doubts []doubt
	worth  worth
	zero   float64 // m, the practical zero
	rest   float64 // m, how large a rest to expect that nothing speaks for
	wind   float64 // m, the rest that a known wind speaks for
	config Config

	// The middle ball, in the standard model, for the work-back.
	typical  analysis.Delivery
	own      ball.Departure
	standard *ball.Model
	apart    change // what the balls differ from it by
}

// gather prepares the evidence of balls and their splits.
func gather(balls []struck, splits []Split, published ball.Model, m *ball.Model, known calibration, seen launchSeen, carry float64, streak stat.Streak, c Config) evidence {
	typical, own := middle(balls, m)
	e := evidence{means: meansOf(splits, balls), zero: practicalZero(carry), config: c, typical: typical, own: own, standard: m, apart: apart(balls)}
	e.means.streak = streak
	e.models = possibilities(published, known, m.Launch(typical, own), typical, own, seen, c.Seed)
	e.doubts, e.worth = doubts(e.models, m, typical, own, seen)

	e.rest = max(usualRest*carry, 1)
	if !supported(balls) {
		toe := typical
		toe.StrikeToe += usualStrike
		e.rest = math.Hypot(e.rest, m.Land(toe, own).Lateral-m.Land(typical, own).Lateral)
	}
	if m.Flight.Wind.Speed != 0 {
		still := *m
		still.Flight.Wind.Speed = 0
		e.wind = m.Land(typical, own).Lateral - still.Land(typical, own).Lateral
	}
	return e
}

// draws samples what the means of as many balls as given may be, times what
// the model may be off by, and with what inferred balls have wrong in common.
//
// They come in mirrored pairs about the means, so that a session and its
// mirror image have mirrored draws, and verdict and limits follow exactly.
func (e evidence) draws(balls int) []draw {
	rng := rand.New(rand.NewPCG(e.config.Seed, 0x9e3779b97f4a7c15))
	count := e.config.draws()
	out := make([]draw, 0, count)
	for k := 0; k < count; k += 2 {
		pair := e.means.sample(rng, balls)
		model := (k / 2) % len(e.doubts)
		doubt := e.doubts[model]
		var faceBy, pathBy float64
		for i := range e.means.faceBy {
			u := rng.NormFloat64()
			faceBy += u * e.means.faceBy[i]
			pathBy += u * e.means.pathBy[i]
		}
		for _, v := range pair {
			miss := v[0] + v[1] + v[2]
			d := draw{
				face:      (v[0] + faceBy*e.worth.face) * doubt.face,
				path:      v[1] + pathBy*e.worth.path + (v[5]+pathBy-e.config.RefPath)*doubt.path,
				strike:    v[3] * doubt.strike,
				faceAngle: v[4] + faceBy, pathAngle: v[5] + pathBy,
				model: model,
			}
			d.rest = miss - d.face - d.path
			d.weight = e.weight(d)
			out = append(out, d)
		}
	}
	return out
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

// Whoever's path is off is as likely to have a face about the one that brings this
// path's ball to the target as one about the target, as far off the one as the other
// (common practice, no source). Without that a path of ten degrees, its face turned
// to match and the ball on target, would rather be a smaller face, and the path a
// cause. faces is the probability of a draw's face, given its path, up to a factor.
func (e evidence) faces(d draw) float64 {
	about := usual(d.faceAngle / usualFace)
	if e.worth.face == 0 {
		return about
	}
	off := (d.face + d.path) / e.worth.face
	return (about + usual(off/usualFace)) / 2
}

// Golfers find the target more often than their faces and paths would by
// chance: whoever is off in one soon matches the other to it (common practice, no
// source). So a mean miss about the practical zero is this many times as usual
// again as it would be (our choice).
const matched = 1.0

// Whoever is off in face and path by as much, the same way, is aimed there, or the
// device is: of all ways to be off in both the commonest (common practice, no
// source). It is this many times as usual again (our choice), to within the angle
// and from the angle on that these are.
const (
	aimed      = 1.5
	aimedApart = 0.7 * analysis.Degree
	aimedFrom  = 1 * analysis.Degree
)

// alike is how nearly a draw is off in face and path by as much, 0 to 1.
func (e evidence) alike(d draw) float64 {
	face, path := d.faceAngle-e.config.RefFace, d.pathAngle-e.config.RefPath
	if face*path <= 0 {
		return 0
	}
	apart, least := (face-path)/aimedApart, min(math.Abs(face), math.Abs(path))/aimedFrom
	return math.Exp(-apart*apart/2) * (1 - math.Exp(-least*least/2))
}

// weight is the probability a draw has before any ball is hit. The yards must
// add up, and a model that leaves much of them over is the less likely for it;
// and a few balls far off are more often bad luck than a golfer that far off.
func (e evidence) weight(d draw) float64 {
	miss := d.miss() / e.zero
	return usual((d.rest-d.strike-e.wind)/e.rest) * e.faces(d) * usual(d.pathAngle/usualPath) *
		(1 + matched*math.Exp(-miss*miss/2)) * (1 + aimed*e.alike(d))
}

// usual is the density of a normal with a heavy tail, so that a real wind or a
// golfer far off is not argued away: four in five of standard deviation 1, one
// in five of 6.
func usual(z float64) float64 {
	const odd, times, never = 0.2, 6, 1e-30 // not 0: of impossible draws one is still the least impossible
	far := z / times
	return never + (1-odd)*math.Exp(-z*z/2) + odd/times*math.Exp(-far*far/2)
}
