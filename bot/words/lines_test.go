package words

import (
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
)

func check(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%q, want\n%q", got, want)
	}
}

func TestWorkBack(t *testing.T) {
	aim := cause.Result{Verdict: cause.Aim, WorkBack: cause.WorkBack{OK: true, FaceBy: -4.1 * deg, PathBy: -4.1 * deg, Tool: analysis.AimLeft}}
	aim.Delivery[analysis.Face] = estimate(20, 4.3*deg, 0.4*deg)
	aim.Delivery[analysis.Path] = estimate(20, 3.9*deg, 0.4*deg)
	check(t, Voice{}.WorkBack(aim), "If it was the aim, aiming about 4.1° further left brings the middle back; "+
		"if it was the device, nothing about the club has to change.")
	aim.Delivery[analysis.Path] = estimate(20, 3.9*deg, 1.4*deg)
	check(t, Voice{}.WorkBack(aim), "If it was the aim, aiming about 4° further left brings the middle back; "+
		"if it was the device, nothing about the club has to change.")

	path := cause.Result{Verdict: cause.Path, WorkBack: cause.WorkBack{OK: true, Number: analysis.Path, PathBy: -7.4 * deg,
		PathAlone: estimate(20, -7.4*deg, 1.6*deg), FaceAlone: estimate(20, 1.2*deg, 0.3*deg), Tool: analysis.BallForward, ToolShare: 1.5 / 7.4}}
	check(t, Voice{}.WorkBack(path), "To bring the middle back: the path about 7° further left (5 to 9°). "+
		"Worth a labelled trial: the ball further forward, in turns with your usual setup; by common practice it does about a fifth of it.")
	path.WorkBack.PathAlone = analysis.Estimate{N: 20, Mean: -17 * deg}
	path.WorkBack.FaceBy = -1.2 * deg
	check(t, Voice{}.WorkBack(path), "To bring the middle back: the path alone will not do; the face about 1.2° further left with the path about 7° further left. "+
		"Worth a labelled trial: the ball further forward, in turns with your usual setup; by common practice it does about a fifth of it.")
	for grounds, says := range map[analysis.Grounds]string{
		analysis.OwnTrials: "by your own trials", analysis.CoachStudents: "by what it did to your coach's students", analysis.CommonPractice: "by common practice",
	} {
		known := path
		known.WorkBack.Grounds = grounds
		check(t, Voice{}.WorkBack(known), "To bring the middle back: the path alone will not do; the face about 1.2° further left with the path about 7° further left. "+
			"Worth a labelled trial: the ball further forward, in turns with your usual setup; "+says+" it does about a fifth of it.")
	}
	both := path
	both.Verdict = cause.FaceAndPath
	check(t, Voice{}.WorkBack(both), "To bring the middle back: the face about 1.2° further left with the path about 7° further left. "+
		"Worth a labelled trial: the ball further forward, in turns with your usual setup; by common practice it does about a fifth of it.")

	for _, v := range []cause.Verdict{cause.Centred, cause.TooFew, cause.Unmeasured} {
		path.Verdict = v
		check(t, Voice{}.WorkBack(path), "")
	}
}

func TestAltSaysWhetherTheDeliveryFindsTheTarget(t *testing.T) {
	r := cause.Result{Verdict: cause.Centred, Corridor: cause.Corridor{OK: true, Edges: []cause.CorridorEdge{
		{Path: -5 * deg, FaceLow: -3 * deg, FaceHigh: -1 * deg}, {Path: 5 * deg, FaceLow: 1 * deg, FaceHigh: 3 * deg}}}}
	for _, c := range []struct {
		face, path float64
		want       string
	}{
		{0, 0, "inside the band"}, {0.9, 0, "inside the band"}, {1.1, 0, "outside the band"}, {-1.1, 0, "outside the band"},
		{1.9, 5, "inside the band"}, {0.9, 5, "outside the band"},
	} {
		r.Delivery[analysis.Face], r.Delivery[analysis.Path] = estimate(20, c.face*deg, 0.3*deg), estimate(20, c.path*deg, 0.3*deg)
		if got := (Voice{}).AltPost("", pattern.Pattern{}, r); !strings.Contains(got, c.want) {
			t.Errorf("face %v, path %v: %q, want %q in it", c.face, c.path, got, c.want)
		}
	}
	r.Delivery[analysis.Path] = estimate(20, 9*deg, 0.3*deg)
	if got := (Voice{}).AltPost("", pattern.Pattern{}, r); strings.Contains(got, "the band") {
		t.Errorf("%q speaks of a band that does not reach this path", got)
	}
}

