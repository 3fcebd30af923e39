package impact

import (
	"math"

	"rangepost/analysis"
)

type vec struct{ x, y, z float64 }

func (a vec) dot(b vec) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

// toward is the unit vector at an elevation and right of the target line.
func toward(up, right float64) vec {
	sinU, cosU := math.Sincos(up)
	sinR, cosR := math.Sincos(right)
	return vec{cosU * cosR, cosU * sinR, sinU}
}

// ratios are the ball's speeds over the head's: a along the face normal were
// there no tangential force, c along the head's own motion.
func (h Head) ratios(d analysis.Delivery, cosPhi, sinPhi float64) (a, c float64) {
	effective := 1 / (1/h.Mass + d.StrikeToe*d.StrikeToe/h.InertiaAcross + d.StrikeUp*d.StrikeUp/h.InertiaUp)
	a = (1 + h.Restitution) / (1 + ballMass/effective)
	c = (1 + h.Tangential) / (1 + ballMass/effective + 2.5)
	if grip := h.Friction * a * cosPhi; c*sinPhi > grip {
		c = grip / sinPhi
	}
	return a, c
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
	ball := vec{
		d.ClubSpeed * (along*n.x + c*v.x),
		d.ClubSpeed * (along*n.y + c*v.y),
		d.ClubSpeed * (along*n.z + c*v.z),
	}
	level := math.Hypot(ball.x, ball.y)
	speed := math.Hypot(level, ball.z)
	l := analysis.Launch{
		Speed:     speed,
		Angle:     math.Atan2(ball.z, level),
		Direction: math.Atan2(ball.y, ball.x),
	}

	// The spin axis is square to n and v, so to the ball's velocity too: the
	// ball curves toward the side the face normal lies on. Across and above
	// are the two directions square to the velocity.
	across := vec{-ball.y / level, ball.x / level, 0}
	above := vec{-ball.z * ball.x / (level * speed), -ball.z * ball.y / (level * speed), level / speed}
	side, back := n.dot(across), n.dot(above)
	if size := math.Hypot(side, back); size > 0 {
		spin := h.SpinScale * c * d.ClubSpeed * sinPhi / (0.4 * ballRadius)
		side *= spin / size
		back *= spin / size
	}

	// Gear effect: a head struck off its centre of gravity turns, and the face
	// sliding sideways drags the ball's surface with it.
	gear := h.GearScale * ballMass * speed * h.Depth / ballRadius
	side -= gear * toe / h.InertiaAcross
	back -= gear * d.StrikeUp / h.InertiaUp
	l.Spin = math.Hypot(side, back)
	l.Axis = math.Atan2(side, back)
	return l
}

// FaceShare is how much of the start direction the face decides, the path
// having the rest: start = share x face + (1 - share) x path, for small angles.
//
//	share = (A - c) cos^2 L / ((A - c) cos^2 L + c)
func (h Head) FaceShare(d analysis.Delivery) float64 {
	cosPhi := math.Cos(d.DynamicLoft - d.Attack)
	sinPhi := math.Sin(math.Abs(d.DynamicLoft - d.Attack))
	a, c := h.ratios(d, cosPhi, sinPhi)
	cos := math.Cos(d.DynamicLoft)
	face := (a - c) * cos * cos
	return face / (face + c)
}

// SpinLoft is the angle between the face normal and the head's direction, rad.
func SpinLoft(d analysis.Delivery) float64 {
	cos := toward(d.DynamicLoft, d.Face).dot(toward(d.Attack, d.Path))
	return math.Acos(max(-1, min(1, cos)))
}
