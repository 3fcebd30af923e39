package cause

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/pattern"
)

// A set of 60 balls with everything measured, and one without club numbers.
func BenchmarkOf60(b *testing.B) {
	for _, tc := range []struct {
		name string
		club bool
	}{{"measured", true}, {"inferred", false}} {
		p := golfer(driver, 2, 1)
		p.Device.Club = tc.club
		set := pattern.Mishits(p.Set(60, "", seeded(1)))
		places := pattern.Of(set)
		b.Run(tc.name, func(b *testing.B) {
			for b.Loop() {
				Of(set, places, Config{Target: 200})
			}
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
