package flight

import (
	"syscall"
	"testing"

	"rangepost/analysis"
)

// processTime is the processor time used so far, ns. On a shared machine it
// says more than the clock on the wall.
func processTime() float64 {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return float64(u.Utime.Nano() + u.Stime.Nano())
}

var benchLaunches = []struct {
	name   string
	launch analysis.Launch
}{
	{"driver", analysis.Launch{Speed: 70, Angle: 12 * analysis.Degree, Spin: 2600 * analysis.RevPerMinute, Axis: 5 * analysis.Degree}},
	{"mid-iron", analysis.Launch{Speed: 53, Angle: 16.5 * analysis.Degree, Spin: 6800 * analysis.RevPerMinute, Axis: 5 * analysis.Degree}},
	{"wedge", analysis.Launch{Speed: 42, Angle: 27 * analysis.Degree, Spin: 9000 * analysis.RevPerMinute, Axis: 5 * analysis.Degree}},
}

func benchFlights(b *testing.B, fly func(m *Model, l analysis.Launch)) {
	for _, bl := range benchLaunches {
		b.Run(bl.name, func(b *testing.B) {
			m := Standard()
			b.ReportAllocs()
			start := processTime()
			for b.Loop() {
				fly(&m, bl.launch)
			}
			b.ReportMetric((processTime()-start)/float64(b.N), "cpu-ns/op")
		})
	}
}

func BenchmarkFly(b *testing.B) {
	benchFlights(b, func(m *Model, l analysis.Launch) { m.Fly(l) })
}

func BenchmarkFlyInWind(b *testing.B) {
	benchFlights(b, func(m *Model, l analysis.Launch) {
		m.Wind = Wind{Speed: 5, From: 1}
		m.Fly(l)
	})
}

func BenchmarkFlyAndRest(b *testing.B) {
	benchFlights(b, func(m *Model, l analysis.Launch) { m.Rest(m.Fly(l)) })
}

// BenchmarkFixedStep is what Fly is measured against: the classical method of
// order four with a step of a millisecond, on the same equations.
func BenchmarkFixedStep(b *testing.B) {
	benchFlights(b, func(m *Model, l analysis.Launch) {
		p, s := m.problem(l)
		p.fixedStep(s, 1e-3)
	})
}

// fixedStep flies the ball with the classical Runge-Kutta method, the landing
// cut off linearly inside the last step.
func (p *problem) fixedStep(s state, h float64) (end state) {
	was := s
	p.eachStep(s, h, func(s *state) { was, end = end, *s })
	u := was[2] / (was[2] - end[2])
	for i := range end {
		end[i] = was[i] + u*(end[i]-was[i])
	}
	return end
}

// eachStep shows every state of the flight up to the first below the ground.
func (p *problem) eachStep(s state, h float64, show func(*state)) {
	var k1, k2, k3, k4, y state
	for {
		p.slope(&s, &k1)
		for i := range y {
			y[i] = s[i] + h/2*k1[i]
		}
		p.slope(&y, &k2)
		for i := range y {
			y[i] = s[i] + h/2*k2[i]
		}
		p.slope(&y, &k3)
		for i := range y {
			y[i] = s[i] + h*k3[i]
		}
		p.slope(&y, &k4)
		for i := range s {
			s[i] += h / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
		}
		show(&s)
		if s[2] <= 0 {
			return
		}
	}
}
