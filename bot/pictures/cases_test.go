package pictures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/plan"
	"rangepost/analysis/season"
	"rangepost/analysis/tally"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// posts are the cases a post picture has to stand up to.
func posts() map[string]PostInput {
	face := made{balls: 24, face: -2.9, path: -.8, sdFace: 1.3, sdPath: 1.5, rest: .6, spread: 3, carry: 140, seed: 1}
	all := map[string]PostInput{"face": invent(face)}

	few := face
	few.balls, few.seed = 5, 4
	all["five"] = invent(few)

	many := face
	many.balls, many.path, many.seed = 200, 3.5, 2
	many.face = 1
	in := invent(many)
	in.Title = "8 yards left: path 3.5° in-to-out"
	in.Cause.Verdict = cause.Path
	all["many"] = in

	spot := made{balls: 12, face: -1, path: 1, carry: 150, seed: 3}
	in = invent(spot)
	for i, s := range in.Set.Shots {
		in.Set.Shots[i] = s.With(analysis.Carry, 147)
	}
	in.Pattern = pattern.Of(in.Set)
	in.Title = "6 yards left: face 1.0° closed"
	all["spot"] = in

	wild := face
	wild.seed = 9
	in = invent(wild)
	in.Set.Shots[3] = in.Set.Shots[3].With(analysis.Lateral, 55).With(analysis.Carry, 70)
	in.Set.Shots[3].Aside = analysis.Mishit
	in.Set.Shots[8] = in.Set.Shots[8].With(analysis.Lateral, -17).With(analysis.Carry, 128)
	in.Set.Shots[8].Aside = analysis.Mishit
	in.Pattern = pattern.Of(in.Set)
	in.Cause.Balls = slices.Delete(in.Cause.Balls, 3, 4)
	in.Cause.Balls[5].Face = .35
	low, high := -1*analysis.Degree, 1*analysis.Degree
	in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: analysis.Face, Low: &low, High: &high}, Inside: 6, Of: 22}
	all["wild"] = in

	all["strays"] = strayed(67)
	in = invent(face) // two leave the panel near one corner
	in.Set.Shots[3] = in.Set.Shots[3].With(analysis.Lateral, 27.17).With(analysis.Carry, 80.27)
	in.Set.Shots[4] = in.Set.Shots[4].With(analysis.Lateral, -4.65).With(analysis.Carry, 40.18)
	in.Pattern = pattern.Of(in.Set)
	all["two strays"] = in

	left := face
	left.hand, left.face, left.path, left.seed = analysis.LeftHanded, 3.1, 1.5, 5
	in = invent(left)
	in.Title = "11 metres right: face 3.1° closed"
	in.Who, in.Voice.Units.Distance = "Odell", analysis.Metres
	in.Set.Label = "強い grip"
	in.Cause.Inferred = true
	low2 := 1 * analysis.Degree
	in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: analysis.FaceToPath, Low: &low2, High: ptr(3 * analysis.Degree)}, Inside: 9, Of: 24}
	all["left"] = in

	one := face
	one.balls = 1
	in = invent(one)
	in.Title, in.Cause.Verdict = "Too few balls to tell: 12 more would do", cause.TooFew
	all["one"] = in

	two := face
	two.balls = 2
	in = invent(two)
	in.Title, in.Cause.Verdict = "Too few balls to tell: 11 more would do", cause.TooFew
	all["two"] = in

	all["empty"] = PostInput{Title: "No ball that could be used", Cause: cause.Result{Verdict: cause.Unmeasured}}

	in = invent(face)
	in.Title = "11 yards left: cause not measured"
	in.Target = 0
	in.Cause = cause.Result{Verdict: cause.Unmeasured, Miss: in.Cause.Miss, Missing: []analysis.Number{analysis.Face, analysis.Path}}
	all["unmeasured"] = in

	comp := made{balls: 30, face: 3, path: 7.5, sdFace: 1, sdPath: 1.2, rest: .2, spread: 2.5, carry: 150, seed: 11}
	in = invent(comp)
	in.Title, in.Cause.Verdict = "Centred: 1 yard right of target", cause.Centred
	low3 := 2 * analysis.Degree
	in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: analysis.Path, High: &low3}, Inside: 0, Of: 30}
	all["compensated"] = in

	in = invent(face)
	in.Set.Shots[0] = in.Set.Shots[0].With(analysis.Carry, math.NaN()).WithInferred(analysis.Carry, 139)
	in.Pattern = pattern.Of(in.Set)
	in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: analysis.Attack, Low: ptr(-.05)}, Inside: 3, Of: 24}
	all["flown"] = in

	in = invent(face)
	for i, s := range in.Set.Shots {
		in.Set.Shots[i] = s.With(analysis.Carry, math.NaN())
	}
	in.Pattern = pattern.Of(in.Set)
	all["sideways"] = in

	in = invent(face)
	in.Title = "A title that somebody made far too long for the two lines there are to hold it, and which therefore has to become smaller and in the end be cut"
	in.Who, in.Set.Label = "Somebody with quite a long name for a student", "a label of the longest kind that fits nowhere"
	all["long"] = in
	return all
}

