package pictures

import (
	"math"
	"slices"

	"github.com/wcharczuk/go-chart/v2"
)

// A scale maps a number onto one direction of a panel. It is a chart.Range, so
// that go-chart's axes agree with what is drawn.
type scale struct {
	chart.ContinuousRange
	start, sign float64 // pixel of Min, and +1 or -1 for which way Max lies
}

// across is the scale from left to right of b.
func across(b box, low, high float64) *scale {
	return &scale{chart.ContinuousRange{Min: low, Max: high, Domain: int(b.width())}, b.left, 1}
}

// upward is the scale from the bottom to the top of b.
func upward(b box, low, high float64) *scale {
	return &scale{chart.ContinuousRange{Min: low, Max: high, Domain: int(b.height())}, b.bottom, -1}
}

// at is the pixel of v.
func (s *scale) at(v float64) float64 {
	return s.start + s.sign*(v-s.Min)*s.perUnit()
}

// perUnit is how many pixels one unit is.
func (s *scale) perUnit() float64 { return float64(s.Domain) / (s.Max - s.Min) }

// clamp is v brought inside the scale, and whether it was outside.
func (s *scale) clamp(v float64) (float64, bool) {
	return min(max(v, s.Min), s.Max), v < s.Min || v > s.Max
}

// step is the spacing of round ticks, a 1, 2 or 5 times a power of ten, that
// puts at most most of them on the scale.
func (s *scale) step(most int) float64 {
	raw := (s.Max - s.Min) / float64(most)
	unit := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*unit >= raw*(1-1e-9) {
			return m * unit
		}
	}
	return 10 * unit
}

// ticks are the round numbers on the scale, at most most, labelled by text.
func (s *scale) ticks(most int, text func(v, step float64) string) []chart.Tick {
	step := s.step(most)
	var ticks []chart.Tick
	for i := math.Ceil(s.Min/step - 1e-9); i*step <= s.Max+1e-9*step; i++ {
		v := i * step
		ticks = append(ticks, chart.Tick{Value: v, Label: text(v, step)})
	}
	return ticks
}

// A span is what a panel has to show in one direction.
type span struct {
	low, high float64
	set       bool
}

// with is the span stretched to hold the finite ones of vs.
func (s span) with(vs ...float64) span {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		if !s.set {
			s = span{v, v, true}
		}
		s.low, s.high = min(s.low, v), max(s.high, v)
	}
	return s
}

// padded is the span with a share added at both ends, and at least least wide.
func (s span) padded(share, least float64) span {
	grow := max(share*(s.high-s.low), (least-(s.high-s.low))/2)
	return span{s.low - grow, s.high + grow, true}
}

// reach is the span stretched toward low and high, at most by share of its
// width, or of least if it is narrower, at either end.
func (s span) reach(low, high, share, least float64) span {
	room := share * max(s.high-s.low, least)
	within := func(v float64) float64 { return min(max(v, s.low-room), s.high+room) }
	return s.with(within(low), within(high))
}

// ends are both ends of the span, none when it is empty.
func (s span) ends() []float64 {
	if !s.set {
		return nil
	}
	return []float64{s.low, s.high}
}

// over is the span in units of unit.
func (s span) over(unit float64) span { return span{s.low / unit, s.high / unit, s.set} }

// core is the span of the balls that decide how a panel is scaled: those
// within reach quartile distances of the middle half. One wild ball is not
// let flatten the rest; it is marked at the edge instead. least is the
// distance from the middle half that is never wild.
func core(vs []float64, reach, least float64) span {
	var sorted []float64
	for _, v := range vs {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			sorted = append(sorted, v)
		}
	}
	if len(sorted) == 0 {
		return span{}
	}
	slices.Sort(sorted)
	q := func(p float64) float64 {
		at := p * float64(len(sorted)-1)
		i := int(at)
		if i+1 == len(sorted) {
			return sorted[i]
		}
		return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
	}
	low, high := q(.25), q(.75)
	far := max(reach*(high-low), least)
	var s span
	for _, v := range sorted {
		if v >= low-far && v <= high+far {
			s = s.with(v)
		}
	}
	return s
}

// equal gives both directions of b the same pixels a unit, widening whichever
// span has room to spare.
func equal(b box, x, y span) (sx, sy *scale) {
	per := min(math.Floor(b.width())/(x.high-x.low), math.Floor(b.height())/(y.high-y.low))
	widen := func(s span, pixels float64) (low, high float64) {
		middle, half := (s.low+s.high)/2, math.Floor(pixels)/per/2
		return middle - half, middle + half
	}
	xl, xh := widen(x, b.width())
	yl, yh := widen(y, b.height())
	return across(b, xl, xh), upward(b, yl, yh)
}
