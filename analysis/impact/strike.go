package impact

import (
	"math"

	"rangepost/analysis"
)

type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec       { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) times(by float64) vec { return vec{by * a.x, by * a.y, by * a.z} }
func (a vec) dot(b vec) float64    { return a.x*b.x + a.y*b.y + a.z*b.z }

// cross keeps to the component formula though the frame is left-handed, so a
// spin's axis crossed with the velocity points along the lift.
func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// toward is the unit vector at an elevation and right of the target line.
func toward(up, right float64) vec {
	sinU, cosU := math.Sincos(up)
	sinR, cosR := math.Sincos(right)
	return vec{cosU * cosR, cosU * sinR, sinU}
}

// turn is how fast a unit of impulse at an arm turns a head.
func turn(arm, inertia float64) float64 {
	if inertia == 0 {
		return 0
	}
	return arm / inertia
}

// gripping are the ball's speeds over the head's while it grips the face: a
// along the face normal were there no tangential force, c up the face along the
// head's own motion.
func (h *Head) gripping(d analysis.Delivery) (a, c float64) {
	mass := ballMass * (1/h.Mass + turn(d.StrikeToe, h.InertiaAcross)*d.StrikeToe + turn(d.StrikeUp, h.InertiaUp)*d.StrikeUp)
	return (1 + h.Restitution) / (1 + mass), (1 + h.Tangential) / (1 + mass + h.yields(h.InertiaUp) + 2.5)
}

// yields is how a head gives way to a pull along its face, Depth in front of its
// centre of gravity, by turning: what that adds to the ball's mass over the head's.
func (h *Head) yields(inertia float64) float64 {
	return ballMass * turn(h.Depth, inertia) * h.Depth
}

// across is how much more of its motion a head passes on across its face than up it,
// which it turns more easily: a rigid body's, 1.02 of woods and hybrids, 1 of irons.
func (h *Head) across() float64 {
	mass := 1 + ballMass/h.Mass + 2.5
	return (mass + h.yields(h.InertiaUp)) / (mass + h.yields(h.InertiaAcross))
}

// ratios are the same with what friction can do; sliding when it does all it can.
func (h *Head) ratios(d analysis.Delivery, cosPhi, sinPhi float64) (a, c float64, sliding bool) {
	a, c = h.gripping(d)
	if most := h.Friction * a * cosPhi; c*sinPhi > most {
		return a, most / sinPhi, true
	}
	return a, c, false
}

// gripLimit is the spin loft, rad, from which friction has no more spin to give:
// tanPhi = mu A / c, and sooner for a head that spins the ball more than the
// rigid contact does.
func (h Head) gripLimit(d analysis.Delivery) float64 {
	a, c := h.gripping(d)
	return math.Atan(h.Friction * a / (c * max(1, h.SpinScale)))
}

// A meeting is head and ball at impact, all speeds over the head's own.
type meeting struct {
	n, across, above vec     // face normal where the ball is struck; level along the face, to the right; up it
	v                vec     // the head's direction
	cosPhi, sinPhi   float64 // of the spin loft
	a, c             float64 // ratios
	sliding          bool
	slide            float64 // what of the head's motion is level along the face

	// The head turns by toe and up over the impulse, and its face drags the ball
	// along by gear times that.
	gear, toe, up float64

	grip       vec // what turns the ball: a speed it was given along the face
	ball, spin vec // what it leaves with; spin in rad/m
}

// spinArm is how far a spin's surface speed is from the speed that a ball at rest
// gets with it from a pull along the face: a solid sphere's moment of inertia is 2/5
// m r^2.
const spinArm = 0.4 * ballRadius

