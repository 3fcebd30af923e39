package words

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// The head of a post's picture says how far and to which side the balls
// finished, and whose that is in the golfer's own word: what is open to a
// right-hander is closed to a left-hander, while left and right stay.
func TestTitle(t *testing.T) {
	const yard = analysis.Yard
	e := func(mean, half float64) analysis.Estimate {
		return analysis.Estimate{N: 20, Mean: mean, Low: mean - half, High: mean + half, OK: true}
	}
	of := func(verdict cause.Verdict, miss, face, path float64) cause.Result {
		r := cause.Result{Verdict: verdict, Miss: e(miss*yard, 2*yard)}
		r.Delivery[analysis.Face], r.Delivery[analysis.Path] = e(face*deg, .5*deg), e(path*deg, .5*deg)
		return r
	}
	asked := of(cause.Face, 12, 3, 0)
	asked.RefFace = 1 * deg
	lefty := Voice{Hand: analysis.LeftHanded}
	metres := Voice{Units: analysis.Units{Distance: analysis.Metres}}
	for _, c := range []struct {
		v    Voice
		r    cause.Result
		want string
	}{
		{Voice{}, of(cause.Face, 12, 3, 0.5), "12 yards right: face 3.0° open"},
		{lefty, of(cause.Face, 12, 3, 0.5), "12 yards right: face 3.0° closed"},
		{Voice{}, of(cause.Face, -12, -3, 0.5), "12 yards left: face 3.0° closed"},
		{metres, of(cause.Face, 12, 3, 0.5), "11 metres right: face 3.0° open"},
		{Voice{}, of(cause.Path, -23, 0.2, 5.7), "23 yards left: path 5.7° in-to-out"},
		{lefty, of(cause.Path, -23, 0.2, 5.7), "23 yards left: path 5.7° out-to-in"},
		{Voice{}, asked, "12 yards right: face 2.0° right of the brief"},
		{Voice{}, of(cause.Aim, 11, 4.3, 3.9), "11 yards right: check alignment, face and path 4.1° right"},
		{Voice{}, of(cause.FaceAndPath, 11, 4.3, -4), "11 yards right: face and path share it"},
		{Voice{}, of(cause.Strike, 1, 0, 0), "1 yard right: mostly the strike"},
		{Voice{}, of(cause.Unmeasured, 9, 0, 0), "9 yards right: cause not measured"},
		{Voice{}, cause.Result{Verdict: cause.Unmeasured}, "Cause not measured"},
	} {
		if got := c.v.Title(pattern.Pattern{Used: 20}, c.r); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
