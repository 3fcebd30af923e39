package cause

import (
	"syscall"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// processTime is the processor time used so far, ns. On a shared machine it
// says more than the clock on the wall.
func processTime() float64 {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return float64(u.Utime.Nano() + u.Stime.Nano())
}

// A set of 60 balls with everything measured, one without club numbers, and one
// with the club's speed alone, where the whole face has to be weighed.
func BenchmarkOf60(b *testing.B) {
	for _, tc := range []struct {
		name        string
		club, speed bool
	}{{"measured", true, true}, {"inferred", false, false}, {"inferred with club speed", false, true}} {
		p := golfer(driver, 2, 1)
		p.Device.Club, p.Device.Strike = tc.club, tc.club
		set := p.Set(60, "", seeded(1))
		if tc.speed && !tc.club {
			for i, s := range set.Shots {
				set.Shots[i] = s.With(analysis.ClubSpeed, p.Delivery.ClubSpeed)
			}
		}
		set = pattern.Mishits(set)
		places := pattern.Of(set)
		b.Run(tc.name, func(b *testing.B) {
			start := processTime()
			for b.Loop() {
				Of(set, places, Config{Target: 200})
			}
			b.ReportMetric((processTime()-start)/float64(b.N)/1e6, "cpu-ms/op")
		})
	}
}

// The slowest answer: too few balls, so that more are tried.
func BenchmarkTooFew(b *testing.B) {
	var set analysis.Set
	var places pattern.Pattern
	for seed := uint64(0); ; seed++ {
		set = pattern.Mishits(golfer(driver, 1.5, 0).Set(8, "", seeded(seed)))
		places = pattern.Of(set)
		if Of(set, places, Config{}).Verdict == TooFew {
			break
		}
		if seed == 100 {
			b.Fatal("a hundred sets of eight balls, and none too few")
		}
	}
	for b.Loop() {
		Of(set, places, Config{})
	}
}
