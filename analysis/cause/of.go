package cause

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
	"rangepost/analysis/pattern"
	small "rangepost/analysis/stat"
)

// Codes of the warnings a cause carries.
const (
	NotSplit     = "not_split"     // Count used balls lack a number the split needs
	Unexplained  = "unexplained"   // most of the miss is in neither face, path nor strike
	ModelLimits  = "model_limits"  // more balls would not settle it: the model's own doubt is too wide
	RangeBalls   = "range_balls"   // distances are of range balls
	PresumedLoft = "presumed_loft" // Count balls without a measured dynamic loft
)

// Of says whose the sideways miss of a set is, and what would put it right.
// Mishits are flagged already (pattern.Mishits) and p is the set's pattern.
func Of(set analysis.Set, p pattern.Pattern, c Config) Result {
	set, worked := fill(set, c)
	used := set.Used()
	r := Result{RefFace: c.RefFace, RefPath: c.RefPath, Miss: p.Lateral}
	for _, n := range analysis.Numbers() {
		values, _ := analysis.Values(used, n)
		r.Delivery[n] = small.Mean(values)
	}
	carry := r.Delivery[analysis.Carry].Mean
	r.PracticalZero, r.HalfWidth = practicalZero(carry), c.halfWidth(carry)

	m := ball.Of(set.Club, c.Hand, c.Conditions)
	r.Distance = distance(used, &m, c)
	if r.Distance.Known && c.Ball == analysis.RangeBall {
		r.warn(RangeBalls, len(used), analysis.Carry)
	}
	balls := ready(set.Shots, worked, &m)
	r.Missing = missing(used, len(balls))
	r.Inferred = r.inferences(balls)
	if n := len(used) - len(balls); n > 0 && len(balls) > 0 {
		r.warn(NotSplit, n, analysis.Face)
	}
	r.Verdict = Unmeasured
	if len(balls) == 0 {
		r.fromMissAlone(c)
		return r
	}

	for _, b := range balls {
		r.Balls = append(r.Balls, b.split(&m, c.RefFace, c.RefPath))
	}
	typical, own := middle(balls)
	doubts, w := doubts(m, typical, own, seenOf(r.Delivery), c.Seed)
	r.FaceWorth, r.PathWorth = w.face, w.path
	parts := meansOf(r.Balls, balls)
	r.means(supported(balls))
	if parts.n < 2 {
		r.Verdict = TooFew
		r.MoreBalls = leastBalls - parts.n
	} else {
		rest := restDeviation(balls, &m, typical, own, carry)
		draws := parts.draws(c.draws(), parts.n, doubts, w, c.Seed)
		weigh(draws, rest)
		r.limits(draws)
		r.judge(parts, draws, doubts, w, rest, c)
	}
	r.Scatter = shares(balls, r.Balls, &m, typical, own)
	if presumed := len(used) - r.Delivery[analysis.DynamicLoft].N; presumed > 0 {
		r.warn(PresumedLoft, presumed, analysis.DynamicLoft)
	}
	r.Corridor = corridor(balls, &m, typical, own, r.HalfWidth)
	return r
}

// leastBalls is what a set needs before much can be said.
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

// ready lists the used balls that can be split.
func ready(shots []analysis.Shot, worked []*impact.Inference, m *ball.Model) []struck {
	var balls []struck
	for i, s := range shots {
		lateral, ok := s.Value(analysis.Lateral)
		if s.Aside != analysis.Used || !ok || !s.Has(analysis.Face) || !s.Has(analysis.Path) {
			continue
		}
		d, ok := presumed(s)
		if !ok {
			continue
		}
		carry, _ := s.Value(analysis.Carry)
		balls = append(balls, struck{
			n: s.N, delivery: d, own: m.Departure(d, s), lateral: lateral, carry: carry,
			spun: s.Measured(analysis.SpinAxis), placed: s.Measured(analysis.StrikeToe),
			inference: worked[i],
		})
	}
	return balls
}

