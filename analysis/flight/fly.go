package flight

import (
	"math"

	"rangepost/analysis"
)

// state is position (m), velocity (m/s) and spin (rad/s).
type state [7]float64

// problem is one flight with everything that does not change during it.
type problem struct {
	coefficients Coefficients
	force        float64 // rho A / 2 m
	reynolds     float64 // q per m/s
	decay        float64 // lambda / r
	axis         vec     // spin axis: axis cross velocity points along the lift
	windX, windY float64 // at 10 m
	profile      Profile
	windy        bool
}

func (m *Model) problem(l analysis.Launch) (problem, state) {
	sinA, cosA := math.Sincos(l.Angle)
	sinD, cosD := math.Sincos(l.Direction)
	sinT, cosT := math.Sincos(l.Axis)
	across := vec{-sinD, cosD, 0}                  // level, right of the start line
	above := vec{-sinA * cosD, -sinA * sinD, cosA} // square to both
	p := problem{
		coefficients: m.Coefficients,
		force:        m.Air.Density * area / (2 * Mass),
		reynolds:     m.Air.Density * Diameter / m.Air.Viscosity / 1e5,
		decay:        m.SpinDecay * m.Air.Density / standardDensity / radius,
		profile:      m.Wind.Profile,
		windy:        m.Wind.Speed != 0,
	}
	spin := l.Spin
	if spin < 0 { // topspin: the same about the opposite axis
		spin, sinT, cosT = -spin, -sinT, -cosT
	}
	for i := range p.axis {
		p.axis[i] = sinT*above[i] - cosT*across[i]
	}
	if p.windy {
		sinW, cosW := math.Sincos(m.Wind.From)
		p.windX, p.windY = -m.Wind.Speed*cosW, -m.Wind.Speed*sinW
	}
	v := l.Speed
	return p, state{3: v * cosA * cosD, 4: v * cosA * sinD, 5: v * sinA, 6: spin}
}

// slope is the right-hand side: the time derivative of s.
func (p *problem) slope(s, ds *state) {
	vx, vy, vz, spin := s[3], s[4], s[5], s[6]
	ds[0], ds[1], ds[2] = vx, vy, vz
	if p.windy {
		share := p.profile.share(s[2])
		vx -= share * p.windX
		vy -= share * p.windY
	}
	speed := math.Sqrt(vx*vx + vy*vy + vz*vz)
	if speed == 0 {
		ds[3], ds[4], ds[5], ds[6] = 0, 0, -gravity, 0
		return
	}
	cd, cl := p.coefficients.At(spin*radius/speed, p.reynolds*speed)
	drag := -p.force * cd * speed
	lift := p.force * cl * speed
	a := &p.axis
	ds[3] = drag*vx + lift*(a[1]*vz-a[2]*vy)
	ds[4] = drag*vy + lift*(a[2]*vx-a[0]*vz)
	ds[5] = drag*vz + lift*(a[0]*vy-a[1]*vx) - gravity
	ds[6] = -p.decay * speed * spin
}

// Fly is where and how a launched ball comes down, on level ground. A launch
// that does not leave the ground lands where it lay; one with numbers that are
// not finite lands nowhere (NaN).
func (m *Model) Fly(l analysis.Launch) Landing {
	p, s := m.problem(l)
	end, apex, t := p.integrate(s, s.tolerance())
	over := math.Hypot(end[3], end[4])
	return Landing{
		Carry:   end[0],
		Lateral: end[1],
		Apex:    apex,
		Time:    t,
		Speed:   math.Hypot(over, end[5]),
		Descent: math.Atan2(-end[5], over),
		Heading: math.Atan2(end[4], end[3]),
		Spin:    end[6],
		axis:    p.axis,
	}
}
