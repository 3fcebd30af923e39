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
		return head{
			mass: 0.200, twist: 4.6e-4, tilt: 2.8e-4, roll: 3.0e-4, depth: 0.034, bulge: 1 / 0.30, top: 1 / 0.29,
			restore: 0.830, grip: -0.02, friction: 0.40, spin: 1, share: 0.83, transfer: 0.66,
		}
	case analysis.Wood:
		return head{
			mass: 0.214, twist: 2.8e-4, tilt: 1.7e-4, roll: 2.5e-4, depth: 0.026, bulge: 1 / 0.30, top: 1 / 0.30,
			restore: 0.815, grip: 0.04, friction: 0.40, spin: 1, share: 0.82, transfer: 0.71,
		}
	case analysis.Hybrid:
		return head{
			mass: 0.236, twist: 2.7e-4, tilt: 1.2e-4, roll: 2.5e-4, depth: 0.015, bulge: 1 / 0.45, top: 1 / 0.45,
			restore: 0.800, grip: 0.10, friction: 0.40, spin: 1, share: 0.815, transfer: 0.75,
		}
	case analysis.Wedge:
		return head{
			mass: 0.300, twist: 2.9e-4, tilt: 0.9e-4, roll: 2.5e-4,
			restore: 0.750, grip: 0.26, friction: 0.40, spin: 1, share: 0.72, transfer: 0.86,
		}
	}
	return head{
		mass: 0.262, twist: 2.5e-4, tilt: 0.7e-4, roll: 2.5e-4,
		restore: 0.785, grip: 0.18, friction: 0.40, spin: 1, share: 0.81 - 0.005*float64(c.Number-7), transfer: 0.82,
	}
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
