package panel

import "rangepost/analysis"

// A head is a club's head as the ball meets it, free at impact. Its axes are
// the face's normal, across toward the toe, and up the face; the middle of the
// face lies straight in front of its centre of mass.
type head struct {
	mass       float64 // kg
	twist      float64 // moment of inertia about the axis up the face, kg m2
	tilt       float64 // about the axis across the face, kg m2
	roll       float64 // about the face's normal, kg m2
	depth      float64 // centre of mass behind the face, m
	bulge, top float64 // curvatures of the face across and up, 1/m; 0 is flat
	restore    float64 // normal restitution of ball and face
	grip       float64 // tangential restitution: 0 leaves rolling, 1 a superball
	friction   float64
	spin       float64 // what the spin is multiplied by at the end
	share      float64 // share of the launch's direction that is the face's
	transfer   float64 // spin over that of a ball gripped without turning
}

// heads is the middle of what is made, common practice, no source, but for the
// driver's: restitution 0.83 and twist under 5.9e-4 kg m2 by the Equipment
// Rules, part 2 [M]; the shares are the measured means of Henrikson, Wood,
// Broadie & Nuttall, Proceedings 49 (2020) 27 [S]: 0.83, 0.81 for a 7-iron and
// 0.72 for a pitching wedge, put in line between; irons and wedges turn a ball
// faster than rolling, Cross & Dewhurst, Eur. J. Phys. 39 (2018) [S].
func heads(c analysis.Club) head {
	switch c.Family {
	case analysis.Driver:
		return head{0.200, 4.6e-4, 2.8e-4, 3e-4, 0.034, 1 / 0.30, 1 / 0.29, 0.830, -0.02, 0.40, 1, 0.83, 0.66}
	case analysis.Wood:
		return head{0.214, 2.8e-4, 1.7e-4, 2.5e-4, 0.026, 1 / 0.30, 1 / 0.30, 0.815, 0.04, 0.40, 1, 0.82, 0.71}
	case analysis.Hybrid:
		return head{0.236, 2.7e-4, 1.2e-4, 2.5e-4, 0.015, 1 / 0.45, 1 / 0.45, 0.800, 0.10, 0.40, 1, 0.815, 0.75}
	case analysis.Wedge:
		return head{0.300, 2.9e-4, 0.9e-4, 2.5e-4, 0, 0, 0, 0.750, 0.18, 0.40, 1, 0.72, 0.81}
	}
	return head{0.262, 2.5e-4, 0.7e-4, 2.5e-4, 0, 0, 0, 0.785, 0.14, 0.40, 1, 0.81 - 0.02*float64(c.Number-7)/2, 0.80}
}

// normal is the face's at a place on it, in the head's axes.
func (h head) normal(toe, up float64) vec { return direction(h.bulge*toe, h.top*up) }

// give is how the meeting point's speed apart answers an impulse on the ball:
// the ball moves and turns, and the head moves back and turns about its centre
// of mass, arm behind. Cross & Nathan, Am. J. Phys. 75 (2007) 658 [S] for why
// a head that turns turns the ball.
func (h head) give(n vec, toe, up float64) matrix {
	arm := vec{h.depth, toe, up}
	var k matrix
	for i := range k {
		var j vec
		j[i] = 1
		turn := arm.cross(j)
		turn = vec{turn[0] / h.roll, turn[1] / h.tilt, turn[2] / h.twist}
		// A solid sphere's moment of inertia is 2/5 m r2.
		k[i] = j.scale(1/ballMass + 1/h.mass).
			add(j.without(n).scale(2.5 / ballMass)).
			add(turn.cross(arm))
	}
	return k
}
