package ball

import "rangepost/analysis"

// Worth is what one more unit of face or path moves the carry sideways, in m a
// rad, positive right, with everything else as delivered.
type Worth struct {
	Face, Path float64
}

// PerDegree is the same in m a degree.
func (w Worth) PerDegree() Worth {
	return Worth{w.Face * analysis.Degree, w.Path * analysis.Degree}
}

// worthStep is small against any delivery's spread and large against the
// millimetre the flight is good to.
const worthStep = 0.5 * analysis.Degree

// Worth is the slope at this delivery, by central differences over a degree.
func (m *Model) Worth(d analysis.Delivery, own Departure) Worth {
	across := func(face, path float64) float64 {
		d := d
		d.Face += face
		d.Path += path
		return m.Land(d, own).Lateral
	}
	return Worth{
		Face: (across(worthStep, 0) - across(-worthStep, 0)) / (2 * worthStep),
		Path: (across(0, worthStep) - across(0, -worthStep)) / (2 * worthStep),
	}
}
