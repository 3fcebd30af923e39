package panel

import (
	"math"

	"rangepost/analysis"
)

// The ball of the rules: Equipment Rules, part 4: no heavier than 45.93 g and no
// smaller than 42.67 mm [S].
const (
	ballMass   = 0.04593
	ballRadius = 0.021335
	gravity    = 9.80665
)

// A decay is the law a ball's spin falls by.
type decay struct {
	// moment is lambda of d(spin)/dt = -lambda x speed x spin / radius: 2.0e-5
	// Smits & Smith 1994, 2.5e-5 Tavares, Shannon & Melvin 1999 [S: Nathan, The
	// spin decay of a baseball].
	moment float64
	// share is lost every second whatever the speed: 0.04 in Lyu et al. 2018 [S].
	share float64
}

// air is what a ball flies through.
type air struct {
	density   float64 // kg/m3
	viscosity float64 // kinematic, m2/s
	shear     float64 // wind grows as height to this power; 0 is the same at every height
}

// A Flight is where and how a ball came down, m and rad and s. Carry is the
// straight line over level ground from the tee to where it landed.
type Flight struct {
	Carry, Lateral, Apex, Descent, Time float64
	downrange                           float64
}

// step is the integrator's, s: within 5 mm of one eighty times shorter, over every
// world and club.
const step = 0.08

type state struct {
	at, v vec
	spin  float64
}

// fly is the flight of a launch in a wind blowing toward wind (m/s at 10 m),
// by fixed steps of Runge and Kutta's fourth order; the landing and the apex are
// read off Hermite's cubic of the step they fall in.
func (w *World) fly(l analysis.Launch, wind vec) Flight {
	return w.flyBy(l, wind, step)
}

func (w *World) flyBy(l analysis.Launch, wind vec, h float64) Flight {
	u, lift := launchFrame(l)
	turn := u.cross(lift) // the spin's axis: cross(turn, u) is the way it lifts
	s := state{v: u.scale(l.Speed), spin: l.Spin}
	var f Flight
	for t := 0.0; t < 30; t += h {
		next := w.advance(s, turn, wind, h)
		if s.v[2] > 0 && next.v[2] <= 0 {
			f.Apex = hermite(s.at[2], next.at[2], s.v[2], next.v[2], h, s.v[2]/(s.v[2]-next.v[2]))
		}
		if next.at[2] < 0 {
			k := landing(s, next, h)
			x := hermite(s.at[0], next.at[0], s.v[0], next.v[0], h, k)
			y := hermite(s.at[1], next.at[1], s.v[1], next.v[1], h, k)
			v := s.v.add(next.v.sub(s.v).scale(k))
			f.downrange, f.Lateral, f.Carry = x, y, math.Hypot(x, y)
			f.Descent, f.Time = math.Atan2(-v[2], math.Hypot(v[0], v[1])), t+k*h
			return f
		}
		s = next
	}
	return f
}

// launchFrame is the launch's direction and the way its spin lifts at first.
func launchFrame(l analysis.Launch) (u, lift vec) {
	u = direction(l.Direction, l.Angle)
	right := vec{-math.Sin(l.Direction), math.Cos(l.Direction), 0}
	up := direction(l.Direction, l.Angle+math.Pi/2)
	return u, up.scale(math.Cos(l.Axis)).add(right.scale(math.Sin(l.Axis)))
}

func (w *World) advance(s state, turn, wind vec, h float64) state {
	d1, k1 := w.rates(s, turn, wind)
	d2, k2 := w.rates(moved(s, s.v, d1, k1, h/2), turn, wind)
	v2 := s.v.add(d1.scale(h / 2))
	d3, k3 := w.rates(moved(s, v2, d2, k2, h/2), turn, wind)
	v3 := s.v.add(d2.scale(h / 2))
	d4, k4 := w.rates(moved(s, v3, d3, k3, h), turn, wind)
	v4 := s.v.add(d3.scale(h))
	mean := func(a, b, c, d vec) vec {
		return vec{
			(a[0] + 2*b[0] + 2*c[0] + d[0]) / 6,
			(a[1] + 2*b[1] + 2*c[1] + d[1]) / 6,
			(a[2] + 2*b[2] + 2*c[2] + d[2]) / 6,
		}
	}
	return state{
		at:   s.at.add(mean(s.v, v2, v3, v4).scale(h)),
		v:    s.v.add(mean(d1, d2, d3, d4).scale(h)),
		spin: s.spin + h*(k1+2*k2+2*k3+k4)/6,
	}
}

func moved(s state, v, dv vec, dspin, h float64) state {
	return state{at: s.at.add(v.scale(h)), v: s.v.add(dv.scale(h)), spin: s.spin + h*dspin}
}

// rates is the acceleration of the ball and of its spin.
func (w *World) rates(s state, turn, wind vec) (dv vec, dspin float64) {
	dv = vec{0, 0, -gravity}
	through := s.v
	if wind != (vec{}) {
		if w.air.shear > 0 {
			wind = wind.scale(math.Pow(max(s.at[2], 0.3)/10, w.air.shear))
		}
		through = through.sub(wind)
	}
	speed := through.size()
	if speed == 0 || w.law == nil {
		return dv, 0
	}
	drag, lift := w.law.coefficients(ballRadius*s.spin/speed, 2*ballRadius*speed/w.air.viscosity)
	force := 0.5 * w.air.density * math.Pi * ballRadius * ballRadius / ballMass * speed
	// Only the part of the spin across the flow lifts: the cross product's own
	// length is left in.
	dv = dv.sub(through.scale(force * drag)).add(turn.cross(through).scale(force * lift))
	return dv, -s.spin * (w.decay.moment*speed/ballRadius + w.decay.share)
}

// hermite is the cubic with the given ends and end slopes at share k of a step.
func hermite(a, b, da, db, h, k float64) float64 {
	k2, k3 := k*k, k*k*k
	return a*(2*k3-3*k2+1) + h*da*(k3-2*k2+k) + b*(3*k2-2*k3) + h*db*(k3-k2)
}

// landing is the share of the step at which the ball's height is zero.
func landing(a, b state, h float64) float64 {
	low, high := 0.0, 1.0
	for range 40 {
		k := (low + high) / 2
		if hermite(a.at[2], b.at[2], a.v[2], b.v[2], h, k) > 0 {
			low = k
		} else {
			high = k
		}
	}
	return high
}
