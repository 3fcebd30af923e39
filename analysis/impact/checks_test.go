package impact

import (
	"math"
	"testing"

	"rangepost/analysis"
)

// A check is one number the model has to meet, and where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64 // absolute, in the unit of want
	source string
}

func run(t *testing.T, checks []check) {
	t.Helper()
	for _, c := range checks {
		t.Run(c.name, func(t *testing.T) {
			t.Logf("got %.6g, want %.6g +- %.2g (%s)", c.got, c.want, c.tol, c.source)
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, want %.6g +- %.2g (%s)", c.got, c.want, c.tol, c.source)
			}
		})
	}
}

func deg(v float64) float64 { return v * analysis.Degree }

func club(key string) analysis.Club {
	c, err := analysis.ParseClub(key)
	if err != nil {
		panic(err)
	}
	return c
}

// rigid is a head without our calibrations: the equations as published.
func rigid(key string) Head {
	h := HeadOf(club(key))
	h.Sideways, h.SpinScale = 1, 1
	return h
}

func degrees(rad float64) float64 { return rad / analysis.Degree }
func inRPM(w float64) float64     { return w / analysis.RevPerMinute }

// elevation is the axis above the horizon: the tilt is about the ball's flight,
// which climbs.
func elevation(l analysis.Launch) float64 { return math.Asin(math.Sin(l.Axis) * math.Cos(l.Angle)) }

func TestImpact(t *testing.T) {
	// Penner's ball is a little lighter (45.9 g) and larger (21.4 mm) than ours,
	// and his restitution falls with speed.
	loft := deg(13.1)
	penner := Head{Mass: 0.2, Restitution: 0.86 - 0.0029*45*math.Cos(loft), Friction: 10, Sideways: 1, SpinScale: 1}
	p := penner.Strike(analysis.Delivery{ClubSpeed: 45, DynamicLoft: loft})

	h := rigid("driver")
	h.Depth = 0 // Penner's head does not turn by what pulls along its face
	square := analysis.Delivery{ClubSpeed: 50, DynamicLoft: deg(12)}
	s := h.Strike(square)
	skew := square
	skew.Face, skew.Attack, skew.Path = deg(2), deg(3), deg(-3)
	k := h.Strike(skew)
	// Against the target line instead of the ball's own flight.
	sin, cos := math.Sincos(k.Axis)
	sinA, cosA := math.Sincos(k.Angle)
	sinD, cosD := math.Sincos(k.Direction)
	onTarget := math.Atan2(sin*cosA, cos*cosD+sin*sinA*sinD)

	tilt := func(phi float64) float64 {
		return degrees(elevation(h.Strike(analysis.Delivery{ClubSpeed: 45, DynamicLoft: deg(phi), Face: deg(2)})))
	}
	moi := Head{Mass: 0.2, Restitution: 0.83, Friction: 10, Sideways: 1, SpinScale: 1, InertiaAcross: 4500 * gramCentimetre2}
	centred := moi.Strike(analysis.Delivery{ClubSpeed: 45})
	off := moi.Strike(analysis.Delivery{ClubSpeed: 45, StrikeToe: 0.0127})

	const formula = "[C] the equations of Penner (2001), Am. J. Phys. 69:563, in vectors"
	run(t, []check{
		{"Penner restitution", penner.Restitution, 0.733, 0.0005, "Penner (2001) eq. for e [S]"},
		{"Penner ball speed", p.Speed, 61.83, 0.005 * 61.83, formula},
		{"Penner launch", degrees(p.Angle), 10.57, 0.005 * 10.57, formula},
		{"Penner spin", inRPM(p.Spin), 3051, 0.005 * 3051, formula},
		{"square speed", s.Speed, 72.84, 0.001 * 72.84, formula},
		{"square launch", degrees(s.Angle), 9.81, 0.001 * 9.81, formula},
		{"square spin", inRPM(s.Spin), 3119, 0.001 * 3119, formula},
		{"skew speed", k.Speed, 73.26, 0.001 * 73.26, formula},
		{"skew launch", degrees(k.Angle), 10.37, 0.001 * 10.37, formula},
		{"skew start", degrees(k.Direction), 1.07, 0.005, formula},
		{"skew tilt against the target line", degrees(onTarget), 28.6, 0.03, formula},
		{"skew spin", inRPM(k.Spin), 2675, 0.001 * 2675, formula},
		{"tilt at 14.7 deg of spin loft", tilt(14.7), 7.58, 0.02, "geometry: tan(F - P)/tan(Phi)"},
		{"tilt at 24.3 deg of spin loft", tilt(24.3), 4.42, 0.02, "geometry: tan(F - P)/tan(Phi)"},
		{"strike 12.7 mm toward the toe", off.Speed / centred.Speed, 0.9868, 1e-4, "[C] rigid body, I 4500 g cm^2"},
		{"smash of a centred strike without loft", centred.Speed / 45, 1.83 / (1 + 45.93/200), 1e-9, "exact: (1 + e)/(1 + m/M), Daish (1972), The Physics of Ball Games [M]"},
		{"spin of a driver at 10 deg", inRPM(HeadOf(club("driver")).Strike(analysis.Delivery{ClubSpeed: 54.3, DynamicLoft: deg(12.25)}).Spin), 2520, 0.2 * 2520, "R&A and USGA Overall Distance Standard: 176 mph, 10 deg [S]; one of three sources of SpinScale"},
		{"spin of a 7-iron at 16.5 deg", inRPM(HeadOf(club("7i")).Strike(analysis.Delivery{ClubSpeed: 38.5, DynamicLoft: deg(21.4), Attack: deg(-4.3)}).Spin), 6800, 250, "common practice, no source; calibrates SpinScale"},
	})
}

