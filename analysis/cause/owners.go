package cause

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"

	"rangepost/analysis"
)

// doubtCarry is how far the model's slope of carry on speed or smash may be off, as
// the standard deviation of its logarithm: the published coefficient sets differ by
// about this much (our choice).
const doubtCarry = 0.15

// doubtTogether is the same of what comes with another: the smash and spin that
// loft takes and gives, the spin that speed gives. Heads and faces differ more
// than flights do (our choice).
const doubtTogether = 0.3

// aShare is the part of a miss that makes its owner one of two.
const aShare = 1.0 / 3

// What is to be expected of a miss before any ball is hit, as fractions of the
// carry, standard deviations about which usual has its heavy tail (our choice):
// the target is the club's own distance, and nobody wrote the wind down.
const usualClub = 0.025

// Range balls carry less than new ones (common practice, no source), by about
// this fraction, give or take; and what a wind that was said does, give or take
// this fraction of it (our choice).
const (
	rangeLoss, rangeDoubt = 0.06, 0.04
	saidDoubt             = 0.3
)

// unnamedRange is how likely a ball that nobody named is a range ball, where the
// usual ball was named and is none or there are no earlier sessions (our choice).
const unnamedRange = 0.25

// triesAlone is how many draws there are to each that counts where there are no
// earlier sessions (our choice): what is left over tells most of them off, and limits
// of the few that stay are those of chance, and too narrow.
const triesAlone = 4

// saidLevel is how likely it has to be that air and ball have the most of a miss
// which what was said of them explains: likelier than all others together (our
// choice). What nobody said needs Config.Level.
const saidLevel = 0.5

// The owners of a miss in length, in the order of their parts.
const (
	bySpeed = iota
	byStrike
	byLoft
	bySpin
	byAir
	byClub // what is left
)

var owners = [numParts]DistanceVerdict{DistanceSpeed, DistanceStrike, DistanceLoft, DistanceSpin, DistanceAir, DistanceClub}

// owing is what it rests on who owes a miss in length.
type owing struct {
	means     // what the balls differ by from the reference
	reference reference
	slopes    slopes
	at, off   flier // the mean ball, and what it differs by from the reference
	seen      launchSeen
	flown     float64     // m, how far the carry of a model that might be the true one is off
	lofted    float64     // m, and what the loft makes of it
	spun      float64     // m, and the spin
	bends     [byAir]bend // what each number is worth, where there are no earlier sessions
	said      Said        // m of air and ball, by what was said of them
	give      float64     // m, and how far that may be off
	unnamed   bool        // whether the ball may be another than is said of the usual one, and nobody said
	zero      float64     // m, the miss that is none
	config    Config
}

// draw draws what each owner may have of the miss, m, and says what they have in
// the mean of the draws where the miss is that of the balls.
//
// Where the reference is the golfer's usual it is as unsure as their days differ.
// Where it is the set's own, the golfer's usual may be as far from it as a swing ever
// is, the other kind or all of the set, and only the sum is known: draws in which
// the yards that are left ask for an unlikely target or an unlikely wind are
// the less likely for it. What the ball does in the air is told by a measured
// launch, as well as the flight is known; what was not measured of the launch is
// in the air's yards, and may be any of both.
func (e *owing) draw() (drawn [][numParts]float64, mean [numParts]float64) {
	rng := rand.New(rand.NewPCG(e.config.Seed, 0xa0761d6478bd642f))
	total, meanTotal := 0.0, 0.0
	n := e.config.draws()
	tries := n
	if e.reference.sessions == 0 {
		tries *= triesAlone
	}
	drawn = make([][numParts]float64, 0, tries)
	weights := make([]float64, 0, tries)
	for k := 0; k < tries; k += 2 {
		o := e.other(rng)
		for _, v := range e.sample(rng, e.n) {
			v, w := e.owed(v, o)
			drawn, weights, total = append(drawn, v), append(weights, w), total+w
		}
		v, w := e.owed(e.mean, o)
		for i := range v {
			mean[i] += w * v[i]
		}
		meanTotal += w
	}
	for i := range mean {
		mean[i] /= meanTotal
	}
	return resampled(drawn, weights, total, n, rng.Float64()), mean
}

// other is how all but the balls may be otherwise than in the model.
type other struct {
	between, from [byClub]float64 // m
	slope         [byAir]float64  // m, what a slope that is off makes of the mean ball
	strike        float64         // what the strike has of a ball's speed, where the club's is not known
	ball, lively  float64         // m, what a ball that nobody named does; what its speed off the face does of it
	usual         float64         // m, what of the day's air and ball is in the target as well
}

