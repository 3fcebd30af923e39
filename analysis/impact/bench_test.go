package impact

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

func bench(b *testing.B, each func()) {
	b.ReportAllocs()
	start := processTime()
	for b.Loop() {
		each()
	}
	b.ReportMetric((processTime()-start)/float64(b.N), "cpu-ns/op")
}

func BenchmarkStrike(b *testing.B) {
	h := HeadOf(analysis.Club{Family: analysis.Driver})
	d := h.Usual.Delivery()
	d.Face, d.Path, d.StrikeToe = 0.02, -0.03, 0.005
	bench(b, func() { h.Strike(d) })
}

func BenchmarkInfer(b *testing.B) {
	h := HeadOf(analysis.Club{Family: analysis.Driver})
	d := h.Usual.Delivery()
	d.Face, d.Path, d.StrikeToe = 0.02, -0.03, 0.005
	s := shotOf(h.Strike(d))
	noise := TypicalNoise()
	bench(b, func() {
		if _, err := h.Infer(s, noise); err != nil {
			b.Fatal(err)
		}
	})
}
