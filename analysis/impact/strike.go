package impact

import (
	"math"

	"rangepost/analysis"
)

type vec struct{ x, y, z float64 }

func (a vec) dot(b vec) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

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
// along the face normal were there no tangential force, c along the head's own
// motion.
func (h Head) gripping(d analysis.Delivery) (a, c float64) {
	mass := ballMass * (1/h.Mass + turn(d.StrikeToe, h.InertiaAcross)*d.StrikeToe + turn(d.StrikeUp, h.InertiaUp)*d.StrikeUp)
	return (1 + h.Restitution) / (1 + mass), (1 + h.Tangential) / (1 + mass + 2.5)
}

// ratios are the same with what friction can do.
func (h Head) ratios(d analysis.Delivery, cosPhi, sinPhi float64) (a, c float64) {
	a, c = h.gripping(d)
	if most := h.Friction * a * cosPhi; c*sinPhi > most {
		c = most / sinPhi
	}
	return a, c
}

// gripLimit is the spin loft, rad, from which friction has no more spin to give:
// tanPhi = mu A / c, and sooner for a head that spins the ball more than the
// rigid contact does.
func (h Head) gripLimit(d analysis.Delivery) float64 {
	a, c := h.gripping(d)
	return math.Atan(h.Friction * a / (c * max(1, h.SpinScale)))
}

// Strike is the ball's launch from a delivery. A face that does not move into
// the ball (spin loft of 90 degrees or more) leaves it where it lies.
func (h Head) Strike(d analysis.Delivery) analysis.Launch {
	toe := h.Hand.Mirror() * d.StrikeToe // to the right of the face's middle
	face, loft := d.Face, d.DynamicLoft
	if h.Bulge > 0 {
		face += toe / h.Bulge
	}
	if h.Roll > 0 {
		loft += d.StrikeUp / h.Roll
	}
	n, v := toward(loft, face), toward(d.Attack, d.Path)
	cosPhi := n.dot(v)
	if cosPhi <= 0 || d.ClubSpeed <= 0 {
		return analysis.Launch{}
	}
	sinPhi := math.Sqrt(max(0, 1-cosPhi*cosPhi))
	a, c := h.ratios(d, cosPhi, sinPhi)
	along := (a - c) * cosPhi
	sinF, cosF := math.Sincos(face)
	extra := (h.Sideways - 1) * c * (v.y*cosF - v.x*sinF) // level, along the face
	ball := vec{
		d.ClubSpeed * (along*n.x + c*v.x - extra*sinF),
		d.ClubSpeed * (along*n.y + c*v.y + extra*cosF),
		d.ClubSpeed * (along*n.z + c*v.z),
	}
	level := math.Sqrt(ball.x*ball.x + ball.y*ball.y)
	speed := math.Sqrt(level*level + ball.z*ball.z)
	l := analysis.Launch{
		Speed:     speed,
		Angle:     math.Atan2(ball.z, level),
		Direction: math.Atan2(ball.y, ball.x),
	}

	// The spin axis is square to the face normal and to the head's motion.
	// Across and above are the directions square to the ball's velocity; side
	// spin has its axis along above, backspin along across.
	axis := v.cross(n)
	across := vec{-ball.y / level, ball.x / level, 0}
	above := vec{-ball.z * ball.x / (level * speed), -ball.z * ball.y / (level * speed), level / speed}
	rate := h.SpinScale * c * d.ClubSpeed / (0.4 * ballRadius) // axis has length sinPhi
	side, back := rate*axis.dot(above), -rate*axis.dot(across)

	// Gear effect: a head struck off its centre of gravity turns, and the face
	// sliding sideways drags the ball's surface with it.
	gear := h.GearScale * ballMass * speed * h.Depth / ballRadius
	side -= gear * turn(toe, h.InertiaAcross)
	back -= gear * turn(d.StrikeUp, h.InertiaUp)
	// Whatever turns the ball turns it by friction.
	most := h.Friction * a * cosPhi * d.ClubSpeed / (0.4 * ballRadius)
	l.Spin = min(most, math.Sqrt(side*side+back*back))
	l.Axis = math.Atan2(side, back)
	return l
}

// FaceShare is how much of the start direction the face decides, the path
// having the rest: start = share x face + (1 - share) x path, for small angles.
//
//	share = 1 - s c cos a / (A cosPhi cosL + c (cos a - cosPhi cosL))
//
// With s = 1 and a = 0 that is (A - c) cos^2 L / ((A - c) cos^2 L + c).
func (h Head) FaceShare(d analysis.Delivery) float64 {
	sinPhi, cosPhi := math.Sincos(math.Abs(d.DynamicLoft - d.Attack))
	a, c := h.ratios(d, cosPhi, sinPhi)
	normal, attack := cosPhi*math.Cos(d.DynamicLoft), math.Cos(d.Attack)
	return 1 - h.Sideways*c*attack/(a*normal+c*(attack-normal))
}

// SpinLoft is the angle between the face normal and the head's direction, rad.
func SpinLoft(d analysis.Delivery) float64 {
	cos := toward(d.DynamicLoft, d.Face).dot(toward(d.Attack, d.Path))
	return math.Acos(max(-1, min(1, cos)))
}