func ptr(v float64) *float64 { return &v }

// trials are the cases a trial has to stand up to.
func trials() map[string]TrialInput {
	set := func(label string, n int, face, path float64, seed uint64) analysis.Set {
		rng := rand.New(rand.NewPCG(seed, 5))
		s := analysis.Set{Club: analysis.Club{Family: analysis.Iron, Number: 7}, Label: label}
		for i := range n {
			f, p := face+1.1*rng.NormFloat64(), path+1.2*rng.NormFloat64()
			shot := analysis.Shot{N: i + 1, Club: s.Club, Label: label}
			for n, v := range map[analysis.Number]float64{
				analysis.Face: f * analysis.Degree, analysis.Path: p * analysis.Degree,
				analysis.Attack: (-4 + .3*path + rng.NormFloat64()) * analysis.Degree, analysis.DynamicLoft: (24 + 1.2*rng.NormFloat64()) * analysis.Degree,
				analysis.ClubSpeed: 38 + .6*rng.NormFloat64(), analysis.Lateral: faceWorth*f + pathWorth*p + 2*rng.NormFloat64(),
				analysis.Carry: 140 + 4*rng.NormFloat64(),
			} {
				shot = shot.With(n, v)
			}
			s.Shots = append(s.Shots, shot)
		}
		return s
	}
	of := func(sets ...analysis.Set) trial.Result {
		r, err := trial.Of(sets, 0, trial.Config{FaceWorth: faceWorth / analysis.Degree, PathWorth: pathWorth / analysis.Degree, Seed: 1})
		if err != nil {
			panic(err)
		}
		return r
	}
	all := map[string]TrialInput{}
	one := of(set("normal", 20, 1, 0, 1), set("strong grip", 20, -1.6, -4.2, 2))
	all["one"] = TrialInput{Voice: words.Voice{}, Title: words.Voice{Plain: true}.TrialTitle(one), Who: "Tamsin", Result: one}
	three := of(set("normal", 14, 1, 0, 1), set("strong grip", 15, -2.4, -4.6, 2), set("ball back", 6, 1, 2.5, 3), set("handle forward of the usual place", 12, 1, 0, 4))
	all["three"] = TrialInput{Title: words.Voice{Plain: true}.TrialTitle(three), Who: "Priya", Result: three}
	var nine []analysis.Set
	for i := range 10 {
		nine = append(nine, set(fmt.Sprintf("set %d", i), 4, 1-.5*float64(i), float64(i%3), uint64(i)))
	}
	r := of(nine...)
	all["nine"] = TrialInput{Title: words.Voice{Plain: true}.TrialTitle(r), Who: "Priya", Result: r}
	two := of(set("", 2, 1, 0, 1), set("強い", 2, -2.4, -4.6, 2))
	all["two"] = TrialInput{Voice: words.Voice{Hand: analysis.LeftHanded, Units: analysis.Units{Distance: analysis.Metres}}, Title: words.Voice{Plain: true}.TrialTitle(two), Result: two}
	all["empty"] = TrialInput{Title: "Nothing to compare"}
	return all
}

