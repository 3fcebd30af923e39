package words

import (
	"math"
	"sync"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
)

// said is one piece of text the templates produced, and what from.
type said struct {
	kind string // the method
	from string // the case, for messages
	text string
}

// voices are both hands in every unit.
var voices = []Voice{
	{}, {Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}},
	{Hand: analysis.LeftHanded, Units: analysis.Units{Speed: analysis.MetresPerSecond}}, {Hand: analysis.LeftHanded, Units: analysis.Units{Distance: analysis.Metres}},
}

// verdicts are all of package cause.
var verdicts = []cause.Verdict{cause.Centred, cause.Aim, cause.Face, cause.Path, cause.FaceAndPath, cause.Strike, cause.TooFew, cause.Unmeasured, cause.TwoPatterns}

// magnitudes are sideways values in degrees: nothing, what rounds to nothing,
// one unit, round-off neighbours, ordinary ones and absurd ones.
var magnitudes = []float64{0, 1e-12, 0.05, 0.4, 0.95, 1, 2.94, 24}

// halves are half-widths of limits in the same unit; a negative one is no
// limits at all.
var halves = []float64{-1, 0.02, 0.99, 6}

func estimate(n int, mean, half float64) analysis.Estimate {
	e := analysis.Estimate{N: n, Mean: mean}
	if half >= 0 && n >= 2 {
		e.Low, e.High, e.SD, e.OK = mean-half, mean+half, half, true
	}
	return e
}

// causes builds a result and its pattern for every verdict over many values.
// The sign runs over both, so that every case has its mirror image.
func causes(hand analysis.Hand, yield func(p pattern.Pattern, r cause.Result)) {
	for _, verdict := range verdicts {
		for _, size := range magnitudes {
			for _, half := range halves {
				for _, sign := range []float64{-1, 1} {
					for variant := 0; variant < 6; variant++ {
						yield(oneCause(hand, verdict, sign*size, half, variant))
					}
				}
			}
		}
	}
}

