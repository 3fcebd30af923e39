package stat

import "math"

// Moments are the centre and the sample covariance of points in the plane.
type Moments struct {
	N          int
	X, Y       float64 // means
	XX, XY, YY float64 // covariance, divided by n-1
}

// MomentsOf are the moments of the points (x[i], y[i]); the slices have one
// length. ok is false under two points.
func MomentsOf(x, y []float64) (m Moments, ok bool) {
	m.N = len(x)
	if m.N < 2 {
		return m, false
	}
	for i := range x {
		m.X += x[i]
		m.Y += y[i]
	}
	n := float64(m.N)
	m.X /= n
	m.Y /= n
	for i := range x {
		dx, dy := x[i]-m.X, y[i]-m.Y
		m.XX += dx * dx
		m.XY += dx * dy
		m.YY += dy * dy
	}
	m.XX /= n - 1
	m.XY /= n - 1
	m.YY /= n - 1
	return m, true
}

// Det is the determinant of the covariance.
func (m Moments) Det() float64 { return m.XX*m.YY - m.XY*m.XY }

// Singular reports whether the points lie on a line or a spot, to rounding.
func (m Moments) Singular() bool { return !(m.Det() > 1e-12*m.XX*m.YY) }

// Distance2 is the squared Mahalanobis distance of (x, y) from the centre. The
// moments must not be singular.
func (m Moments) Distance2(x, y float64) float64 {
	dx, dy := x-m.X, y-m.Y
	return (m.YY*dx*dx - 2*m.XY*dx*dy + m.XX*dy*dy) / m.Det()
}

// Axes are the semi-axes of the ellipse of squared Mahalanobis radius r2, and
// the direction of the major one in rad from the first coordinate's axis
// toward the second's, in (-pi/2, pi/2].
func (m Moments) Axes(r2 float64) (major, minor, angle float64) {
	mid, half := (m.XX+m.YY)/2, math.Hypot((m.XX-m.YY)/2, m.XY)
	return math.Sqrt(r2 * (mid + half)), math.Sqrt(r2 * max(0, mid-half)), math.Atan2(2*m.XY, m.XX-m.YY) / 2
}
