package words

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// SetName names a set for the head of a sentence: "7-iron", or `7-iron, the
// set you called "strong grip"`.
func (v Voice) SetName(club analysis.Club, label string) string {
	name := sentence(club.String())
	if club.Unknown() {
		name = "Balls without a club"
	}
	if label == "" {
		return name
	}
	return name + ", the set you called " + v.Quote(label)
}

// Cause says in one plain sentence why the balls of a set finished where they
// did. name heads it when there are several sets (see SetName), "" when there
// is only one.
func (v Voice) Cause(name string, p pattern.Pattern, r cause.Result) string {
	says := v.verdict(p, r) + v.windsPart(r) + "."
	text := sentence(says)
	if name != "" {
		text = name + ": " + says
	}
	if r.Inferred && r.Verdict.Named() {
		text += " " + inferredNote
		if r.Delivery[analysis.SpinAxis].N == 0 && r.Wind == 0 {
			text += " " + windLikeCurve
		}
	}
	return text
}

// inferredNote stands behind every cause that rests on a face and a path
// nobody measured.
const inferredNote = "Face and path are inferred from the ball's flight, not measured."

// windsPart says what a wind that was said has of a miss with another cause, where that
// is a part of it.
func (v Voice) windsPart(r cause.Result) string {
	if !r.Verdict.Named() || !(r.Wind/r.Miss.Mean >= aPart) {
		return ""
	}
	return "; the day's wind made " + v.Distance(math.Abs(r.Wind)) + " of that"
}

// windLikeCurve stands behind it where nothing shows how far the ball was bent by its
// spin.
const windLikeCurve = "A side wind would look the same."

// verdict is the sentence of Cause without its head and its full stop.
func (v Voice) verdict(p pattern.Pattern, r cause.Result) string {
	finished := "the balls finished " + v.about(r.Miss.Mean)
	switch r.Verdict {
	case cause.Centred:
		return v.centred(p, r)
	case cause.Aim:
		return "check alignment first, yours and the device's: face and path were both " +
			v.offBoth(r) + " and " + finished
	case cause.Face:
		return finished + " because the face pointed " + v.delivered(r, analysis.Face) + perhaps(r.Or, "path")
	case cause.Path:
		return finished + " because the path went " + v.delivered(r, analysis.Path) +
			", which curves the ball " + side(r.Path.Mean) + perhaps(r.Or, "face")
	case cause.FaceAndPath:
		return finished + " and two things share it: the face pointed " + v.delivered(r, analysis.Face) +
			" and the path went " + v.delivered(r, analysis.Path)
	case cause.Strike:
		return finished + ", most of it from the strike: " + v.struck(r)
	case cause.TooFew:
		return v.tooFew(p, r)
	case cause.TwoPatterns:
		return v.twoPatterns(p)
	}
	return v.unmeasured(p, r)
}

// perhaps says what a verdict of one number leaves open about the other: "", when
// nothing.
func perhaps(or cause.Verdict, other string) string {
	switch or {
	case cause.FaceAndPath:
		return "; the " + other + " may have a share in it"
	case cause.Aim:
		return "; the " + other + " may be off with it, so check alignment first, yours and the device's"
	}
	return ""
}

func (v Voice) centred(p pattern.Pattern, r cause.Result) string {
	where := "the middle of the balls is " + v.Mean(analysis.Lateral, r.Miss)
	if !v.vanishes(analysis.Length, r.Miss.Mean, alone) {
		where = "the middle of the balls is about " + v.Mean(analysis.Lateral, r.Miss) +
			", inside the " + v.Distance(r.PracticalZero) + " that count as on line"
	}
	where += v.leaning(r)
	if !Wide(p, r) {
		return "centred: " + where
	}
	return "centred but wide: eight balls in ten spread over about " + v.Distance(p.Width80) + v.scatterOwner(r.Scatter) + v.leaning(r)
}

// leaning says of a centred pattern that face and path cancel each other, when
// each is worth more than a miss may be and both are sure to be something, or that
// one of them and a wind that was said do: "", when they do not.
func (v Voice) leaning(r cause.Result) string {
	if Leaning(r) {
		return ". Two numbers lean on each other: the face is worth " + v.plainSide(r.Face.Mean) + ", the path " + v.plainSide(r.Path.Mean)
	}
	if name, m := windward(r); name != "" {
		return ". It is so in this wind: the day's wind is worth " + v.plainSide(r.Wind) + ", the " + name + " " + v.plainSide(m)
	}
	return ""
}

