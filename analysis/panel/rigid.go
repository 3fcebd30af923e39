package panel

// rigid is an instant's meeting of two rigid bodies: the speed apart along the
// normal comes back times the restitution and the slip across it times the
// grip, Penner, The physics of golf: the convex face of a driver, Am. J. Phys.
// 69 (2001) 1073 [M] with grip 0, Cross & Dewhurst 2018 [S] with more; and no
// more across than friction allows. Gear effect is not added: it is what the
// head's turning does.
type rigid struct{}

func (rigid) meet(h head, toward vec, speed, toe, up float64) (v, spin vec) {
	n := h.normal(toe, up)
	k := h.give(n, toe, up)
	before := toward.scale(-speed)
	into := n.scale(before.dot(n))
	slip := before.sub(into)
	j := k.solve(into.scale(-1 - h.restore).sub(slip.scale(1 + h.grip)))
	if across := j.without(n); across.size() > h.friction*j.dot(n) {
		way := n.add(across.unit().scale(h.friction))
		j = way.scale(-(1 + h.restore) * before.dot(n) / k.times(way).dot(n))
	}
	return afterImpulse(n, j)
}

// afterImpulse is what an impulse at the ball's back does to a ball at rest.
func afterImpulse(n, j vec) (v, spin vec) {
	return j.scale(1 / ballMass), n.cross(j).scale(-2.5 / (ballMass * ballRadius))
}
