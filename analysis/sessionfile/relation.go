package sessionfile

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/impact"
)

// sideways lists the columns whose signs are settled together, the one a
// person can check most easily first.
var sideways = []field{lateral, lateralTotal, direction, face, path, faceToPath, spinAxis}

// series are the session's numbers by field and shot, in SI, NaN where missing.
// Sideways ones that carry their side in words are right of target already.
type series [][]float64

func newSeries() series { return make(series, numFields) }

func (s series) has(fs ...field) bool {
	for _, f := range fs {
		if s[f] == nil {
			return false
		}
	}
	return true
}

func (s series) at(f field, i int) float64 {
	if v := s[f]; v != nil {
		return v[i]
	}
	return math.NaN()
}

// A relation is something physics requires of sideways columns. gap is by how
// much shot i misses it under a pose, in rad, and the noise to expect; NaN
// where the shot lacks a number.
type relation struct {
	fields []field
	gap    func(p *pose, i int) (gap, noise float64)
}

const degree = analysis.Degree

// relations lists what can be checked with the columns that are there.
//
// The noises are what repeated swings and two sensors leave between the sides
// of each equation (common practice, no source): they weigh evidence, and are
// generous so that a worse device does not tip a verdict.
func relations(s series, clubs []analysis.Club, sky *sky) []relation {
	var rs []relation
	add := func(gap func(p *pose, i int) (float64, float64), fields ...field) {
		if s.has(fields...) {
			rs = append(rs, relation{fields, gap})
		}
	}
	// pointed is where the face pointed against the target.
	pointed := func(p *pose, i int) float64 {
		if f := p.sign[face] * s.at(face, i); !math.IsNaN(f) {
			if p.relative {
				return f + p.sign[path]*s.at(path, i)
			}
			return f
		}
		return p.sign[faceToPath]*s.at(faceToPath, i) + p.sign[path]*s.at(path, i)
	}
	// twisted is the face against the path.
	twisted := func(p *pose, i int) float64 {
		if p.relative {
			return p.sign[face] * s.at(face, i)
		}
		if t := p.sign[face]*s.at(face, i) - p.sign[path]*s.at(path, i); !math.IsNaN(t) {
			return t
		}
		return p.sign[faceToPath] * s.at(faceToPath, i)
	}
	shares, lofts, bends := faceShares(s, clubs), spinLofts(s, clubs), curves(s, sky)

	// The definition of face-to-path.
	add(func(p *pose, i int) (float64, float64) {
		return p.sign[faceToPath]*s.at(faceToPath, i) - twisted(p, i), 0.5 * degree
	}, face, path, faceToPath)

	// The ball starts between face and path, much nearer the face.
	started := func(p *pose, i int) (float64, float64) {
		w := shares[i]
		return p.sign[direction]*s.at(direction, i) - w*pointed(p, i) - (1-w)*p.sign[path]*s.at(path, i), 1.3 * degree
	}
	switch {
	case s.has(face, path):
		add(started, direction, face, path)
	case s.has(faceToPath, path):
		add(started, direction, faceToPath, path)
	default:
		add(func(p *pose, i int) (float64, float64) {
			return p.sign[direction]*s.at(direction, i) - p.sign[face]*s.at(face, i), 2 * degree
		}, direction, face)
	}

	// The axis follows face-to-path; gear effect adds to it.
	tilted := func(p *pose, i int) (float64, float64) {
		want := math.Atan(math.Tan(twisted(p, i)) / math.Tan(lofts[i]))
		return p.sign[spinAxis]*s.at(spinAxis, i) - want, 5*degree + 0.25*math.Abs(want)
	}
	if s.has(face, path) {
		add(tilted, spinAxis, face, path)
	} else {
		add(tilted, spinAxis, faceToPath)
	}

	// Where it comes down follows start and curve.
	far := s.far(clubs, sky)
	for _, end := range []field{lateral, lateralTotal} {
		came := func(i int) float64 { return math.Atan(s.at(end, i) / far[i]) }
		switch {
		case s.has(direction, spinAxis):
			add(func(p *pose, i int) (float64, float64) {
				bend := p.sign[spinAxis] * bends[i]
				return p.sign[end]*came(i) - p.sign[direction]*s.at(direction, i) - bend, 1.2*degree + 0.35*math.Abs(bend)
			}, end, direction, spinAxis)
		case s.has(direction):
			add(func(p *pose, i int) (float64, float64) {
				return p.sign[end]*came(i) - p.sign[direction]*s.at(direction, i), 3 * degree
			}, end, direction)
		case s.has(face):
			add(func(p *pose, i int) (float64, float64) {
				return p.sign[end]*came(i) - pointed(p, i), 3.5 * degree
			}, end, face)
		case s.has(spinAxis):
			add(func(p *pose, i int) (float64, float64) {
				return p.sign[end]*came(i) - p.sign[spinAxis]*bends[i], 3.5 * degree
			}, end, spinAxis)
		}
	}
	add(func(p *pose, i int) (float64, float64) {
		a, b := math.Atan(s.at(lateral, i)/far[i]), math.Atan(s.at(lateralTotal, i)/far[i])
		return p.sign[lateral]*a - p.sign[lateralTotal]*b, degree + 0.3*math.Abs(a)
	}, lateral, lateralTotal)
	return rs
}