func TestCarry(t *testing.T) {
	d := cause.Distance{Known: true, Verdict: cause.DistanceSpeed, Miss: estimate(20, -8*yard, 2*yard), Speed: estimate(20, -6*yard, yard)}
	say := func() string { return Voice{}.Carry(cause.Result{Distance: d}) }
	check(t, say(), "Distance: about 8 yards short of the target, mostly club speed (6 yards shorter), against the better of the two swings in the set.")
	d.Against = 3
	d.Verdict, d.Miss, d.Loft = cause.DistanceLoft, estimate(20, 8*yard, 2*yard), estimate(20, 5*yard, yard)
	check(t, say(), "Distance: about 8 yards long of the target, mostly dynamic loft (5 yards longer), against your last 3 sessions with it.")
	d.Verdict = cause.DistanceTooFew
	check(t, say(), "Distance: about 8 yards long of the target so far, which may be luck.")
	d.Verdict = cause.DistanceTwo
	check(t, say(), "Distance: about 8 yards long of the target, and two things share it: dynamic loft (5 yards longer) and the strike, against your last 3 sessions with it.")
	d.Verdict, d.Against = cause.DistanceUnknown, 0
	check(t, say(), "Distance: about 8 yards long of the target. The air, another club, or another swing than usual: earlier sessions with this club would tell.")
	d.Said.Wind = 1 * yard
	check(t, say(), "Distance: about 8 yards long of the target. The air, another club, or another swing than usual: earlier sessions with this club would tell.")
	d.Said.Wind = 5 * yard
	check(t, say(), "Distance: about 8 yards long of the target. The day's wind may explain about 5 yards of that. The rest is another club, or another swing than usual: earlier sessions with this club would tell.")
	d.Said.Wind = 9 * yard
	check(t, say(), "Distance: about 8 yards long of the target. The day's wind may explain all of that: earlier sessions with this club would tell.")
	d.Said.Wind = -9 * yard
	check(t, say(), "Distance: about 8 yards long of the target. The air, another club, or another swing than usual: earlier sessions with this club would tell.")
	d.Miss, d.Said = estimate(20, -8*yard, 2*yard), cause.Said{Wind: -yard, Ball: -5 * yard}
	check(t, say(), "Distance: about 8 yards short of the target. Range balls may explain about 6 yards of that, if the target is for new balls. The rest is another club, or another swing than usual: earlier sessions with this club would tell.")
	d.Miss = estimate(20, 8*yard, 2*yard)
	d.Verdict, d.Said = cause.DistanceNone, cause.Said{}
	check(t, say(), "Distance: about 8 yards long of the target; what was measured does not say why.")
	d.Verdict, d.Air = cause.DistanceAir, estimate(20, 6*yard, yard)
	check(t, say(), "Distance: about 8 yards long of the target, mostly wind, air or the ball itself (6 yards longer), by what such a launch carries in still air: not the swing.")
	d.Said.Wind = 6 * yard
	check(t, say(), "Distance: about 8 yards long of the target, mostly the day's wind (6 yards longer), by what such a launch carries in still air: not the swing.")
	d.Spoken, d.Miss = true, estimate(20, -8*yard, 2*yard)
	d.Said = cause.Said{Wind: -5 * yard, Air: yard, Ball: -3.5 * yard}
	check(t, say(), "Distance: about 8 yards short of the target, mostly the day's wind and range balls (usually worth 8 yards): earlier sessions with this club would tell for sure.")
	d.Said, d.Against = cause.Said{Ball: -5 * yard}, 2
	check(t, say(), "Distance: about 8 yards short of the target, mostly range balls (usually worth 5 yards).")
	d = cause.Distance{Known: true, Verdict: cause.DistanceSpeed, Clubless: true, Against: 1, Miss: estimate(20, -8*yard, 2*yard), Speed: estimate(20, -5*yard, yard), Strike: estimate(20, -2*yard, yard)}
	check(t, say(), "Distance: about 8 yards short of the target, mostly ball speed (7 yards shorter), by the club's speed or the strike, against your last session with it.")
	d.Verdict, d.Loft = cause.DistanceTwo, estimate(20, -3*yard, yard)
	check(t, say(), "Distance: about 8 yards short of the target, and two things share it: ball speed (7 yards shorter) and dynamic loft (3 yards shorter), against your last session with it.")
	d.Known = false
	check(t, say(), "")
}