func oneCause(hand analysis.Hand, verdict cause.Verdict, x, half float64, variant int) (pattern.Pattern, cause.Result) {
	n := []int{20, 5, 2, 1, 60, 0}[variant]
	m := func(yards float64) float64 { return yards * yard }
	r := cause.Result{Verdict: verdict, Confidence: 0.8 + 0.02*float64(variant), Inferred: variant%2 == 1,
		PracticalZero: m(3.2), HalfWidth: m(8), FaceWorth: m(4.6) / deg, PathWorth: -m(1.8) / deg}
	// What face and path are off in each case, degrees, and the rest in yards,
	// all the way of x.
	off := map[cause.Verdict]struct{ face, path, rest float64 }{
		cause.Centred: {0.1, 0.3, 0.1}, cause.Aim: {1, 1, 0.1}, cause.Face: {1, 0.2, 0.37}, cause.Path: {0.1, -2.5, 0.2},
		cause.FaceAndPath: {0.8, -2, 0.1}, cause.Strike: {0.1, 0.1, 5}, cause.TooFew: {0.9, 0.4, 0.3},
	}[verdict]
	if variant == 2 {
		r.RefFace, r.RefPath = math.Copysign(1*deg, x), math.Copysign(2*deg, -x)
	}
	r.Face = estimate(n, m(4.6*off.face*x), m(half))
	r.Path = estimate(n, m(-1.8*off.path*x), m(half))
	r.Rest = estimate(n, m(off.rest*x), m(half))
	if variant%2 == 0 {
		r.Strike = estimate(n, 0.8*r.Rest.Mean, m(half))
	}
	r.Miss = estimate(n, r.Face.Mean+r.Path.Mean+r.Rest.Mean, m(half))
	if n > 0 {
		face, path := off.face*x*deg+r.RefFace, off.path*x*deg+r.RefPath
		r.Delivery[analysis.Face] = estimate(n, face, half*deg)
		r.Delivery[analysis.Path] = estimate(n, path, half*deg)
		r.Delivery[analysis.FaceToPath] = estimate(n, face-path, half*deg)
		r.Delivery[analysis.Attack] = estimate(n, -math.Abs(x)*deg, half*deg)
		r.Delivery[analysis.DynamicLoft] = estimate(n, (24+math.Abs(x))*deg, half*deg)
		r.Delivery[analysis.ClubSpeed] = estimate(n, 38+math.Abs(x)/10, half)
		r.Delivery[analysis.Direction] = estimate(n, x*deg*0.8, half*deg)
		if variant != 1 {
			r.Delivery[analysis.StrikeToe] = estimate(n, -x*hand.Mirror()*0.003, half*0.002)
		}
	}
	switch verdict {
	case cause.TooFew:
		r.MoreBalls = []int{6, 1, 40, 400, 0, 12}[variant]
		if r.MoreBalls == 0 {
			r.Warnings = []analysis.Warning{{Code: cause.ModelLimits}}
		}
	case cause.Unmeasured:
		r.Missing = [][]analysis.Number{{analysis.Face}, {analysis.Face, analysis.Path}, nil,
			{analysis.Face, analysis.Path, analysis.Direction}, {analysis.Lateral}, {analysis.ClubSpeed}}[variant]
		r.Face, r.Path, r.Rest = analysis.Estimate{}, analysis.Estimate{}, analysis.Estimate{}
	}
	if variant%3 != 2 {
		shares := []cause.Shares{{Face: 0.6, Path: 0.2, Strike: 0.1, Speed: 0.05, Unexplained: 0.05},
			{Face: 0.1, Path: 0.1, Unexplained: 0.8, PhysicsSlopes: true},
			{}, {Speed: 1}, {Path: 1.0 / 3, Strike: 1.0 / 3, Face: 1.0 / 3}, {}}[variant]
		r.Scatter = &shares
	}
	r.Distance = cause.Distance{Known: variant != 3, Verdict: []cause.DistanceVerdict{cause.DistanceCentred, cause.DistanceSpeed,
		cause.DistanceStrike, cause.DistanceLoft, cause.DistanceSpin, cause.DistanceClub, cause.DistanceTooFew, cause.DistanceAir, cause.DistanceTwo, cause.DistanceUnknown}[(variant+int(math.Abs(x)*10))%10],
		Miss: estimate(n, m(-2*math.Abs(x)), m(half)), Speed: analysis.Estimate{Mean: m(-1.5 * math.Abs(x))}, Strike: analysis.Estimate{Mean: m(-0.5 * math.Abs(x))}, Loft: analysis.Estimate{Mean: m(math.Abs(x))}, Spin: analysis.Estimate{Mean: m(-math.Abs(x))}, Said: cause.Said{Wind: m(-math.Abs(x)), Ball: m(-0.5 * math.Abs(x))}, Spoken: variant == 2, Against: variant}
	r.Corridor = cause.Corridor{OK: variant != 5, Edges: []cause.CorridorEdge{
		{Path: -10 * deg, FaceLow: -6 * deg, FaceHigh: -2 * deg}, {Path: 10 * deg, FaceLow: 2 * deg, FaceHigh: 6 * deg}}}
	off.face, off.path = off.face*x*deg, off.path*x*deg
	r.WorkBack = cause.WorkBack{OK: variant != 5, FaceBy: -off.face * 0.7, PathBy: -off.path * 0.7,
		FaceAlone: estimate(n, -r.Miss.Mean/r.FaceWorth, half*deg), PathAlone: estimate(n, -r.Miss.Mean/r.PathWorth, half*deg),
		Number: []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath}[variant%3],
		Tool: []analysis.Tool{analysis.WeakerGrip, analysis.StrongerGrip, analysis.BallForward, analysis.BallBack, analysis.HandleForward, "",
			analysis.HandleBack}[(variant+int(math.Abs(x)))%7]}
	if verdict == cause.Aim {
		r.WorkBack.Tool = analysis.AimLeft
		if x < 0 {
			r.WorkBack.Tool = analysis.AimRight
		}
	}

	p := pattern.Pattern{Balls: n + 1, Used: n, Lateral: r.Miss, Carry: estimate(n, m(150+math.Abs(x)), m(half)),
		Width80: m(10 + 3*math.Abs(x)), Width80OK: n >= 5}
	if n == 0 {
		r.Miss, p.Lateral, p.Carry = analysis.Estimate{}, analysis.Estimate{}, analysis.Estimate{}
	}
	if verdict == cause.TwoPatterns {
		p.Parts, r.Parts = twoParts(hand, x, half, variant)
		p.Warnings = append(p.Warnings, analysis.Warning{Code: pattern.TwoPatterns, Count: 12,
			Number: []analysis.Number{analysis.Path, analysis.ClubSpeed, analysis.Lateral}[variant%3]})
	}
	p.Mishits = []int{n + 1}
	p.WithMishits.Lateral = estimate(n+1, p.Lateral.Mean+m(x/2), m(half))
	return p, r
}

