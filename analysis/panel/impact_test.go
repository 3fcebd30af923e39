package panel

import (
	"math"
	"testing"

	"rangepost/analysis"
)

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s = %v, want %v within %v", what, got, want, by)
	}
}

// Momentum and restitution alone give these.
func TestRigidStraightOn(t *testing.T) {
	h := head{mass: 0.2, twist: 4e-4, tilt: 3e-4, roll: 3e-4, depth: 0.03, restore: 0.8, friction: 1}
	v, spin := rigid{}.meet(h, vec{1, 0, 0}, 45, 0, 0)
	near(t, "ball speed", v[0], 45*1.8*0.2/(0.2+ballMass), 1e-9)
	near(t, "spin", spin.size(), 0, 1e-9)
	// Off the middle the head gives way: 1/m + b2/I in place of 1/m.
	h.depth = 0
	v, _ = rigid{}.meet(h, vec{1, 0, 0}, 45, 0.02, 0)
	mass := 1 / (1/0.2 + 0.02*0.02/4e-4)
	near(t, "ball speed off the middle", v[0], 45*1.8*mass/(mass+ballMass), 1e-9)
}

// A ball that rolls off a lofted face of a head that does not turn.
func TestRigidRolls(t *testing.T) {
	h := head{mass: 0.25, twist: 1e9, tilt: 1e9, roll: 1e9, restore: 0.8, friction: 10}
	const loft = 30 * deg
	v, spin := rigid{}.meet(h, vec{math.Cos(loft), 0, -math.Sin(loft)}, 40, 0, 0)
	across := 40 * math.Sin(loft) / (1/h.mass + 3.5/ballMass)
	near(t, "speed down the face", v[2], -across/ballMass, 1e-9)
	near(t, "spin", spin.size(), 2.5*across/(ballMass*ballRadius), 1e-6)
	// Backspin: the ball's back, against the face, moves down with the head.
	if back := spin.cross(vec{-ballRadius, 0, 0}); back[2] >= 0 {
		t.Errorf("the back of the ball moves %v, want down", back)
	}
	// The surfaces move together after: v + spin x arm is the head's own.
	surface := v.add(spin.cross(vec{-ballRadius, 0, 0}))[2]
	near(t, "slip", surface, -40*math.Sin(loft)+across/h.mass, 1e-9)
}

func TestFrictionLimits(t *testing.T) {
	h := heads(analysis.Club{Family: analysis.Wedge, Wedge: "56"})
	h.friction = 0.1
	for _, c := range []contact{rigid{}, compliant{across: 0.9, damp: 0.2}} {
		v, _ := c.meet(h, direction(0, -45*deg), 32, 0, 0)
		near(t, "speed across over speed along", -v[2]/v[0], 0.1, 0.002)
	}
}

// A ball off a compliant face comes back by about the restitution it was given.
func TestCompliantRestitution(t *testing.T) {
	for _, e := range []float64{0.75, 0.80, 0.83} {
		h := heads(analysis.Club{Family: analysis.Driver})
		h.restore = e
		v, _ := compliant{across: 0.9, damp: 0.2}.meet(h, vec{1, 0, 0}, 45, 0, 0)
		near(t, "restitution", v[0]*(ballMass+h.mass)/(h.mass*45)-1, e, 0.015)
	}
}

// A strike toward the toe starts a right-hander's ball right off a round face
// and spins it left; toward the heel the other way; up the face it spins less.
func TestGear(t *testing.T) {
	driver := heads(analysis.Club{Family: analysis.Driver})
	flat := driver
	flat.bulge, flat.top = 0, 0
	d := analysis.Delivery{ClubSpeed: 45, DynamicLoft: 13 * deg}
	for name, c := range map[string]contact{"rigid": rigid{}, "compliant": compliant{across: 0.9, damp: 0.2}, "shared": shared{gear: 1}} {
		w := &World{contact: c}
		at := func(h head, toe, up float64) analysis.Launch {
			d := d
			d.StrikeToe, d.StrikeUp = toe, up
			return w.meet(h, analysis.RightHanded, d)
		}
		if l := at(driver, 0.015, 0); l.Direction <= 0.5*deg {
			t.Errorf("%s: off the toe starts %v deg", name, l.Direction/deg)
		}
		toe, heel, middle := at(flat, 0.015, 0), at(flat, -0.015, 0), at(flat, 0, 0)
		if toe.Axis > -8*deg || toe.Axis < -35*deg || heel.Axis < 8*deg {
			t.Errorf("%s: 15 mm to the toe tilts the axis %v deg, to the heel %v", name, toe.Axis/deg, heel.Axis/deg)
		}
		if toe.Speed >= middle.Speed || heel.Speed >= middle.Speed {
			t.Errorf("%s: off the middle is faster", name)
		}
		if high, low := at(flat, 0, 0.01), at(flat, 0, -0.01); !(high.Spin < middle.Spin && middle.Spin < low.Spin) {
			t.Errorf("%s: spins %v high, %v in the middle, %v low", name, high.Spin, middle.Spin, low.Spin)
		}
		left := w.meet(driver, analysis.LeftHanded, analysis.Delivery{ClubSpeed: 45, DynamicLoft: 13 * deg, StrikeToe: 0.015})
		if l := at(driver, 0.015, 0); left.Direction != -l.Direction || left.Axis != -l.Axis || left.Speed != l.Speed {
			t.Errorf("%s: left-handed %+v is not %+v in a mirror", name, left, l)
		}
	}
}

// The share of a launch that is the face's, against the measured means and two
// standard deviations of Henrikson, Wood, Broadie & Nuttall 2020 [S]: driver
// 0.83 (0.08), 7-iron 0.81 (0.05), pitching wedge 0.72 (0.06), up and down the
// face. It holds for every world, the edges too.
func TestSharesAreThoseMeasured(t *testing.T) {
	for _, w := range Worlds() {
		for _, c := range []struct {
			club     analysis.Club
			mean, sd float64
		}{
			{analysis.Club{Family: analysis.Driver}, 0.83, 0.08},
			{analysis.Club{Family: analysis.Iron, Number: 7}, 0.81, 0.05},
			{analysis.Club{Family: analysis.Wedge, Wedge: "pw"}, 0.72, 0.06},
		} {
			d := w.golfer.mean(c.club)
			l := w.strike(c.club, analysis.RightHanded, d)
			near(t, w.Name+", "+c.club.String()+": the face's share", (l.Angle-d.Attack)/(d.DynamicLoft-d.Attack), c.mean, 2*c.sd)
		}
	}
}

// Solve and transpose do what they say.
func TestMatrix(t *testing.T) {
	m := matrix{{2, 1, 0}, {-1, 3, 1}, {0.5, 0, 4}}
	x := vec{1, -2, 3}
	if got := m.solve(m.times(x)); got.sub(x).size() > 1e-12 {
		t.Errorf("solve(times(%v)) = %v", x, got)
	}
	if got, want := m.transposed(x), (vec{0, -4, 12.5}); got.sub(want).size() > 1e-12 {
		t.Errorf("transposed = %v, want %v", got, want)
	}
}