// inferences reports whether any ball's face or path is inferred, and passes
// on what the inferences warn of.
func (r *Result) inferences(balls []struck) (any bool) {
	type about struct {
		code string
		n    analysis.Number
	}
	counts := map[about]int{}
	for _, b := range balls {
		if b.inference == nil {
			continue
		}
		any = true
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
	return any
}

// missing lists the numbers without which no used ball could be split.
func missing(used []analysis.Shot, split int) []analysis.Number {
	if split > 0 {
		return nil
	}
	var none []analysis.Number
	for _, n := range []analysis.Number{analysis.Lateral, analysis.Face, analysis.Path, analysis.Direction, analysis.SpinAxis} {
		if v, _ := analysis.Values(used, n); len(v) == 0 {
			none = append(none, n)
		}
	}
	if len(none) > 0 {
		return none
	}
	return []analysis.Number{analysis.ClubSpeed} // some balls have the one, some the other, none a speed
}

// middle is the mean delivery of the balls and their mean departure.
func middle(balls []struck) (d analysis.Delivery, own ball.Departure) {
	n := float64(len(balls))
	for _, b := range balls {
		d.ClubSpeed += b.delivery.ClubSpeed / n
		d.Attack += b.delivery.Attack / n
		d.Path += b.delivery.Path / n
		d.Face += b.delivery.Face / n
		d.DynamicLoft += b.delivery.DynamicLoft / n
		d.StrikeToe += b.delivery.StrikeToe / n
		d.StrikeUp += b.delivery.StrikeUp / n
		own.Speed += b.own.Speed / n
		own.Spin += b.own.Spin / n
		own.Angle += b.own.Angle / n
		own.Direction += b.own.Direction / n
		own.Axis += b.own.Axis / n
	}
	return d, own
}

// means fills in the mean of each part over the split balls; the parts add up
// to the miss.
func (r *Result) means(supported bool) {
	column := func(of func(Split) float64) []float64 {
		v := make([]float64, len(r.Balls))
		for i, s := range r.Balls {
			v[i] = of(s)
		}
		return v
	}
	r.Miss = small.Mean(column(func(s Split) float64 { return s.Miss }))
	r.Face = small.Mean(column(func(s Split) float64 { return s.FaceM }))
	r.Path = small.Mean(column(func(s Split) float64 { return s.PathM }))
	r.Rest = small.Mean(column(func(s Split) float64 { return s.Rest }))
	if supported {
		r.Strike = small.Mean(column(func(s Split) float64 { return s.Strike }))
	}
	r.Rest.Mean = r.Miss.Mean - r.Face.Mean - r.Path.Mean
}

// limits widens the limits of the parts by what the model may be off.
func (r *Result) limits(draws []draw) {
	for _, part := range []struct {
		e  *analysis.Estimate
		of func(draw) float64
	}{
		{&r.Face, func(d draw) float64 { return d.face }},
		{&r.Path, func(d draw) float64 { return d.path }},
		{&r.Rest, func(d draw) float64 { return d.rest }},
		{&r.Strike, func(d draw) float64 { return d.strike }},
	} {
		if !part.e.OK {
			continue
		}
		part.e.Low, part.e.High = central(draws, part.of)
	}
}

// central are the limits that hold 95 % of the draws.
func central(draws []draw, of func(draw) float64) (low, high float64) {
	v := make([]float64, len(draws))
	for i, d := range draws {
		v[i] = of(d)
	}
	slices.Sort(v)
	return small.SortedQuantile(v, 0.025), small.SortedQuantile(v, 0.975)
}

func (r *Result) judge(parts means, draws []draw, doubts []doubt, w worth, rest float64, c Config) {
	v, p := tally(draws, c.RefFace, c.RefPath, r.PracticalZero, c.level())
	r.Confidence = p
	if p < c.level() {
		r.Verdict = TooFew
		r.MoreBalls = moreBalls(parts, doubts, w, r.PracticalZero, rest, c)
		if r.MoreBalls == 0 {
			r.warn(ModelLimits, 0, analysis.Lateral)
		}
		return
	}
	r.Verdict = v
	if v == unexplained {
		r.Verdict = Unmeasured
		r.warn(Unexplained, 0, analysis.Lateral)
		for _, n := range []analysis.Number{analysis.StrikeToe, analysis.SpinAxis} {
			if r.Delivery[n].N == 0 {
				r.Missing = append(r.Missing, n)
			}
		}
		return
	}
	if v != Centred {
		r.WorkBack = workBack(r, draws, c)
	}
}

// median of the balls' values, of which there is at least one.
func median(balls []struck, of func(struck) float64) float64 {
	v := make([]float64, len(balls))
	for i, b := range balls {
		v[i] = of(b)
	}
	m, _ := small.Median(v)
	return m
}

// supported reports whether any ball shows how it was struck.
func supported(balls []struck) bool {
	for _, b := range balls {
		if b.spun || b.placed {
			return true
		}
	}
	return false
}

// restDeviation is how large a rest to expect that no strike speaks for, m.
func restDeviation(balls []struck, m *ball.Model, typical analysis.Delivery, own ball.Departure, carry float64) float64 {
	sd := max(usualRest*carry, 1)
	if supported(balls) {
		return sd
	}
	toward := typical
	toward.StrikeToe += usualStrike
	return math.Hypot(sd, m.Land(toward, own).Lateral-m.Land(typical, own).Lateral)
}