func TestWind(t *testing.T) {
	check(t, Voice{}.Wind(cause.Result{Wind: -7 * yard}), "The day's wind is counted with the rest: about 7 yards left.")
	check(t, Voice{}.Wind(cause.Result{}), "")
}

func TestCautions(t *testing.T) {
	if got := Cautions(100, false); got != nil {
		t.Errorf("100 swings: %q, want nothing", got)
	}
	got := Cautions(101, false)
	if len(got) != 2 || !strings.HasPrefix(got[0], "101 full swings in one visit: warm up first, rest") || got[1] != Aid {
		t.Errorf("101 swings: %q", got)
	}
	if got := Cautions(12, true); len(got) != 3 || got[1] != Aid || got[2] != RangeRules {
		t.Errorf("speed work: %q", got)
	}
}

func TestAsked(t *testing.T) {
	at := func(x float64) *float64 { return &x }
	for _, c := range []struct {
		b    analysis.Brief
		v    Voice
		want string
	}{
		{analysis.Brief{Number: analysis.Face, Low: at(-1 * deg), High: at(1.25 * deg)}, Voice{}, "face angle between 1° left and 1.25° right of target"},
		{analysis.Brief{Number: analysis.Face, High: at(0)}, Voice{}, "face angle no further right than square to the target"},
		{analysis.Brief{Number: analysis.Path, Low: at(-2 * deg)}, Voice{}, "club path no further left than 2° left of target"},
		{analysis.Brief{Number: analysis.Attack, Low: at(-5 * deg), High: at(-3 * deg)}, Voice{}, "attack angle between 3 and 5° down"},
		{analysis.Brief{Number: analysis.FaceToPath, Low: at(0.5 * deg), High: at(2 * deg)}, Voice{Hand: analysis.LeftHanded}, "face-to-path between 0.5 and 2° closed to the path"},
		{analysis.Brief{Number: analysis.ClubSpeed, Low: at(92 * analysis.MilePerHour)}, Voice{}, "club speed at least 92 mph"},
		{analysis.Brief{Number: analysis.ClubSpeed, Low: at(92 * analysis.MilePerHour)}, Voice{Units: analysis.Units{Speed: analysis.MetresPerSecond}}, "club speed at least 41.1 m/s"},
		{analysis.Brief{Number: analysis.Spin, High: at(7000 * analysis.RevPerMinute)}, Voice{}, "spin rate at most 7,000 rpm"},
		{analysis.Brief{Number: analysis.Carry, Low: at(150 * yard), High: at(156 * yard), Club: analysis.Club{Family: analysis.Iron, Number: 7}}, Voice{},
			"carry with the 7-iron between 150 and 156 yards"},
	} {
		check(t, c.v.Asked(c.b), c.want)
	}
	check(t, Voice{}.Brief(timeline.Kept{Brief: analysis.Brief{Number: analysis.Face, High: at(0)}}),
		"Brief, face angle no further right than square to the target: no ball here was measured for it.")
}

