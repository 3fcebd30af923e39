package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
)

// TestReadAloud holds what was found wrong in replies when they were read aloud.
func TestReadAloud(t *testing.T) {
	const mm = analysis.Millimetre
	deg := analysis.Degree
	first := func(p pattern.Pattern, r cause.Result) string {
		must, _ := Voice{}.First("", p, r, timeline.Past{})
		return strings.Join(must, " ")
	}
	check := func(what, got, want, not string) {
		t.Helper()
		if !strings.Contains(got, want) || not != "" && strings.Contains(got, not) {
			t.Errorf("%s: %q, want %q and not %q", what, got, want, not)
		}
	}

	forty := cause.Result{Verdict: cause.TooFew, Miss: estimate(40, -9*yard, 7*yard), PracticalZero: 4 * yard, Warnings: []analysis.Warning{{Code: cause.ModelLimits}}}
	check("not for want of balls", first(pattern.Pattern{Used: 40, Lateral: forty.Miss}, forty), "and no cause can be named yet. Next: ", "too few")

	near := cause.Result{Verdict: cause.TooFew, Miss: estimate(8, 1*yard, 9*yard), PracticalZero: 4 * yard, MoreBalls: 20}
	check("there may be no miss", first(pattern.Pattern{Used: 8, Lateral: near.Miss}, near), "whether they are on line", "why")

	heel := cause.Result{Verdict: cause.Centred, PracticalZero: 4 * yard}
	heel.Delivery[analysis.StrikeToe] = estimate(60, -17*mm, 3*mm)
	check("on line off the heel", first(pattern.Pattern{Used: 60}, heel), "nearer the middle", "")

	worked := cause.Result{Verdict: cause.Face, Inferred: true}
	worked.Delivery[analysis.Attack] = estimate(20, -4.6*deg, 0.3*deg)
	worked.Delivery[analysis.ClubSpeed] = estimate(20, 40, 0.3)
	shot := analysis.Shot{N: 1}.With(analysis.ClubSpeed, 40)
	check("limits of what was worked back", strings.Join(Voice{}.Explain([]analysis.Shot{shot}, pattern.Pattern{}, worked), "\n"),
		"Attack angle about 5° down, inferred.", "Attack angle 4.6° down (")

	caveat := func(code string, n analysis.Number) string {
		return Voice{}.Caveats([]analysis.Warning{{Code: code, Count: 8, Number: n}})[0]
	}
	check("the launch tells the loft", caveat(cause.PresumedLoft, analysis.LaunchAngle), "the launch points to", "usual")
	check("nothing shows the strike", caveat(cause.Unexplained, analysis.StrikeToe), "A column of the strike", "nor strike")

	part := func(first int, path float64) pattern.Part {
		p := pattern.Part{Pattern: pattern.Pattern{Used: 2, Lateral: estimate(2, 2*yard, yard)}}
		for i := range 2 {
			p.Shots = append(p.Shots, analysis.Shot{N: first + i}.With(analysis.Path, path*deg))
		}
		return p
	}
	two := pattern.Pattern{Used: 4, Parts: []pattern.Part{part(1, -2), part(3, -5)}, Warnings: []analysis.Warning{{Code: pattern.TwoPatterns, Number: analysis.Path}}}
	check("two patterns in one place", first(two, cause.Result{Verdict: cause.TwoPatterns}), "with the path 2.0° left of target, two balls with it 5.0° left of target; both finished about 2 yards right. Name the sets", "")
}