// twoParts are the two patterns of a set, hit in a row or in turns.
func twoParts(hand analysis.Hand, x, half float64, variant int) (parts []pattern.Part, results []cause.Result) {
	for i, verdict := range []cause.Verdict{verdicts[variant], verdicts[7-variant]} {
		p, r := oneCause(hand, verdict, x*float64(1-2*i), half, variant)
		part := pattern.Part{Pattern: p}
		for k := range max(p.Used, 4) {
			n := 100*i + k + 1
			if variant == 4 {
				n = 2*k + i
			}
			part.Shots = append(part.Shots, analysis.Shot{N: n})
		}
		parts, results = append(parts, part), append(results, r)
	}
	return parts, results
}

// labels are what golfers call their sets; the last ones are theories about a
// body position, and attempts on the chat.
var labels = []string{"", "normal", "strong grip", "ball back", "back elbow flies", "quiet wrists, early hips",
	`@everyone "look" <@123> [x](https://x.example)`, "*bold* _label_ with a name that goes on and on and on for ever and ever"}

// shotsOf are n+1 shots of which some are set aside.
func shotsOf(n int) []analysis.Shot {
	var shots []analysis.Shot
	for i := 1; i <= n+1; i++ {
		s := analysis.Shot{N: i}.With(analysis.Lateral, 3).With(analysis.Carry, 140).With(analysis.Path, 0.01).WithInferred(analysis.Face, 0.02)
		switch {
		case i%11 == 3:
			s.Aside = analysis.Impossible
		case i%13 == 4:
			s.Aside = analysis.Inconsistent
		case i%17 == 5:
			s.Aside = analysis.Duplicate
		case i%7 == 6:
			s.Aside, s.Why = analysis.Mishit, []string{"top: ", "thin: ", "duff: ", "shank: ", "fell short"}[i%5]
		}
		shots = append(shots, s)
	}
	return shots
}

// trials builds trials over sizes, verdicts, values and compensations.
func trials(yield func(r trial.Result)) {
	all := []trial.Verdict{trial.Moved, trial.MovedLittle, trial.Held, trial.CannotTell}
	for i, used := range []int{1, 2, 3, 5, 12, 16, 17, 40} {
		for j, x := range []float64{-9.3, -3.1, -0.96, -0.02, 0, 0.04, 0.5, 1, 2.94, 12} {
			for k, half := range []float64{0.02, 0.6, 1.2, 8} {
				r := trial.Result{Sets: []trial.Side{{Label: "normal", Balls: used, Used: used}}}
				for set := 1; set <= 1+(i+j)%3; set++ {
					r.Sets = append(r.Sets, trial.Side{Label: labels[(i+j+k+set)%len(labels)], Balls: used + 1, Used: used})
					for q, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft,
						analysis.ClubSpeed, analysis.Lateral, analysis.Carry, analysis.FaceToPath} {
						scale := n.JSONScale()
						more := []int{0, 1, 12, 140}[(i+q+k)%4]
						verdict := all[(i+j+k+q*3)%4]
						if q < 2 && k < 2 { // face and path of a compensation
							verdict = []trial.Verdict{trial.Moved, trial.Moved, trial.MovedLittle, trial.Held}[(i+j*q)%4]
						}
						if math.Abs(x) <= half && (verdict == trial.Moved || verdict == trial.MovedLittle) {
							verdict = trial.CannotTell // its limits would hold zero
						}
						row := trial.Row{Set: set, Number: n, Difference: x * scale, Low: (x - half) * scale, High: (x + half) * scale,
							OK: used > 1, Verdict: verdict, MoreSet: more, Inferred: q == i%9, Finds: float64(j%3) * half * scale}
						if q%2 == 0 {
							row.MoreBase = more
						} else if q%3 == 0 {
							row.MoreBase = more + 2
						}
						r.Rows = append(r.Rows, row)
					}
					r.Compensations = append(r.Compensations, trial.Compensation{Set: set, FaceM: x, PathM: -x * 0.8,
						Opposed: k != 3, OK: j%4 != 3, Cancelled: 0.1 * float64(i+j), Low: 0.1*float64(i+j) - half/3, High: 0.1*float64(i+j) + half/3,
						Lead: []analysis.Number{analysis.Face, analysis.Path}[i%2], Reverse: trial.Fraction{OK: true, Value: 0.05 * float64(i), Low: -0.1, High: 0.3}})
				}
				yield(r)
			}
		}
	}
}