// timelines are the cases a timeline has to stand up to.
func timelines() map[string]TimelineInput {
	start := time.Date(2026, 3, 2, 17, 30, 0, 0, time.UTC)
	series := func(n analysis.Number, days []int, before, after, sd float64, lessonAt int, seed uint64) timeline.Result {
		rng := rand.New(rand.NewPCG(seed, 3))
		r := timeline.Result{Number: n, Club: analysis.Club{Family: analysis.Iron, Number: 7}}
		var b, a, all []float64
		for _, d := range days {
			mean := before
			if lessonAt > 0 && d > lessonAt {
				mean = after
			}
			var balls []float64
			session := sd * rng.NormFloat64()
			for range 12 + rng.IntN(20) {
				balls = append(balls, mean+session+2.5*sd*rng.NormFloat64())
			}
			e := estimate(balls)
			r.Points = append(r.Points, timeline.Point{At: start.AddDate(0, 0, d), Mean: e})
			if lessonAt > 0 && d > lessonAt {
				a = append(a, e.Mean)
			} else {
				b = append(b, e.Mean)
			}
			all = append(all, e.Mean)
		}
		r.Mean = estimate(all)
		if lessonAt > 0 {
			r.Lessons = []analysis.Lesson{{At: start.AddDate(0, 0, lessonAt), Note: "weaker grip, same aim"}}
			r.Effect = timeline.Effect{Change: timeline.Changed, Lesson: r.Lessons[0], Before: len(b), After: len(a), MeanBefore: estimate(b).Mean, MeanAfter: estimate(a).Mean}
		}
		return r
	}
	days := []int{0, 3, 9, 12, 16, 21, 24, 30, 37, 41}
	deg := analysis.Degree
	all := map[string]TimelineInput{}
	in := TimelineInput{Title: "Face angle: 2.6° further right since the lesson", Who: "Wren", Numbers: []timeline.Result{series(analysis.Face, days, -3.2*deg, -.6*deg, .5*deg, 18, 1)}}
	in.Briefs = []analysis.Brief{{Number: analysis.Face, Low: ptr(-1 * deg), High: ptr(1 * deg)}}
	in.Numbers[0].Points[4].Inferred = true
	all["one"] = in

	in.Title = "Face angle: 2.6° further right since the lesson"
	in.Numbers = append(slices.Clone(in.Numbers), series(analysis.Path, days, 1*deg, 1.4*deg, .6*deg, 18, 2), series(analysis.Carry, days, 138, 141, 1.5, 18, 3))
	in.Numbers[1].Effect.Change = timeline.NotYet
	all["three"] = in

	in.Numbers = append(slices.Clone(in.Numbers), series(analysis.Attack, days, -3*deg, -3*deg, .4*deg, 18, 4))
	all["four"] = in

	long := series(analysis.FaceToPath, []int{0, 10, 22, 40, 45, 60, 75, 91, 100, 120, 131, 150, 166, 180, 199, 220, 230, 250, 270, 290, 310, 330, 350, 380}, 2*deg, .5*deg, .5*deg, 170, 6)
	long.Lessons = append(long.Lessons, analysis.Lesson{At: start.AddDate(0, 0, 40), Note: "ball position back to the middle of the stance"}, analysis.Lesson{At: start.AddDate(0, 0, 60)}, analysis.Lesson{At: start.AddDate(0, 0, 175), Note: "again"}, analysis.Lesson{At: start.AddDate(0, 0, 178), Note: "and again"})
	z, sd := 2*deg, .3*deg
	for i := range long.Points {
		z = .7*z + .3*long.Points[i].Mean.Mean
		long.Drift.EWMA = append(long.Drift.EWMA, z)
		long.Drift.Low = append(long.Drift.Low, 2*deg-sd*3*.6)
		long.Drift.High = append(long.Drift.High, 2*deg+sd*3*.6)
	}
	long.Drift.OK, long.Drift.Out = true, 15
	long.Points[7].Mean.Mean, long.Points[7].Mean.Low, long.Points[7].Mean.High = 30*deg, 28*deg, 32*deg
	all["long"] = TimelineInput{Voice: words.Voice{Hand: analysis.LeftHanded}, Title: "Face-to-path: 1.5° more closed since the lesson", Who: "Odell", Numbers: []timeline.Result{long}}

	apart := TimelineInput{Title: "Face angle: no change to be told yet", Who: "Wren", Numbers: slices.Clone(all["three"].Numbers), Briefs: in.Briefs}
	for i, n := range []analysis.Number{analysis.Face, analysis.Path} {
		strong := series(n, []int{21, 24, 30}, -5*deg, -5*deg, .4*deg, 0, 21+uint64(i)).Points
		apart.Numbers[i].Setups = []timeline.Setup{{Label: "strong grip", Points: strong}, {Label: "a label of the longest kind that fits nowhere at all, or nearly", Points: strong[1:2]}}
	}
	for i := range 5 {
		apart.Numbers[1].Setups = append(apart.Numbers[1].Setups, timeline.Setup{Label: fmt.Sprintf("the setup number %d", i), Points: series(analysis.Path, []int{33 + i}, 3*deg, 3*deg, .4*deg, 0, uint64(i)).Points})
	}
	all["setups"] = apart
	alone := apart
	alone.Numbers = slices.Clone(apart.Numbers[:1])
	alone.Numbers[0].Setups = alone.Numbers[0].Setups[:1]
	all["setup"] = alone

	planned := all["one"]
	planned.Plans = []SettledPlan{{At: start.AddDate(0, 0, 5), Sets: []string{"stronger grip"}}, {At: start.AddDate(0, 0, 33), Sets: []string{"ball forward", "a setup with a name that is long"}}}
	all["plans"] = planned

	single := series(analysis.ClubSpeed, []int{0}, 41, 41, .5, 0, 7)
	single.Points[0].Mean.OK = false
	all["single"] = TimelineInput{Title: "Club speed over 1 session", Who: "Priya", Numbers: []timeline.Result{single}}
	all["empty"] = TimelineInput{Title: "Face angle: not measured yet", Numbers: []timeline.Result{{Number: analysis.Face}}}
	return all
}

