package panel

import "math"

// shared has no mechanics between club and ball: the launch lies in the plane
// of the club's direction and the face's normal, the measured share of the way
// from the one to the other [S: Wood, Henrikson & Broadie, Proceedings 2(6)
// (2018) 249: 0.61 to 0.83 over clubs and planes; Henrikson et al. 2020]; the
// spin is a share of what is across the face; a strike off the middle meets
// less mass, 1/m + b2/I [S: Cross & Nathan, Sports Technology 2 (2009) 7] and a
// face that turns under the ball like a gear [S: Cross & Nathan 2007].
type shared struct {
	gear float64 // share of the gear effect of a ball gripped throughout
}

func (s shared) meet(h head, toward vec, speed, toe, up float64) (v, spin vec) {
	n := h.normal(toe, up)
	mass := 1 / (1/h.mass + toe*toe/h.twist + up*up/h.tilt)
	along := toward.dot(n)
	across := toward.without(n)
	loft := math.Atan2(across.size(), along)
	off := (1 - h.share) * loft
	out := speed * along * (1 + h.restore) * mass / (mass + ballMass)
	v = n.add(across.unit().scale(math.Tan(off))).scale(out)
	spin = n.cross(across).scale(-h.transfer * speed / ballRadius)
	turn := s.gear * (5.0 / 7) * ballMass * out * h.depth / ballRadius
	return v, spin.add(vec{0, turn * up / h.tilt, -turn * toe / h.twist})
}