func (e *owing) other(rng *rand.Rand) (o other) {
	for i := range o.slope {
		z := rng.NormFloat64()
		switch i {
		case byLoft:
			o.slope[i] = e.lofted * z
		case bySpin:
			o.slope[i] = e.spun * z
		default:
			o.slope[i] = math.Expm1(doubtCarry*z) * e.mean[i]
		}
	}
	o.between, o.from = e.between(rng), e.from(rng)
	// A share of which nothing is known: Jeffreys' prior, beta(1/2, 1/2) [M].
	o.strike = math.Sin(math.Pi / 2 * rng.Float64())
	o.strike *= o.strike
	if u := rng.Float64(); e.unnamed && u < unnamedRange {
		o.ball = -rangeLoss * e.at.carry
	}
	if e.reference.sessions == 0 {
		// Whether a target is for the day's ball and air or for others nobody says: as
		// likely either way (our choice). The wind is the day's.
		for _, does := range [...]float64{e.said.Ball + o.ball, e.said.Air} {
			if rng.Float64() < 0.5 {
				o.usual += does
			}
		}
	}
	// A range ball is slower off the face, and drags more: nobody knows which of
	// them how much.
	if e.reference.sessions > 0 {
		o.lively = rng.Float64() * (e.said.Ball + o.ball)
	}
	return o
}

// owed is what each owner has of a miss of these parts, and how likely that is
// before any ball is hit.
func (e *owing) owed(v [numParts]float64, o other) (owed [numParts]float64, weight float64) {
	miss := floats.Sum(v[:])
	for i := range o.between {
		v[i] += o.between[i]
	}
	for i, off := range o.slope { // what the model's own is off by shows as air
		v[i], v[byAir] = v[i]+off, v[byAir]-off
	}
	if e.reference.clubless { // how fast the ball was is known, and not how fast the club was
		v[byStrike], v[bySpeed] = v[byStrike]+o.strike*v[bySpeed], (1-o.strike)*v[bySpeed]
	}
	for i := range o.from {
		v[i] += o.from[i]
	}
	v[byAir] -= o.usual
	if e.seen.speed { // a dull ball looks like a poor strike
		v[byAir], v[byStrike] = v[byAir]+o.lively, v[byStrike]-o.lively
	}
	v[byClub] = miss - floats.Sum(v[:byClub])
	return v, usual(v[byClub]/(usualClub*e.at.carry)) * usual((v[byAir]-e.said.All()-o.ball+o.usual)/e.give)
}

// between draws what belongs to another owner because one goes with the other
// otherwise than in the model.
func (e *owing) between(rng *rand.Rand) (v [byClub]float64) {
	s, z := e.slopes, func() float64 { return doubtTogether * rng.NormFloat64() }
	smash := z() * s.smash * s.smashByLaunch * e.off.launch
	spin := z() * s.spin * s.spinByLaunch * e.off.launch
	faster := z() * s.spin * s.spinBySpeed * e.off.speed
	// Off the middle of the face a ball loses speed and spins more or less, by
	// about the same fraction (our choice).
	struck := rng.NormFloat64() * s.spin * e.at.spin * e.off.smash / e.at.smash
	v[byLoft] = smash + spin
	v[byStrike] = struck - smash
	v[bySpeed] = faster
	v[bySpin] = -spin - faster - struck
	if e.reference.clubless { // a smash that is expected of the loft
		v[byStrike], v[bySpeed] = 0, v[bySpeed]-smash
	}
	return v
}

// from draws how far the reference may be from the golfer's usual, and moves
// what was not measured from the air to its owner.
func (e *owing) from(rng *rand.Rand) (v [byClub]float64) {
	day := e.slopes.alone(usualDay(e.at))
	if e.reference.sessions > 0 {
		v = e.reference.draw(rng, day)
	} else {
		at, reference, usual := e.at.numbers(), e.reference.numbers(), usualDay(e.at).numbers()
		for i, k := range e.reference.kinds {
			from, worth := reference[i]-at[i], e.bends[i].draw(rng)
			v[i] = worth.of(from) - worth.of(from+k.draw(rng)+usual[i]*tailed(rng))
		}
		v[byAir] = e.flown * rng.NormFloat64()
	}
	for _, hidden := range []struct {
		seen bool
		of   int
	}{{e.seen.speed, byStrike}, {e.seen.angle, byLoft}, {e.seen.spin, bySpin}} {
		if !hidden.seen {
			its := day[hidden.of] * tailed(rng)
			v[hidden.of] += its
			v[byAir] -= its
		}
	}
	return v
}

// tailed draws from what usual is the density of.
func tailed(rng *rand.Rand) float64 {
	const odd, times = 0.2, 6
	z := rng.NormFloat64()
	if rng.Float64() < odd {
		z *= times
	}
	return z
}

