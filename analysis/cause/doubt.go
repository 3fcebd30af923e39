package cause

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// doubt is what one model that might be the true one makes of a degree of face,
// and of an off-centre strike, over what the standard model makes of it; and how
// much more of a radian of path, m: that of a wedge is worth about nothing, and
// whatever it is in another model is many times that.
type doubt struct{ face, path, strike float64 }

// worth is what a radian is worth at the set's mean delivery, m.
type worth struct{ face, path float64 }

// ModelOf is the standard model of a club, which knows how unsure of itself to
// be.
func ModelOf(club analysis.Club, c Config) ball.Model { return ball.Of(club, c.Hand, c.Conditions) }

// numDoubts is how many possible models are tried; each is flown a few times.
const numDoubts = 60

// possible is a model that might be the true one, with the launch that was seen
// kept as it was seen: a model can be wrong only about the rest.
type possible struct {
	model ball.Model
	own   ball.Departure
}

// possibilities draws models near the calibrated one, which is m less its
// calibration. Its launch at d is the one to keep.
func possibilities(published ball.Model, c calibration, launched analysis.Launch, d analysis.Delivery, own ball.Departure, seen launchSeen, seed uint64) []possible {
	rng := rand.New(rand.NewPCG(seed, 0xd1b54a32d192ed03))
	out := make([]possible, numDoubts)
	for k := range out {
		other := published.Off(c.draw(rng))
		out[k] = possible{other, seen.keep(launched, other.Head.Strike(d), own)}
	}
	return out
}

// doubts is what a radian is worth in each possible model at a delivery, beside
// what it is worth in the standard one.
func doubts(models []possible, m *ball.Model, d analysis.Delivery, own ball.Departure, seen launchSeen) ([]doubt, worth) {
	standard := m.Worth(d, own)
	out := make([]doubt, len(models))
	for k := range models {
		p := &models[k]
		w := p.model.Worth(d, p.own)
		out[k] = doubt{face: ratio(w.Face, standard.Face), path: w.Path - standard.Path}
		// A strike that shows in a measured axis is as sure as the flight is;
		// one that was only seen on the face, as the gear effect.
		out[k].strike = out[k].face
		if !seen.axis {
			out[k].strike = ratio(p.model.Head.GearScale, m.Head.GearScale)
		}
	}
	return out, worth{standard.Face, standard.Path}
}

// launchSeen says which numbers of the launch were measured of any ball.
type launchSeen struct{ speed, angle, direction, spin, axis, clubSpeed bool }

func seenOf(delivered [analysis.NumNumbers]analysis.Estimate) launchSeen {
	has := func(n analysis.Number) bool { return delivered[n].N > 0 }
	return launchSeen{has(analysis.BallSpeed), has(analysis.LaunchAngle), has(analysis.Direction), has(analysis.Spin), has(analysis.SpinAxis), has(analysis.ClubSpeed)}
}

// keep is the departure that leaves the seen numbers of a launch as they are
// when a model would launch the ball otherwise.
func (seen launchSeen) keep(as, modelled analysis.Launch, own ball.Departure) ball.Departure {
	if seen.speed && modelled.Speed > 0 {
		own.Speed = as.Speed/modelled.Speed - 1
	}
	if seen.spin && modelled.Spin > 0 {
		own.Spin = as.Spin/modelled.Spin - 1
	}
	if seen.angle {
		own.Angle = as.Angle - modelled.Angle
	}
	if seen.direction {
		own.Direction = as.Direction - modelled.Direction
	}
	if seen.axis {
		own.Axis = as.Axis - modelled.Axis
	}
	return own
}

// ratio is a/b, or 1 where that says nothing: a ball that hardly flies is
// worth nothing sideways.
func ratio(a, b float64) float64 {
	if r := a / b; !math.IsNaN(r) && !math.IsInf(r, 0) {
		return r
	}
	return 1
}

// worthDoubt is the standard deviation, over the possible models, of what the path
// is worth over what the face is; never over 1, which says nothing.
func worthDoubt(doubts []doubt, w worth) float64 {
	const most = 1
	ratios := make([]float64, len(doubts))
	for i, d := range doubts {
		ratios[i] = ratio(w.path+d.path, d.face*w.face)
	}
	if sd := math.Sqrt(variance(ratios)); sd < most {
		return sd
	}
	return most
}

// WorthBetween is what a radian of face and of path is worth on the way from one
// set to others, m, and how far their ratio may be off (Result.WorthDoubt): the mean
// over those that tell. At a path of eight degrees a degree more is not worth what
// it is at none.
func WorthBetween(sets ...Result) (face, path, doubt float64) {
	n := 0.0
	for _, r := range sets {
		if r.FaceWorth != 0 {
			n++
			face, path, doubt = face+r.FaceWorth, path+r.PathWorth, doubt+r.WorthDoubt
		}
	}
	if n == 0 {
		return 0, 0, 0
	}
	return face / n, path / n, doubt / n
}