func TestExplain(t *testing.T) {
	r := cause.Result{Verdict: cause.Path, Confidence: 0.934, HalfWidth: 6 * yard, FaceWorth: 4.6 * yard / deg, PathWorth: -1.8 * yard / deg,
		Face: estimate(20, 1*yard, yard), Path: estimate(20, 8*yard, yard), Rest: estimate(20, 0, yard), Miss: estimate(20, 9*yard, yard),
		Strike: estimate(20, -2*yard, yard), Scatter: &cause.Shares{Face: 0.333, Path: 0.333, Strike: 0.334}}
	lines := Voice{}.Explain([]analysis.Shot{analysis.Shot{N: 1}.With(analysis.Carry, 140).WithInferred(analysis.Face, 0.1)}, pattern.Pattern{}, r)
	for _, want := range []string{
		"Measured of its flight: carry. Inferred from the ball's flight: face.",
		"Here a degree of face moves the ball 4.6 yards the same way, a degree of path 1.8 yards the other way.",
		"In yards: face 1 right (0 to 2), path 8 right (7 to 9), the rest (strike, wind, model) 0 (1 left to 1 right); together 9 right.",
		"How sure: exactly this verdict in about 93 of 100 redraws of your balls and of the model.",
		"Of the rest, the strike speaks for 2 yards left (1 to 3 yards).",
		"Of the sideways spread: face 33 %, path 33 %, strike 34 %, speed 0 %, unexplained 0 % (slopes fitted to your balls).",
		"Judged against a face square to the target and a path straight at it.",
	} {
		found := false
		for _, line := range lines {
			found = found || line == want
		}
		if !found {
			t.Errorf("no line %q among\n%s", want, strings.Join(lines, "\n"))
		}
	}
}

func TestCompensation(t *testing.T) {
	row := func(n analysis.Number, v trial.Verdict, d float64) trial.Row {
		return trial.Row{Set: 1, Number: n, Verdict: v, Difference: d, Low: d - 0.5*deg, High: d + 0.5*deg, OK: true}
	}
	r := trial.Result{Sets: []trial.Side{{Label: "usual", Used: 20}, {Label: "ball back", Used: 20}},
		Rows: []trial.Row{row(analysis.Face, trial.Moved, 1.2*deg), row(analysis.Path, trial.Moved, 3*deg)},
		Compensations: []trial.Compensation{{Set: 1, Opposed: true, OK: true, Cancelled: 0.5, Low: 0.4, High: 0.6, Lead: analysis.Path,
			Reverse: trial.Fraction{OK: true, Value: 0.81, Low: 0.5, High: 1.1}}}}
	say := func() string { return Voice{}.Compensation(r, 1) }
	check(t, say(), `In "ball back" the face went 1.2° further right, which cancelled about four fifths of what the path did (at least half).`)
	r.Compensations[0].Lead = analysis.Face
	check(t, say(), `In "ball back" the path went 3.0° further right, which cancelled about half of what the face did (between two fifths and three fifths).`)
	r.Compensations[0].Opposed = false
	check(t, say(), `In "ball back" the path went 3.0° further right, which added to what the face did.`)
	r.Rows[1].Verdict = trial.Held
	check(t, say(), `In "ball back" the path held, so nothing cancelled what the face did.`)
	r.Rows[1].Verdict = trial.CannotTell
	check(t, say(), `In "ball back" the face moved; whether the path moved with it cannot be told yet.`)
	r.Rows[0].Verdict = trial.CannotTell
	check(t, say(), "")
}