// resampled are n of the draws, each as often as its weight says (systematic
// resampling: Kitagawa 1996, J. Comput. Graph. Stat. 5:1 [M]).
func resampled(drawn [][numParts]float64, weights []float64, total float64, n int, start float64) [][numParts]float64 {
	out := make([][numParts]float64, 0, n)
	step := total / float64(n)
	next, sum := start*step, 0.0
	for i, w := range weights {
		for sum += w; next < sum && len(out) < n; next += step {
			out = append(out, drawn[i])
		}
	}
	for len(out) < n { // what rounding left
		out = append(out, drawn[len(drawn)-1])
	}
	return out
}

// owner weighs whose the miss is over draws: the owner who has the most of it
// where that is likely enough, whatever else shares it; else the likeliest of
// the verdicts. Two things are the two that have the most of the mean, which the
// sentence names: that some two share a miss says nothing of these. air is how likely
// it is that air and ball have the most of it.
func (e *owing) owner(drawn [][numParts]float64, mean [numParts]float64) (best DistanceVerdict, p, air float64) {
	counts, most := map[DistanceVerdict]int{}, map[DistanceVerdict]int{}
	one, other, _ := e.foremost(mean)
	for _, v := range drawn {
		miss := floats.Sum(v[:])
		if math.Abs(miss) <= e.zero {
			counts[DistanceCentred]++
			continue
		}
		first, second, share := e.foremost(v)
		most[owners[first]]++
		switch {
		case share < aShare:
			counts[owners[first]]++
		case min(first, second) == min(one, other) && max(first, second) == max(one, other):
			counts[DistanceTwo]++
		}
	}
	best = DistanceCentred
	for _, o := range append(owners[:], DistanceTwo) {
		if counts[o] > counts[best] {
			best = o
		}
	}
	all := float64(len(drawn))
	air = float64(most[DistanceAir]) / all
	if p = float64(counts[best]) / all; p >= e.config.level() {
		return best, p, air
	}
	for _, o := range owners {
		if likely := float64(most[o]) / all; likely >= e.config.level() {
			return o, likely, air
		}
	}
	return best, p, air
}

// foremost are the two that have the most of a miss, and the share of the second.
func (e *owing) foremost(v [numParts]float64) (first, second int, share float64) {
	if e.reference.clubless { // club speed or strike, it is the ball's speed
		v[bySpeed], v[byStrike] = v[bySpeed]+v[byStrike], 0
	}
	miss := floats.Sum(v[:])
	first, second = 0, -1
	for i := 1; i < numParts; i++ {
		switch {
		case v[i]/miss > v[first]/miss:
			first, second = i, first
		case second < 0 || v[i]/miss > v[second]/miss:
			second = i
		}
	}
	return first, second, v[second] / miss
}

// explained reports whether what was said of wind, air and ball speaks for a miss:
// the same way, for half of it or more, and for all of it within their doubts.
// Without earlier sessions the ball does not: what a target is aimed at with is not
// known, and is as often the range ball that is told.
func (e *owing) explained(miss analysis.Estimate) bool {
	all := e.said.All()
	doubt := math.Hypot(normal95*e.give, (miss.High-miss.Low)/2)
	return all/miss.Mean >= 0.5 && math.Abs(miss.Mean-all) <= doubt &&
		(e.reference.sessions > 0 || math.Abs(e.said.Ball) < math.Abs(all)/2)
}

// Said is what wind, air and ball do to a carry by what was said of them, m.
type Said struct{ Wind, Air, Ball float64 }

// All is what they do together.
func (s Said) All() float64 { return s.Wind + s.Air + s.Ball }

func (s Said) less(t Said) Said { return Said{s.Wind - t.Wind, s.Air - t.Air, s.Ball - t.Ball} }

// said is what wind, air and ball, as far as they were said, do to a launch, and
// how far that and what nobody said may be off, m, a standard deviation.
func said(at flier, club analysis.Club, b analysis.Ball, hand analysis.Hand, air analysis.Conditions) (s Said, give float64) {
	carry := func(in analysis.Conditions) float64 {
		m := ModelOf(club, Config{Hand: hand, Conditions: in})
		return m.Flight.Fly(at.launched()).Carry
	}
	calm := air
	calm.WindSpeed, calm.WindFrom = nil, nil
	s.Air = carry(calm) - carry(analysis.Conditions{})
	s.Wind = carry(air) - carry(calm)
	give = math.Hypot(usualRest*at.carry, saidDoubt*(s.Wind+s.Air))
	if b == analysis.RangeBall {
		s.Ball = -rangeLoss * at.carry
		give = math.Hypot(give, rangeDoubt*at.carry)
	}
	return s, give
}

// isSaid reports whether it was said which ball was hit.
func isSaid(b analysis.Ball) bool { return b == analysis.NewBall || b == analysis.RangeBall }
