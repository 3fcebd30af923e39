package panel

import (
	"math"
	"testing"

	"rangepost/analysis"
)

// slow is a law whose drag and lift grow with speed, not its square: its
// flights have closed forms. coefficients are drag/Re and lift/Re.
type slow struct{ drag, lift float64 }

func (s slow) coefficients(_, re float64) (drag, lift float64) { return s.drag / re, s.lift / re }

// rate is the acceleration over the speed that a slow law's number gives.
func (w *World) rate(k float64) float64 {
	return 0.5 * w.air.density * math.Pi * ballRadius * ballRadius / ballMass * k * w.air.viscosity / (2 * ballRadius)
}

func TestVacuum(t *testing.T) {
	w := &World{}
	for _, angle := range []float64{10, 20, 45, 60} {
		l := analysis.Launch{Speed: 60, Angle: angle * deg, Direction: 0.1, Spin: 300}
		f := w.fly(l, vec{})
		carry := 60 * 60 * math.Sin(2*angle*deg) / gravity
		apex := 0.5 * math.Pow(60*math.Sin(angle*deg), 2) / gravity
		if math.Abs(f.Carry-carry) > 1e-6 || math.Abs(f.Lateral-carry*math.Sin(0.1)) > 1e-6 || math.Abs(f.Apex-apex) > 1e-6 {
			t.Errorf("at %v deg: %+v, want carry %v, lateral %v, apex %v", angle, f, carry, carry*math.Sin(0.1), apex)
		}
		if math.Abs(f.Descent-angle*deg) > 1e-6 {
			t.Errorf("descends at %v, want %v", f.Descent, angle*deg)
		}
	}
}

// Under drag in proportion to speed, in a steady wind, a ball is a ball in still
// air seen from a train.
func TestLinearDragInWind(t *testing.T) {
	w := &World{air: air{density: 1.2, viscosity: 1.5e-5}, law: slow{drag: 40_000}}
	k := w.rate(40_000)
	l := analysis.Launch{Speed: 65, Angle: 15 * deg}
	wind := vec{-3, 4, 0}
	f := w.fly(l, wind)

	v := direction(0, 15*deg).scale(65).sub(wind)
	height := func(at float64) float64 { return (v[2]+gravity/k)/k*(1-math.Exp(-k*at)) - gravity/k*at }
	low, high := 0.5, 20.0
	for range 100 {
		if mid := (low + high) / 2; height(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	x := v[0]/k*(1-math.Exp(-k*low)) + wind[0]*low
	y := v[1]/k*(1-math.Exp(-k*low)) + wind[1]*low
	if math.Hypot(f.downrange-x, f.Lateral-y) > 1e-3 || math.Abs(f.Time-low) > 1e-4 {
		t.Errorf("lands at (%.4f, %.4f) after %.4f s, want (%.4f, %.4f) after %.4f", f.downrange, f.Lateral, f.Time, x, y, low)
	}
}

// Under lift in proportion to speed a backspun ball's velocity turns at a steady
// rate about the speed at which lift and weight are even.
func TestLinearLift(t *testing.T) {
	w := &World{air: air{density: 1.2, viscosity: 1.5e-5}, law: slow{lift: 20_000}}
	k := w.rate(20_000)
	f := w.fly(analysis.Launch{Speed: 50, Angle: 20 * deg, Spin: 100}, vec{})
	vx, vz := 50*math.Cos(20*deg)-gravity/k, 50*math.Sin(20*deg)
	height := func(at float64) float64 { return (vx*(1-math.Cos(k*at)) + vz*math.Sin(k*at)) / k }
	low, high := 0.5, 1.9*math.Pi/k
	for height(high) > 0 {
		high += 0.1
	}
	for range 100 {
		if mid := (low + high) / 2; height(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	x := (vx*math.Sin(k*low)-vz*(1-math.Cos(k*low)))/k + gravity/k*low
	if math.Abs(f.downrange-x) > 2e-3 || f.Lateral != 0 {
		t.Errorf("lands at (%v, %v), want (%v, 0)", f.downrange, f.Lateral, x)
	}
}

// The spin decays by its law: exactly so where the speed does not change it.
func TestSpinDecay(t *testing.T) {
	w := &World{decay: decay{share: 0.04}, law: slow{}, air: air{1.2, 1.5e-5, 0}}
	s := state{v: vec{50, 0, 20}, spin: 400}
	for range 25 {
		s = w.advance(s, vec{0, -1, 0}, vec{}, step)
	}
	if want := 400 * math.Exp(-0.04*25*step); math.Abs(s.spin-want) > 1e-6 {
		t.Errorf("spin after %v s is %v, want %v", 25*step, s.spin, want)
	}
	// Smits & Smith: 23.8 s to lose 63 % at 44.7 m/s [S: Nathan].
	w.decay = decay{moment: 2.0e-5}
	if _, rate := w.rates(state{v: vec{44.7, 0, 0}, spin: 1}, vec{0, -1, 0}, vec{}); math.Abs(-1/rate-23.8) > 0.1 {
		t.Errorf("spin's time is %v s, want 23.8", -1/rate)
	}
}

func TestIntegratorAgainstOneEightyTimesFiner(t *testing.T) {
	for _, w := range Worlds() {
		for _, c := range Clubs() {
			for _, off := range []float64{0, 6} {
				for _, wind := range []Wind{{}, {Speed: 6, From: 2}} {
					d := w.golfer.mean(c)
					d.Face, d.Path, d.StrikeToe = off*deg, -off*deg, 0.01
					l := w.strike(c, analysis.RightHanded, d)
					got, want := w.fly(l, wind.toward(1)), w.flyBy(l, wind.toward(1), 0.001)
					if e := math.Hypot(got.downrange-want.downrange, got.Lateral-want.Lateral); e > 0.01 {
						t.Errorf("%s, %s, off %v, wind %v: landing is %.4f m out", w.Name, c, off, wind, e)
					}
					if math.Abs(got.Apex-want.Apex) > 0.01 || math.Abs(got.Descent-want.Descent) > 1e-3 {
						t.Errorf("%s, %s: apex %.4f, descent %.5f, want %.4f, %.5f", w.Name, c, got.Apex, got.Descent, want.Apex, want.Descent)
					}
				}
			}
		}
	}
}

// A positive axis curves right, a wind from the left pushes right, one in the
// face costs carry.
func TestSides(t *testing.T) {
	l := analysis.Launch{Speed: 60, Angle: 15 * deg, Spin: 400, Axis: 0.1}
	for _, w := range Worlds() {
		if f := w.fly(l, vec{}); f.Lateral <= 0 {
			t.Errorf("%s: an axis to the right lands %v", w.Name, f.Lateral)
		}
		l := l
		l.Axis = 0
		still := w.fly(l, vec{})
		left := Wind{Speed: 4, From: -math.Pi / 2}
		if f := w.fly(l, left.toward(1)); f.Lateral <= 0 || math.Abs(left.Across()-4) > 1e-9 {
			t.Errorf("%s: a wind from the left lands %v", w.Name, f.Lateral)
		}
		if f := w.fly(l, Wind{Speed: 4}.toward(1)); f.Carry >= still.Carry {
			t.Errorf("%s: a head wind carries %v, still air %v", w.Name, f.Carry, still.Carry)
		}
		if across := crosswind(-1, 3, 1); math.Abs(across.Across()+3) > 1e-9 || math.Abs(across.Speed-math.Sqrt(10)) > 1e-9 {
			t.Errorf("a crosswind to the left blows %v across", across.Across())
		}
	}
}