// far is how far the balls went: carry for choice, total, what the flight
// model makes of the ball speed, or what the club usually does. It only turns
// sideways distances into angles, so a rough figure will do.
func (s series) far(clubs []analysis.Club, sky *sky) []float64 {
	far := make([]float64, len(clubs))
	for i, c := range clubs {
		far[i] = s.at(carry, i)
		if !(far[i] > 5) {
			far[i] = s.at(total, i)
		}
		if !(far[i] > 5) {
			l := analysis.Launch{Speed: s.at(ballSpeed, i), Angle: loft(s, i, c) * 0.8, Spin: 5000 * analysis.RevPerMinute}
			far[i] = 130
			if sane(l) {
				far[i] = max(sky.fly(l).Carry, 20)
			} else if c.Family == analysis.Driver {
				far[i] = 200
			}
		}
	}
	return far
}

// faceShares is the face's share of the start direction by shot: it falls with
// loft (package impact). Loft comes from what was measured, or the club.
func faceShares(s series, clubs []analysis.Club) []float64 {
	shares := make([]float64, len(clubs))
	for i, c := range clubs {
		d := analysis.Delivery{ClubSpeed: 38, DynamicLoft: loft(s, i, c)}
		h := impact.HeadOf(c)
		shares[i] = h.FaceShare(d)
	}
	return shares
}

func loft(s series, i int, c analysis.Club) float64 {
	if v := s.at(dynamicLoft, i); v > 2*degree && v < 75*degree {
		return v
	}
	if v := s.at(launch, i); v > 2*degree && v < 60*degree {
		return v / 0.85
	}
	if v, ok := c.Loft(); ok {
		return v
	}
	return 25 * degree
}

// spinLofts is the angle between loft and attack by shot.
func spinLofts(s series, clubs []analysis.Club) []float64 {
	lofts := make([]float64, len(clubs))
	for i, c := range clubs {
		v := s.at(field(analysis.SpinLoft), i)
		if !(v > 4*degree && v < 80*degree) {
			a := s.at(attack, i)
			if math.IsNaN(a) {
				a = 0
			}
			v = loft(s, i, c) - a
		}
		lofts[i] = max(v, 6*degree)
	}
	return lofts
}

// curves is by how much each ball's axis, read as positive right, turns where
// it comes down, in rad: from the flight model where the launch is known, else
// a quarter of the tilt, which lies between a driver's and a wedge's.
func curves(s series, sky *sky) []float64 {
	bends := make([]float64, len(s[spinAxis]))
	for i, axis := range s[spinAxis] {
		bends[i] = axis / 4
		l := analysis.Launch{Speed: s.at(ballSpeed, i), Angle: s.at(launch, i), Spin: s.at(spin, i), Axis: axis}
		if sane(l) {
			to := sky.fly(l)
			bends[i] = math.Atan2(to.Lateral, to.Carry)
		}
	}
	return bends
}

// sane reports whether a launch is one the flight model can fly. NaN is not.
func sane(l analysis.Launch) bool {
	return l.Speed > 5 && l.Speed < 110 && l.Angle > 1*degree && l.Angle < 75*degree &&
		l.Spin > 0 && l.Spin < 18000*analysis.RevPerMinute && math.Abs(l.Axis) < 80*degree
}
