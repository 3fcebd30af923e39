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
		end, ok := m.hop(v, spin)
		if !ok {
			return x, y
		}
		x += end[0]
		y += end[1]
		v = vec{end[3], end[4], end[5]}
		if size := math.Sqrt(spin.dot(spin)); size > 0 {
			spin = spin.times(end[6] / size)
		}
	}
	over = math.Hypot(v[0], v[1])
	if over == 0 {
		return x, y
	}
	// v dv/ds = -(5/7 R g + k v^2): the turf and the air, which a fast ball on the
	// ground meets as one in flight.
	turf := 5. / 7 * m.Turf.Rolling * gravity
	air := m.Air.Density * area / (2 * Mass) * rollingDrag
	roll := math.Log1p(air*over*over/turf) / (2 * air)
	return x + roll*v[0]/over, y + roll*v[1]/over
}

// rollingDrag is the drag coefficient of a ball that rolls: its spin ratio is 1,
// its Reynolds number low.
const rollingDrag = 0.45

// hop flies the ball from where it bounced to where it comes down again, in the
// air it came through: a hop of a drive loses a quarter of its speed to it.
func (m *Model) hop(v, spin vec) (end state, ok bool) {
	p, _ := m.problem(analysis.Launch{})
	size := math.Sqrt(spin.dot(spin))
	if size > 0 {
		p.axis = spin.times(1 / size)
	}
	end, _, t := p.integrate(state{3: v[0], 4: v[1], 5: v[2], 6: size}, 1e-3)
	return end, t > 0
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
