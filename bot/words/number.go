package words

import (
	"math"
	"strings"

	"rangepost/analysis"
)

// Number says value x (SI) of number n with its unit and its side: "2.9° left
// of target", "4.1° down", "93 mph", "2.0° open to the path".
func (v Voice) Number(n analysis.Number, x float64) string { return v.number(n, x, alone) }

func (v Voice) number(n analysis.Number, x, half float64) string {
	k := n.Info().Kind
	s, ok := n.Sides(v.Hand)
	if !ok {
		return v.amount(k, x, half)
	}
	switch {
	case v.vanishes(k, x, half):
		return s.Zero
	case x < 0:
		return v.amount(k, -x, half) + " " + s.Minus + s.Tail
	}
	return v.amount(k, x, half) + " " + s.Plus + s.Tail
}

// untailed is number without the words both sides share: "2.9° left".
func (v Voice) untailed(n analysis.Number, x, half float64) string {
	s, _ := n.Sides(v.Hand)
	return strings.TrimSuffix(v.number(n, x, half), s.Tail)
}

// vanishes reports whether x rounds to nothing at the digits its limits allow.
func (v Voice) vanishes(k analysis.Kind, x, half float64) bool {
	return math.Round(x/v.Scale(k)/step(k, half)) == 0
}

// Change says a difference d (SI) in number n: "2.9° further left", "3 mph
// slower", "no different".
func (v Voice) Change(n analysis.Number, d float64) string { return v.change(n, d, alone) }

func (v Voice) change(n analysis.Number, d, half float64) string {
	k := n.Info().Kind
	lower, higher := n.Changes(v.Hand)
	switch {
	case v.vanishes(k, d, half):
		return "no different"
	case d < 0:
		return v.amount(k, -d, half) + " " + lower
	}
	return v.amount(k, d, half) + " " + higher
}

// half is the half-width of limits in the units kind k is shown in, alone when
// there are none.
func (v Voice) half(k analysis.Kind, low, high float64, ok bool) float64 {
	if !ok {
		return alone
	}
	return (high - low) / 2 / v.Scale(k)
}

// Mean says an estimate's mean with the digits its limits allow: "2.9° left of
// target"..
func (v Voice) Mean(n analysis.Number, e analysis.Estimate) string {
	return v.number(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK))
}

// ChangeLimits says the limits of a difference in number n: "between 2.1 and
// 3.7° further left".
func (v Voice) ChangeLimits(n analysis.Number, low, high float64) string {
	lower, higher := n.Changes(v.Hand)
	return v.between(n.Info().Kind, low, high, " "+lower, " "+higher, "")
}

// bracket says the limits of an estimate behind its mean, whose side is said
// already: " (2.1 to 3.7°)". A range on both sides names them again. "" when
// there are no limits.
func (v Voice) bracket(n analysis.Number, e analysis.Estimate) string {
	if !e.OK {
		return ""
	}
	if s, ok := n.Sides(v.Hand); ok && e.Low*e.High < 0 {
		return " (" + v.between(n.Info().Kind, e.Low, e.High, " "+s.Minus, " "+s.Plus, "") + ")"
	}
	return v.oneSided(n.Info().Kind, e.Low, e.High)
}

// changeBracket is bracket for a difference.
func (v Voice) changeBracket(n analysis.Number, low, high float64) string {
	if low*high < 0 {
		return " (" + v.ChangeLimits(n, low, high) + ")"
	}
	return v.oneSided(n.Info().Kind, low, high)
}

func (v Voice) oneSided(k analysis.Kind, low, high float64) string {
	if high <= 0 {
		low, high = -high, -low
	}
	text := strings.TrimPrefix(v.between(k, low, high, "", "", ""), "between ")
	if _, most, ok := strings.Cut(text, " and "); ok && low == 0 {
		return " (at most " + most + ")" // limits that stop at nothing do not say that it may be nothing
	}
	if s := step(k, v.half(k, low, high, true)); low > 0 && low/v.Scale(k) < s {
		// Nothing is not among the values: do not round it in.
		text = "under " + figure(s, s) + strings.TrimPrefix(text, figure(0, s))
	}
	return " (" + strings.Replace(text, " and ", " to ", 1) + ")"
}

// between says limits from low to high (SI) of kind k, with the words of either
// side and what follows both. A side without a word shows its sign instead.
func (v Voice) between(k analysis.Kind, low, high float64, minus, plus, tail string) string {
	st := step(k, v.half(k, low, high, true))
	scale := v.Scale(k)
	lo := math.Floor(tidy(low/scale/st)) * st
	hi := math.Ceil(tidy(high/scale/st)) * st
	say := func(x float64) string { return figure(math.Abs(x), st) }
	none := math.Abs(lo) < st/2
	switch {
	case plus == "":
		return "between " + figure(lo, st) + " and " + v.unit(figure(hi, st), k)
	case none && math.Abs(hi) < st/2:
		return v.unit("0", k) + plus + tail
	case lo >= 0 || none:
		return "between " + say(lo) + " and " + v.unit(say(hi), k) + plus + tail
	case hi <= 0 || math.Abs(hi) < st/2:
		return "between " + say(hi) + " and " + v.unit(say(lo), k) + minus + tail
	}
	return "between " + v.unit(say(lo), k) + minus + " and " + v.unit(say(hi), k) + plus + tail
}

// tidy takes the last bits off a quotient, so that a limit that is a whole
// number of steps but for rounding is not pushed out by one.
func tidy(x float64) float64 {
	if r := math.Round(x); math.Abs(x-r) < 1e-9 {
		return r
	}
	return x
}

// plainSide is the bare word for the side of a sideways distance in m, with
// its amount: "9 yards left", "on the target line".
func (v Voice) plainSide(m float64) string {
	switch {
	case v.vanishes(analysis.Length, m, alone):
		return "on the target line"
	case m < 0:
		return v.Distance(-m) + " left"
	}
	return v.Distance(m) + " right"
}

// about is plainSide of a mean: "about 9 yards left", "on the target line".
func (v Voice) about(m float64) string {
	if v.vanishes(analysis.Length, m, alone) {
		return v.plainSide(m)
	}
	return "about " + v.plainSide(m)
}

// side is "left" or "right".
func side(x float64) string {
	if x < 0 {
		return "left"
	}
	return "right"
}
