package visits

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// An Effect is what a set does against the usual one. The zero Effect is none.
type Effect struct {
	Shift  analysis.Delivery // of the means
	Spread float64           // factor of the scatter of face and path; 0 is 1
}

// Zero is the practical zero of the face, rad: what effects are counted in.
func Zero() float64 { return analysis.Face.Info().Zero.Least }

// OnFace moves the face alone, by so many practical zeros.
func OnFace(zeros float64) Effect {
	return Effect{Shift: analysis.Delivery{Face: zeros * Zero()}}
}

// OnSpread moves no mean: face and path scatter so many times as much.
func OnSpread(factor float64) Effect { return Effect{Spread: factor} }

// Compensating moves the face by so many practical zeros, and the path so that a
// share of what that does to where the ball finishes, at this golfer's level, is
// undone: 1 is all of it. The path moves the same way as the face: the ball then
// starts further to that side and curves back.
func Compensating(g Golfer, zeros, share float64) Effect {
	const step = 0.01 * analysis.Degree
	m, at := modelOf(g.Club), of(g.Level)
	slope := func(i int) float64 {
		a, b := at, at
		a[i] -= step
		b[i] += step
		return (m.fly(b, g.Hand).lateral - m.fly(a, g.Hand).lateral) / (2 * step)
	}
	e := OnFace(zeros)
	e.Shift.Path = -share * e.Shift.Face * slope(face) / slope(path)
	return e
}

// drawnShare is how much of it a drawn effect that compensates undoes.
const drawnShare = 0.25

// draw is an effect for a set: nothing in three of ten, else one, two or four
// practical zeros to either side: on the face, on face and path that compensate,
// or on the scatter alone, by 0.6 to 1.6 times.
func draw(g Golfer, rng *rand.Rand) Effect {
	zeros := [...]float64{1, 2, 4}[rng.IntN(3)] * float64(1-2*rng.IntN(2))
	switch x := rng.Float64(); {
	case x < 0.3:
		return Effect{}
	case x < 0.7:
		return OnFace(zeros)
	case x < 0.85:
		return Compensating(g, zeros, drawnShare)
	default:
		return OnSpread([...]float64{0.6, 0.75, 1.35, 1.6}[rng.IntN(4)])
	}
}

// spread is the scatter under an effect.
func (e Effect) spread(sd vector) vector {
	if e.Spread > 0 {
		sd[face] *= e.Spread
		sd[path] *= e.Spread
	}
	return sd
}

// truthBalls is how many pairs of balls a difference of a ball's number is
// worked out from. The same balls are hit both times, so it is off by far less
// than a twentieth of a practical zero; the test says how much.
const truthBalls = 4000

// Truth is the true difference of a number's mean, this effect less none, over
// well-hit balls of the golfer about their level. Of a number of the delivery it
// is the shift itself; of what the ball does it is worked out ball by ball, and
// the same each time. ok is false for a number this world does not have.
func (g Golfer) Truth(e Effect, n analysis.Number) (difference float64, ok bool) {
	shift := of(e.Shift)
	for i, x := range delivered {
		if x == n {
			return shift[i], true
		}
	}
	if n == analysis.FaceToPath {
		return shift[face] - shift[path], true
	}
	if _, has := modelOf(g.Club).shot(of(g.Level), g.Hand).Value(n); !has {
		return 0, false
	}
	rng := rand.New(rand.NewPCG(truthBalls, 19))
	m, level, sd := modelOf(g.Club), of(g.Level), of(g.SD)
	tried := e.spread(sd)
	for range truthBalls {
		z := g.own(rng)
		a, b := level, level.plus(1, shift)
		for i := range z {
			a[i] += sd[i] * z[i]
			b[i] += tried[i] * z[i]
		}
		va, _ := m.shot(a, g.Hand).Value(n)
		vb, _ := m.shot(b, g.Hand).Value(n)
		difference += (vb - va) / truthBalls
	}
	return difference, !math.IsNaN(difference)
}
