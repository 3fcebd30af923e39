package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// TestSidesByHand fixes the words of either hand in cases worked out by hand:
// open is a face turned away from the golfer's own side of the ball, to the
// right for a right-handed golfer and to the left for a left-handed one (common
// practice, no source).
func TestSidesByHand(t *testing.T) {
	right, left := Voice{}, Voice{Hand: analysis.LeftHanded}
	for _, c := range []struct{ got, want string }{
		{right.Change(analysis.FaceToPath, 3*deg), "3.0° more open"},
		{left.Change(analysis.FaceToPath, 3*deg), "3.0° more closed"},
		{right.Change(analysis.FaceToPath, -3*deg), "3.0° more closed"},
		{left.Change(analysis.FaceToPath, -3*deg), "3.0° more open"},
		{right.Change(analysis.Face, -3*deg), "3.0° further left"},
		{left.Change(analysis.Face, -3*deg), "3.0° further left"},
		{left.ChangeLimits(analysis.FaceToPath, -2*deg, 1*deg), "between 2° more open and 1° more closed"},
		{left.Number(analysis.StrikeToe, 0.006), "6 mm toward the toe"},
		{left.Change(analysis.Attack, -1.2*deg), "1.2° more down"},
		{right.Change(analysis.Carry, -8*yard), "8 yards shorter"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestStrikeByHand: the side that was measured is said, whatever the net finish;
// unmeasured, the one that was told; else none.
func TestStrikeByHand(t *testing.T) {
	for _, c := range []struct {
		rest float64
		toe  float64 // measured, m; 0 when not
		told cause.Side
		want string
	}{
		{-8, 0, cause.Toe, "further left than face and path explain, and start line and spin axis say it was toward the toe"},
		{8, 0, cause.Heel, "further right than face and path explain, and start line and spin axis say it was toward the heel"},
		{8, 0, cause.SideUnknown, "further right than face and path explain; to which side of the middle they were struck cannot be told"},
		{-8, 0.009, cause.Toe, "9 mm toward the toe on average, and the balls finished further left"},
		{8, 0.009, cause.Heel, "9 mm toward the toe on average, and the balls finished further right"},
		{-8, -0.009, cause.SideUnknown, "9 mm toward the heel on average, and the balls finished further left"},
	} {
		for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
			r := cause.Result{Verdict: cause.Strike, Miss: estimate(20, c.rest, 1), Rest: estimate(20, c.rest, 1), StrikeSide: c.told}
			if c.toe != 0 {
				r.Delivery[analysis.StrikeToe] = estimate(20, c.toe, 0.002)
			}
			if got := (Voice{Hand: hand}).Cause("", pattern.Pattern{}, r); !strings.Contains(got, c.want) || strings.Contains(got, "bend") || strings.Contains(got, "bent") {
				t.Errorf("%s-handed, rest %v, toe %v: %q, want %q in it", hand, c.rest, c.toe, got, c.want)
			}
		}
	}
}

func TestVerdicts(t *testing.T) {
	base := func(v cause.Verdict) cause.Result {
		r := cause.Result{Verdict: v, PracticalZero: 3 * yard, HalfWidth: 6 * yard, Miss: estimate(20, 9*yard, 2*yard), Path: estimate(20, 8*yard, 2*yard)}
		r.Delivery[analysis.Face] = estimate(20, 2*deg, 0.4*deg)
		r.Delivery[analysis.Path] = estimate(20, -4.1*deg, 0.4*deg)
		return r
	}
	p := pattern.Pattern{Balls: 20, Used: 20, Lateral: estimate(20, 1*yard, 1*yard), Width80: 34 * yard, Width80OK: true}
	centred := base(cause.Centred)
	centred.Miss = estimate(20, 2*yard, 1*yard)
	narrow := p
	narrow.Width80 = 9 * yard
	wide := centred
	wide.Scatter = &cause.Shares{Face: 0.62, Path: 0.2, Unexplained: 0.18}
	aim := base(cause.Aim)
	aim.Delivery[analysis.Path] = estimate(20, 2.2*deg, 0.4*deg)
	inferred := base(cause.FaceAndPath)
	inferred.Inferred = true
	briefed := base(cause.Face)
	briefed.RefFace = 0.5 * deg
	missing := base(cause.Unmeasured)
	missing.Missing = []analysis.Number{analysis.Face, analysis.Path}
	for _, c := range []struct {
		p    pattern.Pattern
		r    cause.Result
		want string
	}{
		{narrow, centred, "Centred: the middle of the balls is about 2 yards right of target, inside the 3 yards that count as on line."},
		{p, wide, "Centred but wide: eight balls in ten spread over about 34 yards, most of all as the face changes from ball to ball (about 62 % of the spread)."},
		{p, aim, "Check alignment first, yours and the device's: face and path were both about 2.1° right of target and the balls finished about 9 yards right."},
		{p, base(cause.Face), "The balls finished about 9 yards right because the face pointed 2.0° right of target."},
		{p, briefed, "The balls finished about 9 yards right because the face pointed 1.5° right of what your coach asked for."},
		{p, base(cause.Path), "The balls finished about 9 yards right because the path went 4.1° left of target, which curves the ball right."},
		{p, inferred, "The balls finished about 9 yards right and two things share it: the face pointed 2.0° right of target and the path went 4.1° left of target. " +
			"Face and path are inferred from the ball's flight, not measured. A side wind would look the same."},
		{p, missing, "The file has no face angle or club path, so why the balls finished about 9 yards right cannot be told."},
	} {
		if got := (Voice{}).Cause("", c.p, c.r); got != c.want {
			t.Errorf("%s:\n%q, want\n%q", c.r.Verdict, got, c.want)
		}
	}
	name := Voice{}.SetName(analysis.Club{Family: analysis.Iron, Number: 7}, "quiet elbow")
	if got, want := (Voice{}).Cause(name, p, base(cause.Face)), `7-iron, the set you called "quiet elbow": the balls finished`; !strings.HasPrefix(got, want) {
		t.Errorf("%q, want it to begin %q", got, want)
	}
}

func TestPlainly(t *testing.T) {
	lines := []string{`In "path 2" the path went left, footpath or not.`, "Face-to-path 2.0° open; path again; face-to-path again."}
	got := Plainly(lines)
	want := []string{`In "path 2" the path (the way the club was moving) went left, footpath or not.`,
		"Face-to-path (where the face pointed against the path) 2.0° open; path again; face-to-path again."}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%q, want %q", got[i], want[i])
		}
	}
}
