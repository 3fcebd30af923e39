package flight

// vec has x along the target line, y right and z up. That frame is
// left-handed; cross products here keep to the component formula, and axes are
// chosen so that axis cross velocity points along the lift.
type vec [3]float64

func (a vec) dot(b vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vec) plus(b vec) vec { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func (a vec) times(k float64) vec { return vec{k * a[0], k * a[1], k * a[2]} }

func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
