package flight

import "math"

// A Source is one published set of drag and lift coefficients, and where it was
// measured. Outside that it says nothing.
type Source struct {
	Name string // who and when
	Read string // how it was read: the tags of the package comment

	// Lift and Drag are the coefficients at spin ratio s and Reynolds number q in
	// hundreds of thousands; ok is false where the source has none. Drag is nil
	// for a ball of another age: half a century of dimples took a fifth off the
	// drag and left the lift where it was.
	Lift, Drag func(s, q float64) (c float64, ok bool)
}

// Sources are the published coefficients that Evidence is the mean of.
func Sources() []Source { return sources[:] }

var sources = [...]Source{
	{
		// Bearman, P. W. and Harvey, J. K. (1976), Golf ball aerodynamics, Aeronaut.
		// Q. 27:112, figures 7 and 8, a hexagonally dimpled ball of 41.1 mm.
		Name: "Bearman and Harvey (1976)", Read: "[S], figures as tabulated by a university course",
		Lift: bearman(bearmanLift),
	},
	{
		// Smits and Smith (1994); see SmitsSmith. The lift was measured to spin
		// ratios beyond the drives it was fitted for [M]; it is believed to 0.5.
		Name: "Smits and Smith (1994)", Read: "[S], closed form",
		Lift: liftOf(SmitsSmith{}, 0.04, 0.5, 0.7, 2.5),
	},
	{
		// See Patent.
		Name: "US 6,186,002 (2001)", Read: "[S], closed form",
		Lift: liftOf(Patent{}, 0.04, 0.22, 0.9, 2.2),
		Drag: dragOf(Patent{}, 0.04, 0.22, 0.9, 2.2),
	},
	{
		// See LowSpin.
		Name: "Quintavalla (2002)", Read: "[S], closed form",
		Lift: liftOf(LowSpin{}, 0.04, 0.3, 0.7, 2.2),
		Drag: dragOf(LowSpin{}, 0.04, 0.3, 0.7, 2.2),
	},
	{
		// Naruo, Mizota and Shimozono (2004), Trans. JSME B 70:2371, Re 0.7e5 to
		// 1.25e5: values at spin ratios of 0.1, 0.2 and 0.5, a parabola between.
		Name: "Naruo and others (2004)", Read: "[S], three values of polynomials; [C] between them",
		Lift: within(parabola(0.1, 0.171, 0.2, 0.253, 0.5, 0.343), 0.1, 0.5, 0.7, 1.9),
		Drag: within(parabola(0.1, 0.236, 0.2, 0.279, 0.5, 0.414), 0.1, 0.5, 0.7, 1.9),
	},
	{
		// Four production balls of an indoor range: the middle of two extremes.
		Name: "US 6,916,255 (2005)", Read: "[S], a range at each of two places; [C] between them",
		Lift: within(line(0.110, 0.1685, 0.188, 0.218), 0.1, 0.2, 0.7, 2),
		Drag: within(line(0.110, 0.2265, 0.188, 0.279), 0.1, 0.2, 0.7, 2),
	},
	{
		// See HighSpin.
		Name: "USGA and R&A (2006)", Read: "[S], table; [C] closed form",
		Lift: liftOf(HighSpin{}, 0.08, 1.8, 0.2, 2),
		Drag: dragOf(HighSpin{}, 0.08, 1.8, 0.2, 2),
	},
	{
		// Lyu, Kensrud, Smith and Tosaya (2018), Aerodynamics of golf balls in still
		// air, Proceedings 2(6):238: a fit over 13 production balls, 18 to 91 m/s
		// and 1,500 to 4,500 rpm. Past a spin ratio of 0.3 its parabola turns down.
		Name: "Lyu and others (2018)", Read: "[S], fit as used by a university course; the ranges [P]",
		Lift: within(func(s float64) float64 { return 1.99*s - 3.25*s*s }, 0.04, 0.3, 0.5, 2.6),
	},
}

// within is a curve over the spin ratio that holds inside bounds of s and q.
func within(curve func(s float64) float64, minS, maxS, minQ, maxQ float64) func(s, q float64) (float64, bool) {
	return func(s, q float64) (float64, bool) {
		return curve(s), minS <= s && s <= maxS && minQ <= q && q <= maxQ
	}
}

func liftOf(c Coefficients, minS, maxS, minQ, maxQ float64) func(s, q float64) (float64, bool) {
	return func(s, q float64) (float64, bool) {
		_, cl := c.At(s, q)
		return cl, minS <= s && s <= maxS && minQ <= q && q <= maxQ
	}
}

func dragOf(c Coefficients, minS, maxS, minQ, maxQ float64) func(s, q float64) (float64, bool) {
	return func(s, q float64) (float64, bool) {
		cd, _ := c.At(s, q)
		return cd, minS <= s && s <= maxS && minQ <= q && q <= maxQ
	}
}

func line(x0, y0, x1, y1 float64) func(float64) float64 {
	return func(x float64) float64 { return y0 + (y1-y0)*(x-x0)/(x1-x0) }
}

// parabola goes through three points (Newton's divided differences).
func parabola(x0, y0, x1, y1, x2, y2 float64) func(float64) float64 {
	first := (y1 - y0) / (x1 - x0)
	second := ((y2-y1)/(x2-x1) - first) / (x2 - x0)
	return func(x float64) float64 { return y0 + (x-x0)*(first+(x-x1)*second) }
}

// The lift of Bearman and Harvey (1976), by speed and spin, in the steps of a
// thousand revolutions that are enough for a straight line between.
var (
	bearmanSpeed = [...]float64{13.7, 21.6, 29.9, 38.4, 46.9, 55.2, 63.1, 71.9, 80.2, 88.1} // m/s
	bearmanLift  = [...][10]float64{
		{0.100, 0.185, 0.245, 0.200, 0.173, 0.153, 0.142, 0.136, 0.128, 0.128}, // 2,000 rpm
		{0.359, 0.335, 0.304, 0.246, 0.208, 0.184, 0.167, 0.158, 0.149, 0.147},
		{0.400, 0.364, 0.335, 0.286, 0.239, 0.215, 0.197, 0.181, 0.169, 0.158},
		{0.413, 0.391, 0.350, 0.312, 0.269, 0.241, 0.226, 0.203, 0.190, 0.179},
		{0.465, 0.423, 0.372, 0.339, 0.300, 0.266, 0.250, 0.225, 0.210, 0.200}, // 6,000 rpm
	}
)

// bearman reads the table at the speed and spin that make s and q.
func bearman(table [5][10]float64) func(s, q float64) (float64, bool) {
	const ballRadius, viscosity = 0.0411 / 2, 1.46e-5 // m, m^2/s
	return func(s, q float64) (float64, bool) {
		speed := q * 1e5 * viscosity / (2 * ballRadius)
		row := s*speed/ballRadius/(2000*math.Pi/60) - 2 // thousands of rpm above 2
		last := len(bearmanSpeed) - 1
		if !(row >= 0 && row <= 4 && speed >= bearmanSpeed[1] && speed <= bearmanSpeed[last]) {
			return 0, false
		}
		i, j := min(3, int(row)), 0
		for j < last-1 && speed > bearmanSpeed[j+1] {
			j++
		}
		u, v := row-float64(i), (speed-bearmanSpeed[j])/(bearmanSpeed[j+1]-bearmanSpeed[j])
		at := func(i int) float64 { return table[i][j] + v*(table[i][j+1]-table[i][j]) }
		return at(i) + u*(at(i+1)-at(i)), true
	}
}
