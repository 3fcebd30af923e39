package panel

import "math"

// A vec is (forward, right, up). The frame is left-handed; spins are kept so
// that the velocity of a point is cross(spin, arm) by components, which makes
// the side force on a ball cross(spin, velocity) by components too.
type vec [3]float64

func (a vec) add(b vec) vec        { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) sub(b vec) vec        { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) scale(k float64) vec  { return vec{k * a[0], k * a[1], k * a[2]} }
func (a vec) dot(b vec) float64    { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) size() float64        { return math.Sqrt(a.dot(a)) }
func (a vec) without(unit vec) vec { return a.sub(unit.scale(a.dot(unit))) }
func direction(across, up float64) vec {
	return vec{math.Cos(up) * math.Cos(across), math.Cos(up) * math.Sin(across), math.Sin(up)}
}

// unit is a scaled to length 1, or zero when a is.
func (a vec) unit() vec {
	if n := a.size(); n > 0 {
		return a.scale(1 / n)
	}
	return vec{}
}

func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// A matrix is kept by columns.
type matrix [3]vec

func (m matrix) times(v vec) vec {
	return m[0].scale(v[0]).add(m[1].scale(v[1])).add(m[2].scale(v[2]))
}

// transposed takes a vector into the frame whose axes are m's columns.
func (m matrix) transposed(v vec) vec { return vec{m[0].dot(v), m[1].dot(v), m[2].dot(v)} }

// solve is x of m x = v, by Cramer's rule; m must not be singular.
func (m matrix) solve(v vec) vec {
	det := m[0].dot(m[1].cross(m[2]))
	return vec{
		v.dot(m[1].cross(m[2])) / det,
		m[0].dot(v.cross(m[2])) / det,
		m[0].dot(m[1].cross(v)) / det,
	}
}