// Wood, Henrikson and Broadie (2018), Proceedings 2(6):249: 157 golfers and a
// robot; the range 61-83 % [P], the rest [S].
const wood = "Wood et al. (2018) [S]"

func TestFaceShare(t *testing.T) {
	rows := []struct {
		key              string
		loft, attack     float64
		rigid            float64 // our own figure for the published equations
		across, acrossSD float64 // measured, across the face
		up, upSD         float64 // measured, up and down
		missed           float64 // how far the rigid contact is off across
	}{
		{"driver", 12, 0, 0.813, 0.76, 0.08, 0.83, 0.08, 0},
		{"7i", 27, -4, 0.784, 0.69, 0.03, 0.81, 0.05, 0.088},
		{"pw", 40, -5, 0.728, 0.61, 0.07, 0.72, 0.06, 0.103},
	}
	for _, r := range rows {
		d := analysis.Delivery{ClubSpeed: 40, DynamicLoft: deg(r.loft), Attack: deg(r.attack)}
		h := HeadOf(club(r.key))
		level := d
		level.Attack = 0
		launch := h.Strike(d)
		penner := rigid(r.key)
		penner.Depth = 0
		up := (launch.Angle - d.Attack) / (d.DynamicLoft - d.Attack)
		run(t, []check{
			{r.key + " rigid", penner.FaceShare(level), r.rigid, 0.001, "[C] (A - c) cos^2 L / ((A - c) cos^2 L + c)"},
			{r.key + " across", h.FaceShare(d), r.across, r.acrossSD, wood},
			{r.key + " up", up, r.up, r.upSD, wood},
		})
		// The rigid contact alone misses the 7-iron and the wedge: reported here,
		// and the reason for Sideways.
		if off := rigid(r.key).FaceShare(d) - r.across; r.missed != 0 && math.Abs(off-r.missed) > 0.005 {
			t.Errorf("%s: the rigid contact misses by %.3f, the row says %.3f", r.key, off, r.missed)
		}
	}

	// Older and other measurements, not used to choose anything. The tolerance
	// is a shot's spread in Wood et al.
	start := func(key string, d analysis.Delivery) float64 { return HeadOf(club(key)).Strike(d).Direction }
	iron := analysis.Delivery{ClubSpeed: 38, DynamicLoft: deg(24), Attack: deg(-4)}
	cs, sw := iron, iron
	cs.Path = deg(-20)
	sw.Face, sw.Path = deg(8), deg(-8)
	robot := analysis.Delivery{ClubSpeed: 41, DynamicLoft: deg(30), Attack: deg(-4)}
	run(t, []check{
		{"path 20 deg left, square face", degrees(start("7i", cs)), -7, 1.6, "Cochran and Stobbs (1968), quoted in Wood et al. [S]; club taken as a mid-iron"},
		{"start over face-to-path", degrees(start("7i", sw)+deg(8)) / 16, 10. / 16, 0.11, "Sweeney et al., Sports Biomech. 12:247, quoted in Wood et al. [S]; club taken as a mid-iron"},
		{"robot 7-iron, face 4 deg open", HeadOf(club("7i")).FaceShare(robot), 0.63, 0.07, "Wood et al. (2018), robot, 63 +- 4 % [S]; loft grows 1 deg per 2 deg of face"},
	})
}

