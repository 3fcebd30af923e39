package panel

import "math"

// compliant follows the ball through its half millisecond on the face: Hertz's
// normal spring with Hunt & Crossley's damping, set by the 8(1-e)/5ev of Flores
// et al., Multibody Syst. Dyn. 25 (2011) 357 [M], and across it a spring that sticks, stores, gives back and
// slips where Coulomb says so, after Maw, Barber & Fawcett, Wear 38 (1976) 101
// [M] and Henrikson, Wood, Broadie & Nuttall 2020 [S], who measured friction
// 0.35 to 0.4.
type compliant struct {
	// across is the stiffness along the face over that into it. Mindlin's is
	// 0.67 to 1 for a uniform ball; what it is for a real one is not known, and
	// with it how much spin the springing back adds.
	across float64
	// damp is the share of the tangential spring's force that is damping at
	// one radian of the normal spring's beat.
	damp float64
}

func (c compliant) meet(h head, toward vec, speed, toe, up float64) (v, spin vec) {
	n := h.normal(toe, up)
	k := h.give(n, toe, up)
	u := toward.scale(-speed)
	into := -u.dot(n)
	if into <= 0 {
		return afterImpulse(n, vec{})
	}
	loss := 1.6 * (1 - h.restore) / (h.restore * into)
	// Stiff enough for 0.45 ms at 45 m/s, as measured on balls [M: Penner 2003].
	const stiff = 2.4e7
	const dt = 5e-6
	var j, stretch vec
	x := 0.0
	for range 400 {
		closing := -u.dot(n)
		x += closing * dt
		if x <= 0 {
			break
		}
		root := math.Sqrt(x)
		normal := stiff * x * root * (1 + loss*closing)
		if normal < 0 {
			break // the ball comes off a face that no longer follows it
		}
		slip := u.without(n)
		stretch = stretch.add(slip.scale(dt))
		// damp x (1 / beat) is the damper's time; the beat is about pi / 0.45 ms.
		const beat = math.Pi / 0.45e-3
		pull := stretch.add(slip.scale(c.damp / beat)).scale(-c.across * stiff * root)
		if most := h.friction * normal; pull.size() > most {
			pull = pull.unit().scale(most)
			// A slipping spring is stretched no further than it can pull.
			stretch = pull.scale(-1 / (c.across * stiff * root)).sub(slip.scale(c.damp / beat))
		}
		push := n.scale(normal).add(pull).scale(dt)
		j = j.add(push)
		u = u.add(k.times(push))
	}
	return afterImpulse(n, j)
}
