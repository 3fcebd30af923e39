package shotmaker

import (
	"math"

	"rangepost/analysis"
)

// A Request is a shot that no delivery of a golfer does, as typed.
type Request struct {
	Text string
	Club analysis.Club
	Want Want // generous: a quarter off counts as done
	Why  string
}

// Impossible lists requests that are understood and cannot be had, in any world,
// by any golfer of the panel. A right-hander's; a left-hander's are no better.
func Impossible() []Request {
	iron, wedge := analysis.Club{Family: analysis.Iron, Number: 7}, analysis.Club{Family: analysis.Wedge, Wedge: "56"}
	driver := analysis.Club{Family: analysis.Driver}
	want := func(change func(w *Want)) Want {
		w := Want{Open(), Open(), Open(), Open()}
		change(&w)
		return w
	}
	inf := math.Inf(1)
	return []Request{
		{"curve 60 yd left", wedge, want(func(w *Want) { w.Curve = Band{-inf, -45 * analysis.Yard} }), "more curve than the ball is long in the air"},
		{"fade 80 yards", wedge, want(func(w *Want) { w.Curve = Band{60 * analysis.Yard, inf} }), "likewise"},
		{"apex 160 yd, carry 150 yd", iron, want(func(w *Want) {
			w.Apex, w.Carry = Band{120 * analysis.Yard, inf}, Band{112 * analysis.Yard, 188 * analysis.Yard}
		}), "as high as it is long"},
		{"apex 100 yards", driver, want(func(w *Want) { w.Apex = Band{75 * analysis.Yard, inf} }), "higher than its speed lifts it"},
		{"carry 320 yd", iron, want(func(w *Want) { w.Carry = Band{240 * analysis.Yard, inf} }), "farther than its speed carries it"},
		{"carry 200 m", wedge, want(func(w *Want) { w.Carry = Band{150, inf} }), "likewise"},
		{"start 60 right", iron, want(func(w *Want) { w.Start = Band{45 * deg, inf} }), "no face points there"},
	}
}
