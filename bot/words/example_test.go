package words_test

import (
	"fmt"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

const (
	deg  = analysis.Degree
	yard = analysis.Yard
)

// wren is a right-handed golfer's 7-iron whose face points left.
func wren() (pattern.Pattern, cause.Result) {
	e := func(mean, half float64) analysis.Estimate {
		return analysis.Estimate{N: 18, Mean: mean, Low: mean - half, High: mean + half, SD: 2 * half, OK: true}
	}
	r := cause.Result{Verdict: cause.Face, Confidence: 0.97, PracticalZero: 3 * yard, HalfWidth: 6 * yard,
		Miss: e(-9.4*yard, 2.2*yard), Face: e(-11.3*yard, 2.4*yard), Path: e(1.4*yard, 0.8*yard), Rest: e(0.5*yard, 1.5*yard)}
	r.Delivery[analysis.Face] = e(-2.9*deg, 0.7*deg)
	r.Delivery[analysis.Path] = e(-0.8*deg, 0.6*deg)
	r.Delivery[analysis.Direction] = e(-2.3*deg, 0.6*deg)
	r.WorkBack = cause.WorkBack{OK: true, FaceBy: 1.9 * deg, PathBy: -1.2 * deg, FaceAlone: e(2.5*deg, 0.6*deg), PathAlone: e(-5.2*deg, 1.4*deg),
		Number: analysis.Face, Tool: analysis.WeakerGrip}
	p := pattern.Pattern{Balls: 20, Used: 18, Mishits: []int{7, 15}, Lateral: r.Miss, Carry: e(152*yard, 2*yard)}
	p.WithMishits.Lateral = analysis.Estimate{N: 20, Mean: -7.2 * yard}
	return p, r
}

func Example() {
	v := words.Voice{}
	p, r := wren()
	shots := make([]analysis.Shot, 20)
	for i := range shots {
		shots[i].N = i + 1
	}
	fmt.Println(v.Title(p, r))
	for _, line := range words.Plainly([]string{v.Cause("", p, r), v.Split(r), v.WorkBack(r), v.SetAside(shots, p)}) {
		fmt.Println(line)
	}
	// Output:
	// 9 yards left: face 2.9° closed
	// The balls finished about 9 yards left because the face pointed 2.9° left of target.
	// In yards: face 11 left (8 to 14), path (the way the club was moving) 1 right (0 to 3), the rest (strike, wind, model) 1 right (1 left to 2 right); together 9 left.
	// To bring the middle back: the face about 2.5° further right (1.9 to 3.1°). Worth a labelled trial: a weaker grip, in turns with your usual setup.
	// Set aside: 2 of 20 were mishits (balls 7 and 15). With the mishits the middle is 2 yards further right.
}

func ExampleVoice_Number() {
	right, left := words.Voice{}, words.Voice{Hand: analysis.LeftHanded, Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}}
	fmt.Println(right.Number(analysis.FaceToPath, 2*deg))
	fmt.Println(left.Number(analysis.FaceToPath, 2*deg))
	fmt.Println(right.Number(analysis.Lateral, -9.4*yard))
	fmt.Println(left.Number(analysis.Lateral, -9.4*yard))
	fmt.Println(left.Number(analysis.ClubSpeed, 41.6))
	// Output:
	// 2.0° open to the path
	// 2.0° closed to the path
	// 9 yards left of target
	// 9 metres left of target
	// 42 m/s
}

func ExampleVoice_Cause_tooFew() {
	p := pattern.Pattern{Balls: 5, Used: 5}
	r := cause.Result{Verdict: cause.TooFew, MoreBalls: 6,
		Miss: analysis.Estimate{N: 5, Mean: -9 * yard, Low: -30 * yard, High: 12 * yard, OK: true}}
	fmt.Println(words.Voice{}.Cause("", p, r))
	// Output:
	// Too few balls to tell why: about 6 more balls like these would do (5 balls so far, about 9 yards left but anywhere between 30 yards left and 12 yards right).
}

func ExampleVoice_Trial() {
	row := func(n analysis.Number, v trial.Verdict, d, half float64) trial.Row {
		return trial.Row{Set: 1, Number: n, Verdict: v, Difference: d, Low: d - half, High: d + half, OK: true, Finds: half * 1.3}
	}
	speed := row(analysis.ClubSpeed, trial.CannotTell, 0, 1)
	speed.MoreBase, speed.MoreSet = 6, 6
	r := trial.Result{
		Sets: []trial.Side{{Label: "normal", Balls: 12, Used: 12}, {Label: "strong grip", Balls: 12, Used: 12}},
		Rows: []trial.Row{row(analysis.Face, trial.Moved, -3.1*deg, 0.8*deg), row(analysis.Path, trial.Moved, -6.4*deg, 0.9*deg),
			row(analysis.Attack, trial.Held, 0.2*deg, 0.8*deg), speed, row(analysis.Lateral, trial.Held, 1, 2)},
		Compensations: []trial.Compensation{{Set: 1, FaceM: -13, PathM: 10.6, Opposed: true, OK: true, Cancelled: 0.81, Low: 0.64, High: 0.98}},
	}
	for _, line := range (words.Voice{}).Trial(r) {
		fmt.Println(line)
	}
	// Output:
	// Baseline: "normal" (12 balls). Against it: "strong grip" (12 balls).
	// In "strong grip", moved: face 3.1° further left (2.3 to 3.9°) and path 6.4° further left (5.5 to 7.3°).
	// In "strong grip" the path went 6.4° further left, which cancelled about four fifths of what the face did (between two thirds and all). The balls finished where they did before: the change shows only in the delivery.
	// In "strong grip", held: attack angle and sideways finish.
	// In "strong grip", cannot tell: club speed no different (6 more of each would tell).
	// With 12 balls in the smallest set, less than about 1.0° of face would often not show; about 30 balls a set make a fair trial.
}

func ExampleVoice_Timeline() {
	lesson := analysis.Lesson{At: time.Date(2026, time.June, 3, 0, 0, 0, 0, time.UTC)}
	r := timeline.Result{Number: analysis.Face, Points: make([]timeline.Point, 9), Lessons: []analysis.Lesson{lesson},
		Effect: timeline.Effect{Change: timeline.Changed, Credited: true, Lasts: timeline.Stays, Shape: timeline.Sudden, Lesson: lesson, Before: 5, After: 4, MeanBefore: 3.1 * deg, MeanAfter: 1.1 * deg,
			Difference: -2 * deg, Low: -2.9 * deg, High: -1.1 * deg, WorstBefore: true}}
	for _, line := range (words.Voice{}).Timeline(r) {
		fmt.Println(line)
	}
	// Output:
	// Since the lesson on 3 June 2026 the face angle is 2.0° further left (1.1 to 2.9°): from 3.1° right to 1.1° right. It came at once, and it stayed.
	// The lesson followed the worst session, so some of this would have come anyway.
	// That is more than sessions differ by themselves (5 sessions before, 4 since).
}

func ExampleVoice_Brief() {
	low, high := -1*deg, 1*deg
	k := timeline.Kept{Brief: analysis.Brief{Number: analysis.Face, Low: &low, High: &high},
		Inside: 14, Of: 20, Share: 0.7, ShareLow: 0.4810, ShareHigh: 0.8545}
	fmt.Println(words.Voice{}.Brief(k))
	// Output:
	// Brief, face angle between 1° left and 1° right of target: 14 of 20 inside your coach's limits (between 48 and 86 %).
}

func ExampleEscape() {
	fmt.Println(words.Escape("*strong* grip"))
	// Output:
	// \*strong\* grip
}