// meet is the meeting of a delivery. ok is false for a face that does not move into
// the ball (spin loft of 90 degrees or more).
func (h *Head) meet(d analysis.Delivery) (m meeting, ok bool) {
	toe := h.Hand.Mirror() * d.StrikeToe // to the right of the face's middle
	face, loft := d.Face, d.DynamicLoft
	if h.Bulge > 0 {
		face += toe / h.Bulge
	}
	if h.Roll > 0 {
		loft += d.StrikeUp / h.Roll
	}
	sinL, cosL := math.Sincos(loft)
	sinF, cosF := math.Sincos(face)
	m.n = vec{cosL * cosF, cosL * sinF, sinL}
	m.across = vec{-sinF, cosF, 0}
	m.above = vec{-sinL * cosF, -sinL * sinF, cosL}
	m.v = toward(d.Attack, d.Path)
	m.cosPhi = m.n.dot(m.v)
	if m.cosPhi <= 0 || d.ClubSpeed <= 0 {
		return m, false
	}
	m.sinPhi = math.Sqrt(max(0, 1-m.cosPhi*m.cosPhi))
	m.a, m.c, m.sliding = h.ratios(d, m.cosPhi, m.sinPhi)
	m.slide = m.v.dot(m.across)

	m.gear = h.drag()
	m.toe, m.up = turn(toe, h.InertiaAcross), turn(d.StrikeUp, h.InertiaUp)
	push := m.across.times(m.toe).plus(m.above.times(m.up)).times(m.gear * m.a * m.cosPhi)

	more := h.across()
	m.grip = m.v.plus(m.across.times((more - 1) * m.slide)).times(h.SpinScale * m.c).plus(push)
	m.spin = m.grip.cross(m.n).times(1 / spinArm)
	m.ball = m.n.times((m.a - m.c) * m.cosPhi).plus(m.v.times(m.c)).
		plus(m.across.times((h.Sideways*more - 1) * m.c * m.slide)).plus(push)
	return m, true
}

// drag is the gear effect: a head struck off its centre of gravity turns, and the
// face sliding along drags the ball with it, which gives it speed and spin.
func (h *Head) drag() float64 { return h.GearScale * spinArm / ballRadius * ballMass * h.Depth }

// most is the spin that friction can give: whatever turns the ball turns it by that.
func (h *Head) most(m *meeting) float64 { return h.Friction * m.a * m.cosPhi / spinArm }

// launchFrame are the directions that a launch is given in: along the ball's
// velocity, level across it to the right, and square to both. Side spin has its axis
// along above, backspin along across.
func launchFrame(ball vec) (along, across, above vec, level, speed float64) {
	level = math.Sqrt(ball.x*ball.x + ball.y*ball.y)
	speed = math.Sqrt(level*level + ball.z*ball.z)
	across = vec{-ball.y / level, ball.x / level, 0}
	above = vec{-ball.z * ball.x / (level * speed), -ball.z * ball.y / (level * speed), level / speed}
	return ball.times(1 / speed), across, above, level, speed
}

// Strike is the ball's launch from a delivery. A face that does not move into
// the ball leaves it where it lies.
func (h Head) Strike(d analysis.Delivery) analysis.Launch {
	m, ok := h.meet(d)
	if !ok {
		return analysis.Launch{}
	}
	return h.launch(&m, d.ClubSpeed)
}

// launch is what the ball leaves with from a head of this speed, m/s.
func (h *Head) launch(m *meeting, clubSpeed float64) analysis.Launch {
	_, across, above, level, speed := launchFrame(m.ball)
	side, back := m.spin.dot(above), -m.spin.dot(across)
	return analysis.Launch{
		Speed:     clubSpeed * speed,
		Angle:     math.Atan2(m.ball.z, level),
		Direction: math.Atan2(m.ball.y, m.ball.x),
		Spin:      clubSpeed * min(h.most(m), math.Sqrt(side*side+back*back)),
		Axis:      math.Atan2(side, back),
	}
}

// FaceShare is how much of the start direction the face decides, the path
// having the rest: start = share x face + (1 - share) x path, for small angles.
//
//	share = 1 - s c cos a / (A cosPhi cosL + c (cos a - cosPhi cosL))
//
// With s = 1 and a = 0 that is (A - c) cos^2 L / ((A - c) cos^2 L + c).
func (h Head) FaceShare(d analysis.Delivery) float64 {
	sinPhi, cosPhi := math.Sincos(math.Abs(d.DynamicLoft - d.Attack))
	a, c, _ := h.ratios(d, cosPhi, sinPhi)
	normal, attack := cosPhi*math.Cos(d.DynamicLoft), math.Cos(d.Attack)
	return 1 - h.Sideways*h.across()*c*attack/(a*normal+c*(attack-normal))
}

// SpinLoft is the angle between the face normal and the head's direction, rad.
func SpinLoft(d analysis.Delivery) float64 {
	cos := toward(d.DynamicLoft, d.Face).dot(toward(d.Attack, d.Path))
	return math.Acos(max(-1, min(1, cos)))
}