// bars are the cases ordered bars have to stand up to.
func bars() map[string]BarsInput {
	standings := BarsInput{Title: "Tamsin leads; Wren and Priya cannot be told apart", Below: "Nearest at 140 yards · 10 balls each, all counted", Axis: "yards from the target, on average",
		Rows: []Bar{
			{Name: "Tamsin", Value: 6.1, Low: 4.9, High: 7.4, OK: true, Says: "6 (4 to 8)"},
			{Name: "Wren", Value: 9.4, Low: 7.0, High: 11.8, OK: true, Says: "9 (7 to 12)", Tie: 1},
			{Name: "Priya", Value: 10.2, Low: 7.9, High: 12.4, OK: true, Says: "10 (7 to 13)", Tie: 1},
			{Name: "Odell with a long second name", Value: 14, Low: 11, High: 40, OK: true, Says: "14 (11 to 40)"},
			{Name: "強い", Value: 15, Low: 15, High: 15, Says: "15, one ball"},
		}}
	many := BarsInput{Title: "Twelve kept their brief", Axis: "share inside the limits, %"}
	for i := range 34 {
		v := 95 - 2.6*float64(i)
		many.Rows = append(many.Rows, Bar{Name: fmt.Sprintf("Student %d", i+1), Value: v, Low: v - 12, High: min(100, v+12), OK: true, Says: fmt.Sprintf("%.0f %%", v), Tie: i / 4})
	}
	one := standings
	one.Rows = one.Rows[:1]
	wide := standings
	wide.Rows = slices.Clone(standings.Rows)
	wide.Rows[1].Name, wide.Rows[2].Name, wide.Rows[3].Name = "12. "+strings.Repeat("W", 32), "3. "+strings.Repeat("強", 32), "4. Somebody of quite a long name"
	roster := BarsInput{Title: "1 brief missed", Below: "Balls inside the brief's limits since it was set", Axis: "% of balls inside", Share: true,
		Rows: []Bar{
			{Name: "Wren", Value: 17.5, Low: 8.7, High: 32, OK: true, Says: "7 of 40, missed"},
			{Name: "Odell", Value: math.NaN(), Says: "no brief"},
			{Name: "Tamsin", Value: math.NaN(), Says: "no ball yet"},
			{Name: "Priya", Value: 100, Low: 84, High: 100, OK: true, Says: "20 of 20 so far"},
		}}
	return map[string]BarsInput{"standings": standings, "many": many, "one": one, "wide": wide, "roster": roster, "empty": {Title: "Nobody has entered yet"}}
}

// tallies are the cases a tally has to stand up to.
func tallies() map[string]TallyInput {
	of := func(v words.Voice, below string, counts ...int) TallyInput {
		return TallyInput{Voice: v, Title: v.TallyTitle(tally.Of(counts)), Below: below, Counts: counts}
	}
	return map[string]TallyInput{
		"usual": of(words.Voice{}, "Wren · 7-iron · 12 June 2026", 1, 0, 2, 0, 3, 4, 0, 1, 9),
		"lefty": of(words.Voice{Hand: analysis.LeftHanded}, "Somebody with quite a long name for a student, as names go here · gap wedge · 12 June 2026", 500, 500, 500, 500, 500, 500, 500, 500, 499),
		"few":   of(words.Voice{}, "12 June 2026", 0, 0, 0, 0, 0, 2),
		"empty": of(words.Voice{}, ""),
	}
}