// windward is the number that a wind that was said cancels in a centred pattern, and
// its share, m; "" without one.
func windward(r cause.Result) (name string, m float64) {
	if r.Verdict != cause.Centred || math.Abs(r.Wind) <= r.PracticalZero {
		return "", 0
	}
	return opposing(r, r.Wind)
}

// opposing is the number that is sure to push against so many metres to the side, by
// more than a miss may be, and its share, m; "" without one.
func opposing(r cause.Result, other float64) (name string, m float64) {
	for _, part := range []struct {
		name string
		e    analysis.Estimate
	}{{"face", r.Face}, {"path", r.Path}} {
		if part.e.Excludes(0) && part.e.Mean*other < 0 && math.Abs(part.e.Mean) > r.PracticalZero {
			return part.name, part.e.Mean
		}
	}
	return "", 0
}

// Leaning reports whether a centred pattern is so because face and path cancel.
func Leaning(r cause.Result) bool {
	return r.Verdict == cause.Centred && r.Face.Mean*r.Path.Mean < 0 && r.Face.Excludes(0) && r.Path.Excludes(0) &&
		min(math.Abs(r.Face.Mean), math.Abs(r.Path.Mean)) > r.PracticalZero
}

// Wide reports whether a pattern is wider than its target: the width that
// holds 80 % of balls is more than the target's whole width.
func Wide(p pattern.Pattern, r cause.Result) bool {
	return p.Width80OK && r.HalfWidth > 0 && p.Width80 > 2*r.HalfWidth
}

// scatterOwner says which number changes most from ball to ball, as far as the
// sideways spread goes.
func (v Voice) scatterOwner(s *cause.Shares) string {
	if s == nil {
		return "; which number changes from ball to ball cannot be told yet"
	}
	owner, share := largestShare(*s)
	about := " (about " + percent(share) + " of the spread)"
	switch owner {
	case "":
		return "; face, path, strike and speed explain little of it"
	case "speed":
		return ", most of all as club speed changes from ball to ball" + about
	}
	return ", most of all as the " + owner + " changes from ball to ball" + about
}

// largestShare is who owns most of the spread, "" when most is unexplained.
func largestShare(s cause.Shares) (owner string, share float64) {
	for _, o := range []struct {
		name  string
		share float64
	}{{"", s.Unexplained}, {"face", s.Face}, {"path", s.Path}, {"strike", s.Strike}, {"speed", s.Speed}} {
		if o.share > share {
			owner, share = o.name, o.share
		}
	}
	return owner, share
}

// reference is where number n (face or path) is judged from, rad.
func reference(r cause.Result, n analysis.Number) float64 {
	if n == analysis.Path {
		return r.RefPath
	}
	return r.RefFace
}

// delivered says the mean of face or path against its reference: "2.9° left of
// target", or of what the coach asked for when there is a brief.
func (v Voice) delivered(r cause.Result, n analysis.Number) string {
	e := r.Delivery[n]
	ref := reference(r, n)
	if ref == 0 {
		return v.Mean(n, e)
	}
	off := e.Mean - ref
	half := v.half(analysis.Angle, e.Low, e.High, e.OK)
	if v.vanishes(analysis.Angle, off, half) {
		return "where your coach asked for it"
	}
	return v.amount(analysis.Angle, math.Abs(off), half) + " " + side(off) + " of what your coach asked for"
}

// offBoth says how far face and path are off together: "about 2.9° left of
// target".
func (v Voice) offBoth(r cause.Result) string {
	face, path := r.Delivery[analysis.Face], r.Delivery[analysis.Path]
	off := (face.Mean - r.RefFace + path.Mean - r.RefPath) / 2
	half := max(v.half(analysis.Angle, face.Low, face.High, face.OK), v.half(analysis.Angle, path.Low, path.High, path.OK))
	if v.vanishes(analysis.Angle, off, half) {
		return "on the target line"
	}
	return "about " + v.amount(analysis.Angle, math.Abs(off), half) + " " + side(off) + " of target"
}

