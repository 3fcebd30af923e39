package words

import (
	"math"
	"sort"

	"rangepost/analysis"
	"rangepost/analysis/cause"
)

// Parts are a miss and whose it is in whole yards or metres, positive right,
// rounded so that Face + Path + Rest = Miss as shown.
type Parts struct{ Face, Path, Rest, Miss int }

// Parts rounds the split of r's miss: each part down, then the ones with the
// most left over up, until they add up to the rounded miss. No part is then a
// whole unit off its own value.
func (v Voice) Parts(r cause.Result) Parts {
	unit, sign := v.Scale(analysis.Length), 1
	if r.Miss.Mean < 0 { // so that a mirror image rounds as its original does
		unit, sign = -unit, -1
	}
	miss := int(math.Round(r.Miss.Mean / unit))
	shown := apportion([]float64{r.Face.Mean / unit, r.Path.Mean / unit, r.Rest.Mean / unit}, miss)
	return Parts{Face: sign * shown[0], Path: sign * shown[1], Rest: sign * shown[2], Miss: sign * miss}
}

// apportion rounds parts to whole numbers that add up to whole, by the method
// of largest remainders: all down first, then the ones with the most left over
// up.
func apportion(parts []float64, whole int) []int {
	shown := make([]int, len(parts))
	order := make([]int, len(parts))
	sum := 0
	for i, x := range parts {
		shown[i] = int(math.Floor(tidy(x)))
		sum += shown[i]
		order[i] = i
	}
	left := func(i int) float64 { return parts[i] - float64(shown[i]) }
	sort.SliceStable(order, func(a, b int) bool { return left(order[a]) > left(order[b]) })
	for i := 0; i < len(order) && sum < whole; i++ {
		shown[order[i]]++
		sum++
	}
	return shown
}

// Split says how many yards of the miss each of face, path and the rest is
// worth, with limits; "" when they were not told apart, and of two patterns.
func (v Voice) Split(r cause.Result) string {
	if r.Face.N == 0 || r.Verdict == cause.TwoPatterns {
		return ""
	}
	p := v.Parts(r)
	return "In " + v.Unit(analysis.Length) + ": face " + v.part(p.Face, r.Face) + ", path " + v.part(p.Path, r.Path) +
		", the rest (strike, wind, model) " + v.part(p.Rest, r.Rest) + "; together " + v.part(p.Miss, analysis.Estimate{}) + "."
}

// whole says a miss in whole units: "9 yards left".
func (v Voice) whole(n int) string {
	switch {
	case n == 0:
		return v.unit("0", analysis.Length)
	case n < 0:
		return v.unit(figure(float64(-n), 1), analysis.Length) + " left"
	}
	return v.unit(figure(float64(n), 1), analysis.Length) + " right"
}

// part says one share of the split: "11 left (8 to 14)". The figures are of
// one unit, named once by the sentence.
func (v Voice) part(n int, e analysis.Estimate) string {
	text := "0"
	switch {
	case n < 0:
		text = figure(float64(-n), 1) + " left"
	case n > 0:
		text = figure(float64(n), 1) + " right"
	}
	if !e.OK {
		return text
	}
	unit := v.Scale(analysis.Length)
	low, high := math.Floor(tidy(e.Low/unit)), math.Ceil(tidy(e.High/unit))
	say := func(x float64) string { return figure(math.Abs(x), 1) }
	switch {
	case low == 0 && high == 0:
		return text
	case low >= 0 && n > 0:
		return text + " (" + say(low) + " to " + say(high) + ")"
	case high <= 0 && n < 0:
		return text + " (" + say(high) + " to " + say(low) + ")"
	case low >= 0:
		return text + " (" + say(low) + " to " + say(high) + " right)"
	case high <= 0:
		return text + " (" + say(high) + " to " + say(low) + " left)"
	}
	return text + " (" + say(low) + " left to " + say(high) + " right)"
}
