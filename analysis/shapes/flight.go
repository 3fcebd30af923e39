package shapes

import "math"

// A ball of the rules' least size and greatest mass in sea-level air.
const (
	ballMass   = 0.04593 // kg, greatest under the Rules of Golf [M]
	ballRadius = 0.02135 // m, least under the Rules of Golf [M]
	airDensity = 1.204   // kg/m^3, 20 degrees C at sea level [M]
	gravity    = 9.80665 // m/s^2, standard gravity [M]
	step       = 0.02    // s
)

type landing struct {
	carry, side, apex float64 // m; carry is along the target line
	descent, heading  float64 // rad; heading is right of target
	time              float64 // s
}

// fly integrates a point mass with drag and lift that grow with the ratio of
// the surface's speed to the ball's, the midpoint rule, until it is back on
// the ground. The two coefficients are set so that a 7-iron at 120 mph and a
// driver at 167 mph carry what the trade expects (common practice, no source);
// within 3 % they do. drag multiplies the drag of a new ball.
func fly(speed, angle, direction, spin, axis, drag float64) landing {
	k := airDensity * math.Pi * ballRadius * ballRadius / (2 * ballMass)
	var x, y, z float64 // toward the target, right, up
	vx := speed * math.Cos(angle) * math.Cos(direction)
	vy := speed * math.Cos(angle) * math.Sin(direction)
	vz := speed * math.Sin(angle)
	sinAxis, cosAxis := math.Sincos(axis)
	accel := func(vx, vy, vz, w float64) (ax, ay, az float64) {
		v := math.Sqrt(vx*vx + vy*vy + vz*vz)
		level := math.Hypot(vx, vy)
		s := w * ballRadius / v
		cd := drag * (0.203 + 0.295*s)
		cl := 1.0 * s / (0.37 + 2.2*s)
		// Right of the flight, level; and up across it.
		rx, ry := -vy/level, vx/level
		ux, uy, uz := -vx*vz/(level*v), -vy*vz/(level*v), level/v
		ax = k * v * (-cd*vx + v*cl*(cosAxis*ux+sinAxis*rx))
		ay = k * v * (-cd*vy + v*cl*(cosAxis*uy+sinAxis*ry))
		az = k*v*(-cd*vz+v*cl*cosAxis*uz) - gravity
		return
	}
	var l landing
	w := spin
	for t := 0.0; t < 15; t += step {
		ax, ay, az := accel(vx, vy, vz, w)
		mx, my, mz := vx+ax*step/2, vy+ay*step/2, vz+az*step/2
		ax, ay, az = accel(mx, my, mz, w)
		nx, ny, nz := x+mx*step, y+my*step, z+mz*step
		vx, vy, vz = vx+ax*step, vy+ay*step, vz+az*step
		w *= 1 - step/25
		l.apex = math.Max(l.apex, nz)
		if nz < 0 {
			part := z / (z - nz)
			l.carry, l.side, l.time = x+part*(nx-x), y+part*(ny-y), t+part*step
			break
		}
		x, y, z = nx, ny, nz
	}
	l.descent = math.Atan2(-vz, math.Hypot(vx, vy))
	l.heading = math.Atan2(vy, vx)
	return l
}