// struck says what is known of the strike behind the miss: the side that was
// measured, always; else the one that start line and spin axis tell; else none.
func (v Voice) struck(r cause.Result) string {
	way := r.Rest.Mean
	if r.Strike.N > 0 {
		way = r.Strike.Mean
	}
	if toe := r.Delivery[analysis.StrikeToe]; toe.N > 0 {
		return v.Mean(analysis.StrikeToe, toe) + " on average, and the balls finished further " + side(way) + " than face and path explain"
	}
	text := "the balls finished further " + side(way) + " than face and path explain"
	switch r.StrikeSide {
	case cause.Toe:
		return text + ", and start line and spin axis say it was toward the toe"
	case cause.Heel:
		return text + ", and start line and spin axis say it was toward the heel"
	}
	return text + "; to which side of the middle they were struck cannot be told"
}

// manyMore is where a count of balls stops meaning anything to somebody with a
// basket of them.
const manyMore = 100

func (v Voice) tooFew(p pattern.Pattern, r cause.Result) string {
	more := "too few balls to tell " + leftOpen(r)
	switch {
	case beyondBalls(r):
		more = "no cause can be named yet"
	case r.MoreBalls > manyMore:
		more += ": well over a hundred more like these would be needed"
	case r.MoreBalls > 0:
		more += ": about " + Count(r.MoreBalls, "more ball") + " like these would do"
	}
	if p.Used == 0 {
		return "no ball of this set could be used, so there is nothing to tell yet"
	}
	where := Count(p.Used, "ball") + " so far, " + v.about(r.Miss.Mean)
	if r.Miss.OK {
		where += " but anywhere " + v.between(analysis.Length, r.Miss.Low, r.Miss.High, " left", " right", "")
	}
	return more + " (" + where + ")"
}

// leftOpen is what too few balls leave open: why there is a miss, or whether there is.
func leftOpen(r cause.Result) string {
	if math.Abs(r.Miss.Mean) < r.PracticalZero {
		return "whether they are on line"
	}
	return "why"
}

// beyondBalls reports whether it is not for want of balls that no cause is
// named.
func beyondBalls(r cause.Result) bool {
	return slices.ContainsFunc(r.Warnings, func(w analysis.Warning) bool { return w.Code == cause.ModelLimits })
}

// partOf says what face and path have of a miss that is mostly neither's; "" where
// that is little.
func (v Voice) partOf(r cause.Result) string {
	var parts []string
	for _, part := range []struct {
		name string
		e    analysis.Estimate
	}{{"the face", r.Face}, {"the path", r.Path}} {
		if part.e.Excludes(0) && part.e.Mean/r.Miss.Mean >= aPart {
			parts = append(parts, part.name+" ("+v.plainSide(part.e.Mean)+")")
		}
	}
	return list(parts, "and")
}

// leftOver says what may own what face and path leave over: a wind that was said
// and speaks for most of it does.
func leftOver(r cause.Result) string {
	if r.Wind/r.Rest.Mean > 0.5 {
		return "mostly the wind"
	}
	return "the wind, the ball" + unstruck(r)
}

// unstruck adds the strike to what may own a miss, unless it was measured and
// speaks for less than half of it.
func unstruck(r cause.Result) string {
	if r.Strike.N > 0 && math.Abs(r.Strike.Mean) < math.Abs(r.Rest.Mean)/2 {
		return " or the device"
	}
	return ", the device, or where on the face they were struck"
}

func (v Voice) unmeasured(p pattern.Pattern, r cause.Result) string {
	missing := "what the club did was not measured"
	if len(r.Missing) > 0 {
		names := make([]string, len(r.Missing))
		for i, n := range r.Missing {
			names[i] = n.String()
		}
		missing = "the file has no " + list(names, "or")
	}
	if len(r.Balls) > 0 { // the club was told, and it is not that
		finished := "the balls finished " + v.about(r.Miss.Mean)
		if part := v.partOf(r); part != "" {
			return finished + ", and only a part of that is " + part + ": the rest, " + v.plainSide(r.Rest.Mean) + ", is " + leftOver(r)
		}
		text := finished + ", and not by face or path: they leave " + v.plainSide(r.Rest.Mean) + " over, which is " + leftOver(r)
		if name, m := opposing(r, r.Rest.Mean); name != "" {
			text += "; against it the " + name + " is worth " + v.plainSide(m)
		}
		return text
	}
	if p.Used == 0 || r.Miss.N == 0 {
		return missing + ", so the cause cannot be told"
	}
	return missing + ", so why the balls finished " + v.about(r.Miss.Mean) + " cannot be told"
}
