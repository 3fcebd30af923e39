package flight

import (
	"math"

	"rangepost/analysis"
)

// Turf is how the ground takes a ball: a rigid sphere meets a plane that leans
// toward it by Tilt. With vn the speed into the plane, e the restitution and the
// slip s = v along the plane + r omega, the bounce turns vn into e vn and
// changes the rest by
//
//	-2/7 s                      where friction can stop the slip,
//	-mu (1 + e) vn              against the slip where it cannot,
//
// the spin by 5/2r of the same. Penner (2002) made the plane lean to stand in
// for turf that gives way; the figures and the fit are good for landings of
// drives to pitches, and not for lobs steeper than about 60 degrees, which the
// leaning plane alone turns back.
type Turf struct {
	Tilt        float64 // rad the contact plane leans toward the ball
	Restitution float64 // normal speed out over in
	Friction    float64 // most the tangential impulse can be of the normal one
	Rolling     float64 // rolling resistance over weight
}

// The turfs, fitted on 1023 bounces: Biber et al. (2023), Sports Engineering
// 26:50 [S]; rolling resistance from Penner (2002), Canadian Journal of
// Physics 80:931 [S].
var (
	NaturalTurf    = Turf{Tilt: 18.4 * analysis.Degree, Restitution: 0.147, Friction: 0.998, Rolling: 0.131}
	ArtificialTurf = Turf{Tilt: 12.9 * analysis.Degree, Restitution: 0.420, Friction: 0.852, Rolling: 0.131}
)

// A hop lower than this is rolling.
const lowestHop = 0.005 // m

// maxBounces ends a run that is not one (numbers that are not finite, turf
// that gives back all it gets): a drive bounces about six times.
const maxBounces = 200

// Rest is where the ball stops after bouncing and rolling: m along and right
// of the target line. A ball with enough backspin comes back.
func (m *Model) Rest(l Landing) (x, y float64) {
	sinH, cosH := math.Sincos(l.Heading)
	over := l.Speed * math.Cos(l.Descent)
	v := vec{over * cosH, over * sinH, -l.Speed * math.Sin(l.Descent)}
	axis := l.axis
	if axis == (vec{}) {
		axis = vec{sinH, -cosH, 0}
	}
	spin := axis.times(l.Spin)

	x, y = l.Carry, l.Lateral
	for range maxBounces {
		m.Turf.bounce(&v, &spin)
		if v[2]*v[2]/(2*gravity) < lowestHop {
			break
		}
		hop := 2 * v[2] / gravity
		x += v[0] * hop
		y += v[1] * hop
		v[2] = -v[2]
	}
	over = math.Hypot(v[0], v[1])
	if over == 0 {
		return x, y
	}
	roll := over * over / (2 * 5. / 7 * m.Turf.Rolling * gravity)
	return x + roll*v[0]/over, y + roll*v[1]/over
}

// bounce changes the velocity and the spin of a ball coming down on the turf.
// The contact plane leans toward the ball; friction stops the slip between
// ball and plane or, if that asks for more than it has, opposes it in full.
func (t Turf) bounce(v, spin *vec) {
	over := math.Hypot(v[0], v[1])
	sinT, cosT := math.Sincos(t.Tilt)
	normal := vec{0, 0, 1}
	if over > 0 {
		normal = vec{-sinT * v[0] / over, -sinT * v[1] / over, cosT}
	}
	into := -v.dot(normal)
	along := v.plus(normal.times(into))
	slip := along.plus(spin.cross(normal).times(-radius))
	push := slip.times(-2. / 7)
	if most, need := t.Friction*(1+t.Restitution)*into, math.Sqrt(push.dot(push)); need > most {
		push = push.times(most / need)
	}
	*v = along.plus(push).plus(normal.times(t.Restitution * into))
	*spin = spin.plus(normal.cross(push).times(-5 / (2 * radius)))
}
