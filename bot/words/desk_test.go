package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/tally"
	"rangepost/analysis/timeline"
)

// setGists are what sets are found to say, in every verdict, of any size, on
// either side.
func setGists(yield func(s analysis.SetGist)) {
	for _, verdict := range verdicts {
		for _, size := range magnitudes {
			for _, half := range halves {
				for _, sign := range []float64{-1, 1} {
					for n := range 3 {
						x := sign * size
						yield(analysis.SetGist{
							Verdict: string(verdict), Used: 12 * n, Inferred: n == 1, Wide: n == 2, Width: 20 * yard, MoreBalls: []int{0, 4, 140}[n],
							Miss: estimate(12*n, x*4*yard, half*4*yard), Face: estimate(12*n, x*deg, half*deg), Path: estimate(12*n, -x*deg, half*deg),
						})
					}
				}
			}
		}
	}
}

// trialGists are what trials are found to say: each tool and a label that is
// none, each way of following, with more and less moved.
func trialGists(yield func(t analysis.TrialGist)) {
	moved := func(x, half float64, numbers ...analysis.Number) (all []analysis.Change) {
		for i, n := range numbers {
			scale := n.JSONScale()
			all = append(all, analysis.Change{Number: n, Difference: x * scale, Low: (x - half) * scale, High: (x + half) * scale, Little: i == 2})
		}
		return all
	}
	for _, tool := range append(analysis.Tools(), "") {
		for _, follow := range []analysis.Follow{"", analysis.Follows, analysis.Cancels, analysis.Adds, analysis.Stands, analysis.NotKnown} {
			for _, x := range []float64{-6, -1.2, 0.3, 2.2} {
				for _, lead := range []analysis.Number{analysis.Face, analysis.Path} {
					set := analysis.TrialSetGist{Label: "quiet back elbow", Tool: tool, Used: 12, Held: 2, Untold: 2, MoreBalls: 24,
						Follow: follow, Cancelled: 1 + x/7, Lead: lead, Moved: moved(x, 0.2, lead, analysis.Lateral, analysis.Carry)}
					if follow == "" {
						set.Moved = moved(x, 0.2, analysis.Attack, analysis.Carry, analysis.ClubSpeed)
					}
					bare := analysis.TrialSetGist{Label: "quiet back elbow", Tool: tool, Untold: 4, MoreBalls: 24}
					held := analysis.TrialSetGist{Tool: tool, Held: 4}
					yield(analysis.TrialGist{Sets: []analysis.TrialSetGist{set}})
					yield(analysis.TrialGist{Sets: []analysis.TrialSetGist{bare, held, held}})
				}
			}
		}
	}
}