// TestNoSlipIsLeft: of a free head and a ball that grip, the face and the ball on it
// move alike along the face after impact, across it and up [C]: the ball by its speed
// and its spin, the head as it was slowed and turned by the ball's pull, a lever of
// Depth before its centre of gravity.
func TestNoSlipIsLeft(t *testing.T) {
	for _, key := range []string{"driver", "3w", "4h", "7i", "pw"} {
		h := rigid(key)
		d := h.Usual.Delivery()
		d.Face, d.Path = deg(4), deg(-3)
		m, _ := h.meet(d)
		for _, way := range []struct {
			name    string
			along   vec
			inertia float64
		}{{"across", m.across, h.InertiaAcross}, {"up", m.above, h.InertiaUp}} {
			pull := ballMass * m.ball.dot(way.along)
			ball := m.ball.plus(m.n.cross(m.spin).times(ballRadius)).dot(way.along)
			head := m.v.dot(way.along) - pull/h.Mass - pull*h.Depth*h.Depth/way.inertia
			if math.Abs(ball-head) > 1e-9 {
				t.Errorf("%s %s: the ball moves %.5f, the face %.5f", key, way.name, ball, head)
			}
		}
	}
}

// TestGearEffectPushes: toward the toe of a flat face a free head moves the ball
// sideways as much for each of its push as leaves no slip between the two [C], within
// the doubt of the gear effect; and about the point of contact, through which it
// pulls, gear effect gives the ball no angular momentum.
func TestGearEffectPushes(t *testing.T) {
	h := HeadOf(club("driver"))
	h.Bulge = 0
	const arm = 0.02
	along := 3.5/ballMass + 1/h.Mass + h.Depth*h.Depth/h.InertiaAcross
	both := h.Depth * arm / h.InertiaAcross
	want := math.Atan(both / along) // along Jt = both Jn: no slip is left
	l := h.Strike(analysis.Delivery{ClubSpeed: 45, StrikeToe: arm})
	t.Logf("start line %.2f deg right, free body %.2f", degrees(l.Direction), degrees(want))
	if math.Abs(l.Direction/want-1) > h.Uncertainty.GearScale {
		t.Errorf("20 mm toward the toe starts %.2f deg right, a free body %.2f", degrees(l.Direction), degrees(want))
	}
	flat := h
	flat.GearScale = 0
	m, _ := h.meet(analysis.Delivery{ClubSpeed: 45, DynamicLoft: deg(13), StrikeToe: arm, StrikeUp: -0.01})
	n, _ := flat.meet(analysis.Delivery{ClubSpeed: 45, DynamicLoft: deg(13), StrikeToe: arm, StrikeUp: -0.01})
	gained := m.ball.plus(n.ball.times(-1)).cross(m.n).times(1 / spinArm)
	if off := gained.plus(n.spin).plus(m.spin.times(-1)); off.dot(off) > 1e-18 {
		t.Errorf("angular momentum about the point of contact is off by %+v", off)
	}
}

// TestGearEffect: the signs are common knowledge; the sizes are not well
// published, so only their order is held.
func TestGearEffect(t *testing.T) {
	h := HeadOf(club("driver"))
	d := h.Usual.Delivery()
	centred := h.Strike(d)
	toe, heel, high, low := d, d, d, d
	toe.StrikeToe, heel.StrikeToe = 0.01, -0.01
	high.StrikeUp, low.StrikeUp = 0.01, -0.01
	if a := h.Strike(toe); !(a.Axis < 0 && a.Direction > 0 && a.Speed < centred.Speed) {
		t.Errorf("a toe strike starts right, turns left and loses speed; got %+v", a)
	}
	if a := h.Strike(heel); !(a.Axis > 0 && a.Direction < 0) {
		t.Errorf("a heel strike starts left and turns right; got %+v", a)
	}
	if a, b := h.Strike(high), h.Strike(low); !(a.Spin < centred.Spin && centred.Spin < b.Spin && a.Angle > b.Angle) {
		t.Errorf("high spins less and launches higher, low the reverse; got %+v and %+v", a, b)
	}
	h.Hand = analysis.LeftHanded
	if a := h.Strike(toe); !(a.Axis > 0 && a.Direction < 0) {
		t.Errorf("a left-hander's toe strike is the mirror image; got %+v", a)
	}
	iron := HeadOf(club("7i"))
	tilt := func(h Head) float64 {
		d := h.Usual.Delivery()
		d.StrikeToe = 0.01
		return math.Abs(h.Strike(d).Axis)
	}
	if a, b := tilt(HeadOf(club("driver"))), tilt(iron); a < 2*b {
		t.Errorf("the gear effect of a driver tilts the axis by %.1f deg, an iron's by %.1f", degrees(a), degrees(b))
	}
}