func TestResponse(t *testing.T) {
	rs := []trial.Response{{Tool: analysis.StrongerGrip, Number: analysis.Face, Trials: 2, Balls: 39, Mean: -2.4 * deg, Low: -3.2 * deg, High: -1.6 * deg},
		{Tool: analysis.StrongerGrip, Number: analysis.Path, Trials: 2, Balls: 39, Mean: -1 * deg, Low: -4 * deg, High: 2 * deg},
		{Tool: analysis.AimLeft, Number: analysis.Face, Trials: 1, Balls: 6, Mean: -1 * deg, Low: -4 * deg, High: 2 * deg},
		{Tool: analysis.BallBack, Number: analysis.Path}}
	check(t, strings.Join(Voice{}.Response("7-iron", rs), "\n"),
		"7-iron. A stronger grip (2 trials, 39 balls) moves: face 2.4° further left (1.6 to 3.2°). What it does to path cannot be told yet.\n"+
			"Aiming further left (1 trial, 6 balls): what it does to face cannot be told yet.\n"+
			"Not tried yet: ball back. Of those only what the trade expects is known (common practice, no source).\n"+
			"To try one: hit it in turns with the usual setup, a few balls of each, and name the two sets.")
}

// What is told of a coach's students: coarse figures, in a right-hander's hands
// whoever reads them.
func TestPooled(t *testing.T) {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	ps := []analysis.Pooled{
		{Club: iron, Tool: analysis.StrongerGrip, Number: analysis.Face, Golfers: 7, Trials: 12, Mean: -2 * deg, Low: -3 * deg, High: -1 * deg, Between: 1.5 * deg, Within: 1 * deg, NewLow: -5 * deg, NewHigh: 1 * deg},
		{Club: iron, Tool: analysis.StrongerGrip, Number: analysis.Attack, Golfers: 7, Trials: 12, Mean: 0, Low: -1 * deg, High: 1 * deg, Between: 0.5 * deg, Within: 1 * deg, NewLow: -2 * deg, NewHigh: 2 * deg},
		{Club: iron, Tool: analysis.BallBack, Number: analysis.Path, Golfers: 5, Trials: 5, Mean: 0.5 * deg, Low: -1 * deg, High: 2 * deg, Between: 1 * deg, Within: 1 * deg, NewLow: -2.5 * deg, NewHigh: 3.5 * deg},
	}
	for _, v := range []Voice{{}, {Hand: analysis.LeftHanded}} {
		check(t, strings.Join(v.Pooled(ps), "\n"),
			"7-iron, a stronger grip (7 students, 12 trials). Face: 2° further left (1 to 3°), students differ by about 2°, trials of one differ by about 1°. Of a new student expect between 5° further left and 1° further right.\n"+
				"7-iron, the ball further back (5 students, 5 trials). Path: 1° further right (between 1° further left and 2° further right), students differ by about 1°, trials of one differ by about 1°. Of a new student expect between 3° further left and 4° further right.\n"+
				"For a left-hander left and right change sides, but for aiming. No figure is about one student: all are coarse, and change when five students have.")
	}
	lent := []trial.Response{
		{Tool: analysis.StrongerGrip, Number: analysis.Face, Golfers: 7, Mean: -2 * deg, Low: -3 * deg, High: -1 * deg},
		{Tool: analysis.BallBack, Number: analysis.Path, Golfers: 5, Mean: 0.5 * deg, Low: -1 * deg, High: 2 * deg},
	}
	check(t, Voice{}.Response("7-iron", lent)[1], "Not tried yet, but known of your coach's students: a stronger grip (face 2° further left) and the ball further back.")
}

func TestHurriedTrial(t *testing.T) {
	r := trial.Result{Sets: []trial.Side{{Label: "usual", Used: 2}, {Label: "ball back", Used: 2}},
		Rows: []trial.Row{{Set: 1, Number: analysis.Face, Difference: 1.3 * deg, Verdict: trial.CannotTell, MoreBase: 18, MoreSet: 18, Finds: 7 * deg}}}
	got := Voice{}.Trial(r)
	want := []string{
		`Baseline: "usual" (2 balls). Against it: "ball back" (2 balls).`,
		"Two balls a set prove very little: luck alone often sets two such pairs further apart than one ball is from the next. " +
			"Here less than about 7.0° of face would often not show; about 30 balls a set make a fair trial.",
		`In "ball back", cannot tell: face 1.3° further right (18 more of each would tell).`,
	}
	check(t, strings.Join(got, "\n"), strings.Join(want, "\n"))
}

