package cause

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/impact"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// Codes of the warnings a cause carries.
const (
	NotSplit      = "not_split"      // Count used balls lack a number the split needs
	Unexplained   = "unexplained"    // most of the miss is in neither face, path nor strike; Number is the strike where nothing shows it
	ModelLimits   = "model_limits"   // more balls would not settle it: the model's own doubt is too wide
	RangeBalls    = "range_balls"    // distances are of range balls
	PresumedLoft  = "presumed_loft"  // Count balls without a measured dynamic loft; Number is what stands in: the launch, or the club's usual loft
	PresumedSpeed = "presumed_speed" // Count balls whose speed is what their carry asks for
)

// Of says whose the sideways miss of a set is, and what would put it right.
// Mishits are flagged already (pattern.Mishits) and p is the set's pattern.
func Of(set analysis.Set, p pattern.Pattern, c Config) Result {
	set, worked := fill(set, c)
	return of(set, worked, p, c)
}

// Judge is all that is said of a set as it was read, with each ball worked back
// once: the set filled in (Fill) and its mishits flagged, its pattern, its cause.
func Judge(set analysis.Set, c Config) (analysis.Set, pattern.Pattern, Result) {
	set, worked := fill(set, c)
	set = pattern.Mishits(set)
	p := pattern.Of(set)
	return set, p, of(set, worked, p, c)
}

// of is Of a set that is filled, with the inference each shot rests on. Where the
// set has two patterns each is judged by itself, and the whole has no cause.
func of(set analysis.Set, worked []*impact.Inference, p pattern.Pattern, c Config) Result {
	if len(p.Parts) == 0 {
		return one(set, worked, p, c, alone)
	}
	r := one(set, worked, p, c, mixed)
	r.Verdict, r.Confidence, r.MoreBalls = TwoPatterns, 0, 0
	at := map[int]*impact.Inference{}
	for i, s := range set.Shots {
		at[s.N] = worked[i]
	}
	for _, part := range p.Parts {
		its := make([]*impact.Inference, len(part.Shots))
		for i, s := range part.Shots {
			its[i] = at[s.N]
		}
		r.Parts = append(r.Parts, one(part.Set, its, part.Pattern, c, partly))
	}
	return r
}

// A scope is what a result is of.
type scope int

const (
	alone  scope = iota // a set of one pattern
	mixed               // a set of two, which has no cause
	partly              // one of two, whose distance and corridor are the set's
)

// one is of a set seen as one pattern.
func one(set analysis.Set, worked []*impact.Inference, p pattern.Pattern, c Config, s scope) Result {
	used := set.Used()
	r := Result{Verdict: Unmeasured, RefFace: c.RefFace, RefPath: c.RefPath, Miss: p.Lateral}
	for _, n := range analysis.Numbers() {
		values, _ := analysis.Values(used, n)
		r.Delivery[n] = p.Streak.Mean(values)
	}

	published := ModelOf(set.Club, c)
	first := ready(set.Shots, worked, &published)
	known := tellOf(first, &published, seenOf(r.Delivery), used)
	m := published.Off(known.off)
	balls, splits := splitAll(ready(set.Shots, worked, &m), &m, c)
	typical, own := middle(balls, &m)
	carry := r.Delivery[analysis.Carry].Mean
	if r.Delivery[analysis.Carry].N == 0 && len(balls) > 0 {
		carry = m.Land(typical, own).Carry
	}
	r.PracticalZero, r.HalfWidth = practicalZero(carry), c.HalfWidthAt(carry)

	still := ModelOf(set.Club, Config{Hand: c.Hand})
	var usual *Usual
	if u, ok := c.Usual[set.Club]; ok {
		usual = &u
	}
	if s != partly {
		r.Distance = distance(used, set.Club, &still, known.off, seenOf(r.Delivery), p.Streak, c, usual)
	}
	if r.Distance.Known && c.Ball == analysis.RangeBall {
		r.warn(RangeBalls, len(used), analysis.Carry)
	}
	r.Missing = missing(used, len(balls))
	r.Inferred = r.inferences(balls)
	if len(balls) == 0 {
		r.fromMissAlone(c)
		return r
	}
	if n := len(used) - len(balls); n > 0 {
		r.warn(NotSplit, n, analysis.Face)
	}
	if presumed := len(used) - r.Delivery[analysis.DynamicLoft].N; presumed > 0 {
		from := analysis.DynamicLoft
		if r.Delivery[analysis.LaunchAngle].N > 0 {
			from = analysis.LaunchAngle
		}
		r.warn(PresumedLoft, presumed, from)
	}

	if presumed := speedless(used); presumed > 0 {
		r.warn(PresumedSpeed, presumed, analysis.ClubSpeed)
	}

	r.Balls = splits
	r.StrikeSide = strikeSide(balls, &m, r.Delivery[analysis.StrikeToe])
	r.means(supported(balls), p.Streak)
	e := gather(balls, r.Balls, published, &m, known, seenOf(r.Delivery), carry, p.Streak, c)
	r.FaceWorth, r.PathWorth, r.Wind = e.worth.face, e.worth.path, e.wind
	r.WorthDoubt = worthDoubt(e.doubts, e.worth)
	if len(balls) == 1 {
		r.Verdict, r.MoreBalls = TooFew, leastBalls-1
	} else {
		draws := e.draws(len(balls))
		r.limits(draws)
		if s != mixed {
			r.judge(e, draws)
		}
	}
	r.Scatter = shares(balls, r.Balls, &m, typical, own)
	if s != partly {
		r.Corridor = corridor(balls, &m, typical, own, r.HalfWidth)
	}
	return r
}