// The sentences of the desk, word for word.
func TestDesk(t *testing.T) {
	v := Voice{}
	face := analysis.SetGist{Verdict: string(cause.Face), Miss: estimate(20, 12*yard, 2*yard), Face: estimate(20, 3*deg, 0.5*deg)}
	check(t, v.Found(face), "12 yards right, face 3.0° right")
	centred := analysis.SetGist{Verdict: string(cause.Centred), Wide: true, Width: 27 * yard}
	check(t, v.Found(centred), "centred, but eight in ten over 27 yards")
	check(t, v.Again(1, nil), "")
	check(t, v.Again(1, &face), "12 yards right last time")
	check(t, v.Again(1, &centred), "centred last time")
	check(t, v.Again(2, nil), "the same as last time")
	check(t, v.Again(3, nil), "third time in a row")
	check(t, v.Again(9, nil), "9 times in a row")
	grip := analysis.TrialSetGist{Tool: analysis.StrongerGrip, Lead: analysis.Face, Follow: analysis.Cancels, Cancelled: 0.97, Moved: []analysis.Change{
		{Number: analysis.Face, Difference: -2.2 * deg, Low: -3.2 * deg, High: -1.2 * deg}, {Number: analysis.Path, Difference: -6 * deg, Low: -7 * deg, High: -5 * deg}}}
	of := func(s analysis.TrialSetGist) analysis.TrialGist {
		return analysis.TrialGist{Sets: []analysis.TrialSetGist{s}}
	}
	check(t, v.TrialFound(of(grip)), "the stronger grip closed the face 2°, the path undid it")
	// The same face, seen by a left-hander, was opened.
	check(t, Voice{Hand: analysis.LeftHanded}.TrialFound(of(grip)), "the stronger grip opened the face 2°, the path undid it")
	grip.Follow = analysis.NotKnown
	grip.Moved = append(grip.Moved[:1:1], analysis.Change{Number: analysis.Lateral, Difference: -10 * yard, Low: -14 * yard, High: -6 * yard})
	check(t, v.TrialFound(of(grip)), "the stronger grip closed the face 2°, balls 10 yards further left")
	ball := analysis.TrialSetGist{Tool: analysis.BallBack, Lead: analysis.Path, Follow: analysis.Stands, Moved: []analysis.Change{
		{Number: analysis.Path, Difference: 1.5 * deg, Low: 1.1 * deg, High: 1.9 * deg}}}
	check(t, v.TrialFound(of(ball)), "the ball back sent the path 1.5° further right, the face held")
	check(t, v.TrialFound(of(analysis.TrialSetGist{Label: "quiet back elbow", Held: 4, Untold: 4, MoreBalls: 24})), `"quiet back elbow": nothing known to have moved, 24 more balls of each would tell`)
	thirds := func(left, straight, right int) tally.Thirds {
		of := left + straight + right
		return tally.Thirds{Left: tally.Share{N: left, Of: of}, Straight: tally.Share{N: straight, Of: of}, Right: tally.Share{N: right, Of: of}}
	}
	check(t, v.TallyAgainst(analysis.Club{Family: analysis.Iron, Number: 7}, thirds(0, 2, 7), thirds(24, 2, 0)),
		"by eye 7 of 9 started right, measured 24 of 26 left with the 7-iron")
}

// No line of a finding is longer than two on a phone, and none says an amount
// without a side it has.
func TestDeskLinesAreShort(t *testing.T) {
	const most = 120
	for _, s := range corpus() {
		if s.kind != "Found" && s.kind != "TrialFound" {
			continue
		}
		for _, part := range strings.Split(s.text, "; ") {
			if n := len([]rune(part)); n > most {
				t.Errorf("%d characters: %s", n, part)
			}
		}
	}
}

// What is compared is said with its limits, and what cannot be is said to.
func TestCompared(t *testing.T) {
	side := func(days int, mean float64) timeline.Side {
		return timeline.Side{Sessions: days, Balls: 20 * days, Mean: mean}
	}
	all := []timeline.Comparison{
		{Number: analysis.Face, First: side(4, 3*deg), Second: side(3, 0.6*deg), Difference: -2.4 * deg, Low: -3.8 * deg, High: -1.0 * deg, Contrast: timeline.Differ},
		{Number: analysis.Path, First: side(4, 0), Second: side(3, 0), Difference: 0.5 * deg, Low: -1 * deg, High: 2 * deg, Contrast: timeline.CannotSay},
		{Number: analysis.Attack, First: side(4, 0), Second: side(3, 0), Contrast: timeline.Alike},
		{Number: analysis.Carry, First: side(1, 0), Second: side(1, 0), Contrast: timeline.TooLittle},
	}
	check(t, strings.Join(Voice{}.Compared("the 7-iron", "the driver", all), "\n"), `The 7-iron (4 days, 80 balls) against the driver (3 days, 60 balls).
- Face 2° further left (1 to 4°): 3° right, then 1° right.
- Path cannot be told: anywhere between 1° further left and 2° further right.
- About the same: attack angle.
- Too few days to compare: carry.
A day counts once, however many balls, since days differ by themselves. The limits hold for all these numbers together.`)
	check(t, strings.Join(Voice{}.Compared("a", "b", all[3:]), "\n"), "A (1 day, 20 balls) against b (1 day, 20 balls).\n- Too few days to compare: carry.\n"+
		"One day differs from the next by itself, so two days a side are the least.")
}