func TestDriftAndTrend(t *testing.T) {
	day := time.Date(2026, time.June, 3, 0, 0, 0, 0, time.UTC)
	r := timeline.Result{Number: analysis.Path, Mean: estimate(9, 2*deg, 0.5*deg), Effect: timeline.Effect{Change: timeline.NoLesson},
		Drift: timeline.Drift{OK: true, Watch: true, Out: 4},
		Trend: timeline.Trend{OK: true, PerDay: -0.05 * deg, Low: -0.06 * deg, High: -0.04 * deg, P: 0.01}}
	for i := range 9 {
		r.Points = append(r.Points, timeline.Point{At: day.AddDate(0, 0, 3*i)})
	}
	check(t, strings.Join(Voice{}.Timeline(r), "\n"), "No lesson is marked among these sessions. Over 9 sessions the club path was 2.0° right of target (1.5 to 2.5°).\n"+
		"From the session on 15 June 2026 on, the club path has drifted outside its usual limits; something to watch, as so few sessions draw those limits only roughly.\n"+
		"Over 9 sessions the club path has moved steadily, about 1.5° further left a month.")
	r.Trend.P, r.Drift.Out = 0.2, -1
	check(t, strings.Join(Voice{}.Timeline(r), "\n"), "No lesson is marked among these sessions. Over 9 sessions the club path was 2.0° right of target (1.5 to 2.5°).")
}

// A wind that was said and a face that is off share a miss, or hold each other: both
// are said, each with its yards.
func TestWindBesideTheFace(t *testing.T) {
	r := cause.Result{
		Verdict: cause.Unmeasured, Miss: estimate(20, -21*yard, 2*yard), Face: estimate(20, -10*yard, 2*yard), Path: estimate(20, 0, 2*yard),
		Rest: estimate(20, -11*yard, yard), Wind: -11 * yard, PracticalZero: 3 * yard, Balls: make([]cause.Split, 20),
	}
	p := pattern.Pattern{Used: 20}
	check(t, Voice{}.Cause("", p, r), "The balls finished about 21 yards left, and only a part of that is the face (10 yards left): the rest, 11 yards left, is mostly the wind.")
	check(t, Voice{}.Title(p, r), "21 yards left: only in part by face or path")
	r.Face, r.Rest = estimate(20, -yard, 2*yard), estimate(20, -20*yard, yard)
	check(t, Voice{}.Cause("", p, r), "The balls finished about 21 yards left, and not by face or path: they leave 20 yards left over, which is mostly the wind.")
	r.Verdict, r.Miss, r.Face, r.Wind = cause.Centred, estimate(20, 0, yard), estimate(20, 20*yard, 2*yard), -20*yard
	check(t, Voice{}.Cause("", p, r), "Centred: the middle of the balls is on the target line. It is so in this wind: the day's wind is worth 20 yards left, the face 20 yards right.")
	r.Wind = 0
	check(t, Voice{}.Cause("", p, r), "Centred: the middle of the balls is on the target line.")
	r.Verdict, r.Miss, r.Face, r.Wind = cause.Face, estimate(20, -43*yard, yard), estimate(20, -25*yard, 2*yard), -19*yard
	r.Delivery[analysis.Face] = estimate(20, -4.8*deg, 0.2*deg)
	r.WorkBack = cause.WorkBack{OK: true, Number: analysis.Face, FaceBy: 4.8 * deg, FaceAlone: estimate(20, 4.8*deg, 0.2*deg)}
	check(t, Voice{}.Cause("", p, r), "The balls finished about 43 yards left because the face pointed 4.8° left of target; the day's wind made 19 yards of that.")
	if got := (Voice{}).WorkBack(r); !strings.HasPrefix(got, "To bring the middle back without the wind: the face about 4.8° further right") {
		t.Error(got)
	}
}