// leastBalls is what a set needs before anything is named. The spread of two
// or three balls is small by luck often enough to make any centre look sure.
const leastBalls = 5

func (r *Result) warn(code string, count int, n analysis.Number) {
	r.Warnings = append(r.Warnings, analysis.Warning{Code: code, Count: count, Number: n})
}

// fromMissAlone judges a set without deliveries: it can be centred, or have
// too few balls to say even that.
func (r *Result) fromMissAlone(c Config) {
	if r.Miss.N < 2 {
		return
	}
	se := r.Miss.SD / math.Sqrt(float64(r.Miss.N))
	inside := 0.0
	if se == 0 {
		if math.Abs(r.Miss.Mean) <= r.PracticalZero {
			inside = 1
		}
	} else {
		inside = studentBetween(-r.PracticalZero-r.Miss.Mean, r.PracticalZero-r.Miss.Mean, se, r.Miss.N-1)
	}
	if inside >= c.level() {
		r.Verdict, r.Confidence = Centred, inside
	}
}

// inferences reports whether the face or path of more than a fifth of the balls
// is inferred, and passes on what the inferences warn of. A few among many are
// numbers that were left out; what is said of the set is measured.
func (r *Result) inferences(balls []struck) (many bool) {
	type about struct {
		code string
		n    analysis.Number
	}
	counts, inferred := map[about]int{}, 0
	for _, b := range balls {
		if b.inference == nil {
			continue
		}
		inferred++
		for _, w := range b.inference.Warnings {
			counts[about{w.Code, w.Number}]++
		}
	}
	for _, code := range []string{impact.StrikeUnknown, impact.AxisUnknown, impact.TooNoisy, impact.UsualLoft, impact.Sliding, impact.Misfit} {
		for _, n := range analysis.Numbers() {
			if count := counts[about{code, n}]; count > 0 {
				r.warn(code, count, n)
			}
		}
	}
	return 5*inferred > len(balls)
}

// means fills in the mean of each part over the split balls; the parts add up
// to the miss.
func (r *Result) means(supported bool, streak stat.Streak) {
	column := func(of func(Split) float64) []float64 {
		v := make([]float64, len(r.Balls))
		for i, s := range r.Balls {
			v[i] = of(s)
		}
		return v
	}
	misses := column(func(s Split) float64 { return s.Miss })
	r.Miss = stat.Skewed(streak.Mean(misses), misses) // as the pattern has it
	r.Face = streak.Mean(column(func(s Split) float64 { return s.FaceM }))
	r.Path = streak.Mean(column(func(s Split) float64 { return s.PathM }))
	r.Rest = streak.Mean(column(func(s Split) float64 { return s.Rest }))
	if supported {
		r.Strike = streak.Mean(column(func(s Split) float64 { return s.Strike }))
	}
	r.Rest.Mean = r.Miss.Mean - r.Face.Mean - r.Path.Mean
}

// limits widens the limits of the parts by what the model may be off, and
// those of an inferred face and path by what the inferences have wrong in
// common.
func (r *Result) limits(draws []draw) {
	widen := func(e *analysis.Estimate, of func(draw) float64) {
		if e.OK {
			e.Low, e.High = central(draws, of)
		}
	}
	widen(&r.Face, func(d draw) float64 { return d.face })
	widen(&r.Path, func(d draw) float64 { return d.path })
	widen(&r.Rest, func(d draw) float64 { return d.rest })
	widen(&r.Strike, func(d draw) float64 { return d.strike })
	if r.Inferred {
		widen(&r.Delivery[analysis.Face], func(d draw) float64 { return d.faceAngle })
		widen(&r.Delivery[analysis.Path], func(d draw) float64 { return d.pathAngle })
		widen(&r.Delivery[analysis.FaceToPath], func(d draw) float64 { return d.faceAngle - d.pathAngle })
	}
}

// central are the limits that hold 95 % of the draws.
func central(draws []draw, of func(draw) float64) (low, high float64) {
	v := make([]float64, len(draws))
	for i, d := range draws {
		v[i] = of(d)
	}
	return middle95(v)
}

// middle95 are the limits that hold 95 % of values; it sorts them.
func middle95(v []float64) (low, high float64) {
	slices.Sort(v)
	return stat.SortedQuantile(v, 0.025), stat.SortedQuantile(v, 0.975)
}

// enoughToBlameTheModel is the number of balls from which it is said that more
// would not settle the cause: what fewer say of their own spread is too rough.
const enoughToBlameTheModel = 20

// judge gives the verdict, and what would settle it or put it right.
func (r *Result) judge(e evidence, draws []draw) {
	enough := false
	r.Verdict, r.Or, r.Confidence, enough = e.verdict(draws)
	switch {
	case !enough || e.means.n < leastBalls:
		r.Verdict, r.Or = TooFew, ""
		r.MoreBalls = max(e.moreBalls(), leastBalls-e.means.n)
		if r.MoreBalls <= 0 {
			r.MoreBalls = 0
			if e.means.n >= enoughToBlameTheModel {
				r.warn(ModelLimits, 0, analysis.Lateral)
			}
		}
	case r.Verdict == unexplained:
		r.Verdict = Unmeasured
		of := analysis.Lateral
		if r.Strike.N == 0 {
			of = analysis.StrikeToe
		}
		r.warn(Unexplained, 0, of)
		for _, n := range []analysis.Number{analysis.StrikeToe, analysis.SpinAxis} {
			if r.Delivery[n].N == 0 {
				r.Missing = append(r.Missing, n)
			}
		}
	case r.Verdict != Centred:
		r.WorkBack = e.workBack(r, draws)
	}
}