// timelines builds timelines over numbers, changes and values.
func timelines(yield func(r timeline.Result)) {
	day := time.Date(2026, time.June, 3, 17, 0, 0, 0, time.UTC)
	for _, n := range analysis.Numbers() {
		scale := n.JSONScale()
		base := 0.0
		if _, sided := n.Sides(analysis.RightHanded); !sided {
			base = 25 // a number without sides is never negative
		}
		for i, change := range []timeline.Change{timeline.NoLesson, timeline.TooEarly, timeline.Changed, timeline.NotYet} {
			for j, x := range []float64{-9.3, -1, -0.02, 0, 0.4, 2.94} {
				for k, half := range []float64{0.02, 0.6, 4} {
					r := timeline.Result{Number: n, Club: analysis.Club{Family: analysis.Iron, Number: 7}}
					for s := 0; s < (i+j+k)%5; s++ {
						r.Points = append(r.Points, timeline.Point{At: day.AddDate(0, 0, s), Mean: estimate(12, (base+x+float64(s))*scale, half*scale)})
					}
					r.Mean = estimate(len(r.Points), (base+x)*scale, half*scale)
					if change != timeline.NoLesson {
						r.Lessons = []analysis.Lesson{{At: day.AddDate(0, 0, 1), Note: "elbow again"}}
					}
					r.Effect = timeline.Effect{Change: change, Lesson: analysis.Lesson{At: day}, Before: 1 + j, After: 1 + k,
						MeanBefore: (base + x + 1) * scale, MeanAfter: (base + 2*x + 1) * scale, Difference: x * scale,
						Low: (x - half) * scale, High: (x + half) * scale, WorstBefore: k == 1,
						Together: 1 + (j+k)%3, Next: 6 * (k % 2), Improving: j == 3, Credited: j%2 == 0, Left: x * scale / 4,
						Shape: []timeline.Shape{"", timeline.Sudden, timeline.Gradual, timeline.Fading}[(j+k)%4]}
					if change == timeline.Changed {
						r.Effect.Lasts = []timeline.Lasting{timeline.Stays, timeline.Stays, timeline.Stays, timeline.Fades, timeline.Gone}[(j+k)%5]
					}
					r.Effects = []timeline.Effect{r.Effect}
					r.Drift = timeline.Drift{OK: true, Watch: j%2 == 0, Out: k - 1}
					r.Trend = timeline.Trend{OK: j > 2, PerDay: x * scale / 30, Low: (x - half) * scale / 30, High: (x + half) * scale / 30, P: 0.01}
					yield(r)
				}
			}
		}
	}
}

// briefs builds briefs kept, over numbers and limits open on either side.
func briefs(yield func(k timeline.Kept)) {
	for _, n := range analysis.Numbers() {
		scale := n.JSONScale()
		for i, lim := range [][2]float64{{-1, 1}, {-2.5, -0.5}, {0.5, 2.5}, {0, 3}, {-3, 0}, {1.25, 92.5}} {
			low, high := lim[0]*scale, lim[1]*scale
			if _, sided := n.Sides(analysis.RightHanded); !sided {
				low, high = low+25*scale, high+25*scale
			}
			b := analysis.Brief{Number: n, Low: &low, High: &high}
			switch i % 3 {
			case 1:
				b.Club = analysis.Club{Family: analysis.Driver}
				b.Low = nil
			case 2:
				b.High = nil
			}
			yield(timeline.Kept{Brief: b, Inside: 14, Of: 20, Share: 0.7, ShareLow: 0.481, ShareHigh: 0.855})
			yield(timeline.Kept{Brief: b})
			b.Low, b.High = &low, &high
			yield(timeline.Kept{Brief: b, Inside: 1, Of: 1, Share: 1, ShareLow: 0.207, ShareHigh: 1})
		}
	}
}

// responses are what tools do, from nothing known to everything.
func responses(yield func(rs []trial.Response)) {
	for _, x := range []float64{-6, -0.3, 0.02, 1.4, 9} {
		for _, half := range []float64{0.2, 1.1, 12} {
			for tried := 0; tried <= 3; tried++ {
				var rs []trial.Response
				for i, tool := range analysis.Tools() {
					for _, n := range []analysis.Number{analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft} {
						scale := n.JSONScale()
						r := trial.Response{Tool: tool, Number: n, Mean: x * scale, Low: (x - half) * scale, High: (x + half) * scale}
						r.Golfers = i % 2 * 6
						if i < tried {
							r.Trials, r.Balls = tried, 12*tried
						}
						rs = append(rs, r)
					}
				}
				yield(rs)
			}
		}
	}
}

