package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
)

// What a trial says to do next follows from where its balls finished.
func TestNextOfATrial(t *testing.T) {
	yard := analysis.Yard
	row := func(n analysis.Number, v trial.Verdict, d float64) trial.Row {
		return trial.Row{Set: 1, Number: n, Verdict: v, Difference: d, Low: d - 0.01, High: d + 0.01, OK: true, Zero: 3 * yard}
	}
	moved := func(d float64) []trial.Row { return []trial.Row{row(analysis.Lateral, trial.Moved, d)} }
	for _, c := range []struct {
		rows      []trial.Row
		base, set float64
		want      string
	}{
		{moved(-10 * yard), 12 * yard, 2 * yard, "keep it"},
		{moved(10 * yard), 2 * yard, 12 * yard, "back to the usual one"},
		{moved(-29 * yard), 15 * yard, -14 * yard, "between the two"},
		{moved(-4 * yard), 2 * yard, -2 * yard, "try something else"},
		{[]trial.Row{row(analysis.Face, trial.Moved, -0.04), row(analysis.Path, trial.Moved, -0.1)}, 12 * yard, 10 * yard, "path as usual"},
		{[]trial.Row{row(analysis.Face, trial.Held, 0), row(analysis.Path, trial.Held, 0)}, 0, 0, "does not move the club"},
		{[]trial.Row{{Set: 1, Number: analysis.Lateral, Verdict: trial.CannotTell, MoreBase: 5, MoreSet: 7}}, 0, 0, "about 7 more balls of each"},
	} {
		r := trial.Result{Sets: []trial.Side{{Label: "usual"}, {Label: "new"}}, Rows: c.rows}
		if got := (Voice{}).nextTrial(r, []float64{c.base, c.set}); !strings.Contains(got, c.want) {
			t.Errorf("from %.0f to %.0f m: %q, want %q", c.base, c.set, got, c.want)
		}
	}
}

// The first layer says what a recommendation rests on where that is more than
// common practice.
func TestFirstSaysTheGrounds(t *testing.T) {
	seen := 0
	for _, v := range voices {
		causes(v.Hand, func(p pattern.Pattern, r cause.Result) {
			for grounds, says := range map[analysis.Grounds]string{
				analysis.OwnTrials: "Your own trials say so.", analysis.CoachStudents: "Your coach's students' trials say so.", analysis.CommonPractice: "",
			} {
				r.WorkBack.Grounds = grounds
				must, may := v.First("7-iron", p, r, timeline.Past{})
				text := strings.Join(append(must, may...), " ")
				tries := strings.Contains(text, "Next: try ")
				if tries {
					seen++
				}
				if says != "" && strings.Contains(text, says) != tries || says == "" && (strings.Contains(text, "trials say so")) {
					t.Errorf("by %s: %q", grounds, text)
				}
			}
		})
	}
	if seen == 0 {
		t.Error("no tool is ever recommended")
	}
}

// Air and ball that were said stand before what to do next, beside any miss to the
// side, as the owners or as what may be; a swing's length stands behind it, and only
// beside balls on line.
func TestFirstSaysTheAir(t *testing.T) {
	yard := analysis.Yard
	short := func(v cause.DistanceVerdict, said cause.Said) cause.Distance {
		return cause.Distance{Known: true, Verdict: v, Miss: estimate(20, -9*yard, 2*yard), Said: said}
	}
	wind, ball := cause.Said{Wind: -8 * yard}, cause.Said{Ball: -8 * yard}
	unmeasured := cause.Result{Verdict: cause.Unmeasured, Missing: []analysis.Number{analysis.Face}, Miss: estimate(20, 0, yard)}
	for _, c := range []struct {
		r    cause.Result
		d    cause.Distance
		want []string
	}{
		{cause.Result{Verdict: cause.Centred}, short(cause.DistanceAir, wind),
			[]string{"On line: the middle of the balls is on target.", "Distance: about 9 yards short of the target, mostly the day's wind.", "Next: keep this setup."}},
		{cause.Result{Verdict: cause.Centred}, short(cause.DistanceUnknown, ball),
			[]string{"On line: the middle of the balls is on target.", "Distance: about 9 yards short of the target, and range balls may explain all of it, if the target is for new balls.",
				"Next: keep the line; more sessions with this club will tell about the length."}},
		{unmeasured, short(cause.DistanceAir, wind),
			[]string{"The file has no face angle, so why the balls finished on the target line cannot be told.", "Distance: about 9 yards short of the target, mostly the day's wind.", "Next: post a file with columns of face and path."}},
		{cause.Result{Verdict: cause.Centred}, short(cause.DistanceSpeed, wind),
			[]string{"On line: the middle of the balls is on target.", "Next: keep the line, and see to the length.", "Distance: about 9 yards short of the target."}},
		{unmeasured, short(cause.DistanceSpeed, wind),
			[]string{"The file has no face angle, so why the balls finished on the target line cannot be told.", "Next: post a file with columns of face and path."}},
	} {
		c.r.Distance = c.d
		must, may := (Voice{}).First("", pattern.Pattern{Used: 20}, c.r, timeline.Past{})
		check(t, strings.Join(append(must, may...), "\n"), strings.Join(c.want, "\n"))
	}
}

func TestNumeral(t *testing.T) {
	for n, want := range map[int]string{0: "no", 6: "six", 12: "twelve", 20: "twenty", 24: "twenty-four", 99: "ninety-nine", 100: "100", 1200: "1,200"} {
		if got := numeral(n); got != want {
			t.Errorf("%d is %q, want %q", n, got, want)
		}
	}
}
