package sessionfile

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A landing is what the flight model makes of a ball's speed, launch and spin,
// and by how much a column that holds it may differ: as a logarithm, or in rad.
// Range balls fly shorter and lower, so that the middle is under the model's.
// Common practice, no source.
type landing struct {
	field        field
	of           func(flight.Landing) float64
	middle, wide float64
	angle        bool
}

var flights = []landing{
	{carry, func(l flight.Landing) float64 { return l.Carry }, -0.07, 0.07, false},
	{apex, func(l flight.Landing) float64 { return l.Apex }, -0.12, 0.15, false},
	{descent, func(l flight.Landing) float64 { return l.Descent }, -2 * degree, 4 * degree, true},
	{flightTime, func(l flight.Landing) float64 { return l.Time }, -0.06, 0.07, false},
}

// mostFlown is how many shots of a session are flown to see what hangs
// together: their middle says as much as that of all.
const mostFlown = 5

// A flown is the shots that were flown.
type flown struct {
	rows []int
	to   []flight.Landing
}

// fly flies some of the shots, those with all three numbers.
func fly(speed, angle, spins []float64) (f flown) {
	var whole []int
	for i := range speed {
		if sane(analysis.Launch{Speed: speed[i], Angle: angle[i], Spin: spins[i]}) {
			whole = append(whole, i)
		}
	}
	m := flight.Standard()
	for k := range min(len(whole), mostFlown) {
		i := whole[k*len(whole)/min(len(whole), mostFlown)]
		f.rows = append(f.rows, i)
		f.to = append(f.to, m.Fly(analysis.Launch{Speed: speed[i], Angle: angle[i], Spin: spins[i]}))
	}
	return f
}

// bearsOut is by how much a column speaks for being what the balls flown did.
func (l landing) bearsOut(f flown, vs []float64) float64 {
	var off []float64
	for k, i := range f.rows {
		want := l.of(f.to[k])
		switch {
		case math.IsNaN(vs[i]) || want <= 0:
		case l.angle:
			off = append(off, vs[i]-want)
		case vs[i] > 0:
			off = append(off, math.Log(vs[i]/want))
		}
	}
	if len(off) < 2 {
		return 0
	}
	z := (median(off) - l.middle) / l.wide
	return max(2.5-0.5*z*z, -5)
}

// spinOf is about what spin a full swing gives a ball that is launched so: 2,500
// revolutions a minute at ten degrees, and 9,000 at thirty. Common practice, no
// source.
func spinOf(angle float64) float64 {
	return min(max(2500+325*(angle/degree-10), 2000), 10000) * analysis.RevPerMinute
}