// certificates are the cases a certificate has to stand up to.
func certificates() map[string]CertificateInput {
	one := CertificateInput{
		Challenge: "Straightest seven", Winners: []string{"Priya"}, Score: "14.6 yards wide (9.5 to 22.3)",
		Rule: "Narrow: over the first 10 balls with the 7-iron, mishits and all, range balls only, the width that holds 80 % of them. The narrowest wins, wherever it points.",
		Over: "Of 12 entries, 14 June 2026",
	}
	all := map[string]CertificateInput{"one": one}
	ofClub := one
	ofClub.Club = "Saltmarsh Links"
	all["of a club"] = ofClub
	long := one
	long.Club = strings.Repeat("The Links of Saltmarsh ", 4)
	long.Challenge = strings.Repeat("Saltmarsh ", 6)
	long.Winners = []string{strings.Repeat("W", 40)}
	long.Rule = strings.Repeat(one.Rule+" ", 3)
	all["long"] = long
	for n, name := range []string{"two", "three", "four", "many"} {
		shared := one
		shared.Winners = []string{"Wren", "Tamsin", "Odell", "Priya", "Coach", "Steward"}[:n+2]
		all[name] = shared
	}
	return all
}

// seasonTables are the cases a season's table has to stand up to.
func seasonTables() map[string]SeasonInput {
	of := func(members, challenges, best int, name func(int) string) SeasonInput {
		rng := rand.New(rand.NewPCG(uint64(members), uint64(challenges)))
		var points [][]int
		for range members {
			var p []int
			for range challenges {
				one := season.Missed
				if rng.Float64() < .75 {
					one = int(math.Round(100 * math.Pow(rng.Float64(), 3)))
				}
				p = append(p, one)
			}
			points = append(points, p)
		}
		in := SeasonInput{Below: "Summer 2026 · handicap over 12 to 24"}
		for i := range challenges {
			in.Columns = append(in.Columns, time.Date(2026, time.May, 4+7*i, 0, 0, 0, 0, time.UTC).Format("2 Jan"))
		}
		rows := season.Table(points, best)
		for _, r := range rows {
			in.Rows = append(in.Rows, SeasonRow{r, name(r.Who)})
		}
		if len(in.Rows) > 0 {
			in.Title = words.SeasonTitle(rows, in.Rows[0].Name, false)
		}
		return in
	}
	names := func(i int) string {
		return []string{"Wren", "Tamsin", "Odell", "Priya", "A junior", "A former member"}[i%6]
	}
	all := map[string]SeasonInput{
		"usual":    of(12, 8, 5, names),
		"big":      of(60, 24, 12, names),
		"one":      of(3, 1, 0, names),
		"empty":    {Title: "Nobody has points", Below: "Summer 2026"},
		"longname": of(4, 12, 6, func(int) string { return strings.Repeat("W", 40) }),
	}
	hundreds := of(3, 12, 0, names)
	for i := range hundreds.Rows {
		for k := range hundreds.Rows[i].Points {
			hundreds.Rows[i].Points[k] = 100
		}
		hundreds.Rows[i].Total = 100
	}
	all["hundreds"] = hundreds
	return all
}

// plans are the cases a plan's card has to stand up to.
func plans() map[string]PlanInput {
	lay := func(labels []string, visits, blocks, balls int) plan.Plan {
		p := plan.Plan{Labels: labels}
		for v := range visits {
			for b := range blocks {
				for s := range labels {
					p.Turns = append(p.Turns, plan.Turn{Set: (s + b) % len(labels), Balls: balls, Block: v*blocks + b, Visit: v})
				}
			}
		}
		return p
	}
	two := PlanInput{Title: "The face, as usual against “stronger grip”", Below: "7-iron · 48 balls of each", Card: lay([]string{"as usual", "stronger grip"}, 2, 4, 6)}
	begun := two
	begun.Title, begun.Next = "Turn 5 of 16 is hit", 5
	over := two
	over.Next = 16
	three := two
	three.Card = lay([]string{"as usual", strings.Repeat("W", 90), "強い grip"}, 5, 4, 5)
	return map[string]PlanInput{"two": two, "begun": begun, "over": over, "three": three}
}