// pooled is what tools do to students together.
func pooled(yield func(ps []analysis.Pooled)) {
	for _, x := range []float64{-6, 0, 1.5} {
		for _, half := range []float64{0.5, 12} {
			var ps []analysis.Pooled
			for _, tool := range analysis.Tools() {
				for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack, analysis.DynamicLoft, analysis.ClubSpeed} {
					s := n.JSONScale()
					ps = append(ps, analysis.Pooled{Club: analysis.Club{Family: analysis.Iron, Number: 7}, Tool: tool, Number: n, Golfers: 5, Trials: 11,
						Mean: x * s, Low: (x - half) * s, High: (x + half) * s, Between: half / 2 * s, NewLow: (x - 2*half) * s, NewHigh: (x + 2*half) * s})
				}
			}
			yield(ps)
		}
	}
}

// corpus is every sentence the templates produce over all of these.
var corpus = sync.OnceValue(everything)

func everything() []said {
	var all []said
	seen := map[[2]string]bool{}
	add := func(kind, from string, texts ...string) {
		for _, t := range texts {
			if t != "" && !seen[[2]string{kind, t}] {
				seen[[2]string{kind, t}] = true
				all = append(all, said{kind, from, t})
			}
		}
	}
	for _, v := range voices {
		i := 0
		causes(v.Hand, func(p pattern.Pattern, r cause.Result) {
			from := string(r.Verdict)
			i++
			name := ""
			if i%3 == 0 {
				name = v.SetName(analysis.Club{Family: analysis.Iron, Number: 7}, labels[i/3%len(labels)])
			}
			add("Cause", from, v.Cause(name, p, r))
			add("Title", from, v.Title(p, r))
			add("AltPost", from, v.AltPost(name, p, r))
			add("Each", from, v.Each(p, r)...)
			add("Split", from, v.Split(r))
			add("WorkBack", from, v.WorkBack(r))
			add("NeedsTitle", from, v.Needs(r))
			add("Carry", from+"/"+string(r.Distance.Verdict), v.Carry(r))
			add("LoneTarget", from, v.LoneTarget(150, []analysis.Club{{Family: analysis.Iron, Number: 7}, {Family: analysis.Driver}}[:len(from)%3]))
			add("SetAside", from, v.SetAside(shotsOf(p.Used), p))
			if i%7 == 0 {
				add("Explain", from, v.Explain(shotsOf(p.Used), p, r)...)
			}
		})
		trials(func(r trial.Result) {
			add("Trial", "trial", v.Trial(r)...)
			add("TrialTitle", "trial", v.TrialTitle(r))
			add("AltTrial", "trial", v.AltTrial(r))
		})
		timelines(func(r timeline.Result) {
			add("Timeline", string(r.Effect.Change), v.Timeline(r)...)
			add("TimelineTitle", string(r.Effect.Change), v.TimelineTitle(r))
			if r.Effect.Change == timeline.Changed {
				add("Found", "lesson", Sentence(v.Taught(r))+".")
			}
			add("AltTimeline", string(r.Effect.Change), v.AltTimeline(r))
		})
		setGists(func(s analysis.SetGist) {
			add("Found", s.Verdict, Sentence(v.Found(s))+".", Sentence(v.Found(s)+", "+v.Again(3, &s))+".")
		})
		trialGists(func(t analysis.TrialGist) { add("TrialFound", "trial", Sentence(v.TrialFound(t))+".") })
		responses(func(rs []trial.Response) { add("Response", "response", v.Response("7-iron", rs)...) })
		pooled(func(ps []analysis.Pooled) { add("Pooled", "response", v.Pooled(ps)...) })
		briefs(func(k timeline.Kept) { add("Brief", k.Brief.Number.String(), v.Brief(k)) })
		for code := range caveats {
			for _, n := range []int{0, 1, 2, 17} {
				add("Caveats", code, v.Caveats([]analysis.Warning{{Code: code, Count: n, Number: analysis.Face}})...)
			}
		}
	}
	for _, swings := range []int{20, 100, 101, 1240} {
		add("Cautions", "", Cautions(swings, false)...)
		add("Cautions", "", Cautions(swings, true)...)
	}
	return all
}
