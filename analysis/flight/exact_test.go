package flight

import (
	"math"
	"math/cmplx"
	"testing"

	"rangepost/analysis"
)

// inverse coefficients fall as 1/V, which makes drag and lift grow with V and
// the equations linear: the model of Erlichson (1983), Am. J. Phys. 51:357, and
// of McPhee and Andrews (1988), Am. J. Phys. 56:933, who solve it in closed form.
type inverse struct{ cd, cl float64 } // at q = 1

func (c inverse) At(_, q float64) (cd, cl float64) { return c.cd / q, c.cl / q }

// TestLinearForces flies a tilted spin in a uniform wind against the closed
// form. In a frame along (x, h, k) with k along the lift of level flight, the
// velocity across the spin axis turns and decays, and the one along it decays.
func TestLinearForces(t *testing.T) {
	for _, tilt := range []float64{0, deg(20), deg(-50)} {
		m := in(seaLevel)
		m.Coefficients = inverse{0.25, 0.45}
		m.Wind = Wind{Speed: 6, From: 0.7, Profile: Uniform}
		launch := analysis.Launch{Speed: 65, Angle: 0, Direction: 0, Spin: 300, Axis: tilt}
		// A level launch along x makes the axis lie in the plane of y and z,
		// where the closed form is short; it rises on lift alone.
		p, _ := m.problem(launch)
		a, b := p.force*0.25/p.reynolds, p.force*0.45/p.reynolds // 1/s

		windX, windY := -6*math.Cos(0.7), -6*math.Sin(0.7)
		sin, cos := math.Sincos(tilt)
		// e is along the lift, f along the axis; right-handed with x.
		along := func(y, z float64) (e, f float64) { return sin*y + cos*z, cos*y - sin*z }
		ve, vf := along(-windY, 0)
		ge, gf := along(0, -gravity)
		w := complex(launch.Speed-windX, ve) // velocity through the air, x + i e
		lambda := complex(-a, b)
		drift := complex(0, ge)
		at := func(s float64) (x, y, z float64) {
			c := complex(s, 0)
			grow := (cmplx.Exp(lambda*c) - 1) / lambda
			pos := w*grow + drift*(grow-c)/lambda
			decay := (1 - math.Exp(-a*s)) / a
			posF := vf*decay + gf*(s-decay)/a
			return real(pos) + windX*s, sin*imag(pos) + cos*posF + windY*s, cos*imag(pos) - sin*posF
		}
		l := m.Fly(launch)
		x, y, z := at(l.Time)
		if l.Time < 2 {
			t.Fatalf("tilt %.2f: the ball flew %.2f s, too short to test anything", tilt, l.Time)
		}
		if math.Abs(z) > 0.001 || math.Abs(x-l.Carry) > 0.001 || math.Abs(y-l.Lateral) > 0.001 {
			t.Errorf("tilt %.2f: at %.3f s the closed form is at %.4f, %.4f, %.4f m, flown %.4f, %.4f, 0", tilt, l.Time, x, y, z, l.Carry, l.Lateral)
		}
	}
}

// TestHodograph: with drag in the square of the speed and nothing else, a
// projectile keeps 1/vx^2 + (k/g)(sec a tan a + asinh tan a), a the angle of
// climb and k the drag over mass and speed squared. Johann Bernoulli (1719);
// Parker (1977), Am. J. Phys. 45:606 [M].
func TestHodograph(t *testing.T) {
	for _, launch := range []analysis.Launch{
		{Speed: 70, Angle: deg(12)}, {Speed: 40, Angle: deg(45)}, {Speed: 90, Angle: deg(60)},
	} {
		m := in(seaLevel)
		m.Coefficients = constant{0.25, 0}
		p, _ := m.problem(launch)
		k := p.force * 0.25
		kept := func(level, angle float64) float64 {
			tan := math.Tan(angle)
			return 1/(level*level) + k/gravity*(tan/math.Cos(angle)+math.Asinh(tan))
		}
		l := m.Fly(launch)
		before := kept(launch.Speed*math.Cos(launch.Angle), launch.Angle)
		after := kept(l.Speed*math.Cos(l.Descent), -l.Descent)
		if math.Abs(after/before-1) > 1e-5 {
			t.Errorf("%v: %.8g at launch, %.8g at landing", launch, before, after)
		}
	}
}

// TestUniformWindIsAMovingFrame: in the same wind everywhere a ball does what it
// does in still air, seen from the wind. Galileo; it needs the height of the
// landing only, which is the same in both frames.
func TestUniformWindIsAMovingFrame(t *testing.T) {
	m := in(seaLevel)
	launch := analysis.Launch{Speed: 60, Angle: deg(14), Spin: rpm(5000), Axis: 0}
	for _, wind := range []float64{-8, 5, 12} { // into the face is positive
		windy := m
		windy.Wind = Wind{Speed: wind, Profile: Uniform}
		got := windy.Fly(launch)

		level, up := launch.Speed*math.Cos(launch.Angle)+wind, launch.Speed*math.Sin(launch.Angle)
		seen := launch
		seen.Speed, seen.Angle = math.Hypot(level, up), math.Atan2(up, level)
		want := m.Fly(seen)
		if math.Abs(got.Time-want.Time) > 1e-4 || math.Abs(got.Carry-(want.Carry-wind*want.Time)) > 0.005 || math.Abs(got.Apex-want.Apex) > 0.005 {
			t.Errorf("wind %v: got %+v, want carry %.3f apex %.3f time %.4f", wind, got, want.Carry-wind*want.Time, want.Apex, want.Time)
		}
	}
}
