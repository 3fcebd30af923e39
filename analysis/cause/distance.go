package cause

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// doubtCarry is how far the model's slope of carry on any of its owners may be
// off, as a factor: the published coefficient sets differ by about this much
// (our choice).
const doubtCarry = 0.15

// aShare is the part of a miss that makes its owner one of two.
const aShare = 1.0 / 3

// The owners of a miss in length, in the order of their parts.
const (
	bySpeed = iota
	byStrike
	byLoft
	bySpin
	byAir
	byClub // what is left
)

// distance says why the balls finish short or long of the target carry. What
// each of them does is set against a reference, one thing at a time: the golfer's
// usual with this club where it is known (Config.Usual), else the better of two
// kinds of swing where the set has two. What no reference tells owns nothing,
// and then what is left over may be the club or the whole swing: not known.
func distance(used []analysis.Shot, m *ball.Model, c Config, usual *Usual) Distance {
	carries, _ := analysis.Values(used, analysis.Carry)
	if c.Target <= 0 || len(carries) == 0 {
		return Distance{Verdict: DistanceNone}
	}
	d := Distance{Known: true, Verdict: DistanceNone, Miss: stat.Mean(carries), Against: usual.sessions()}
	d.Miss.Mean -= c.Target
	if d.Miss.OK {
		d.Miss.Low -= c.Target
		d.Miss.High -= c.Target
	}
	fliers := fliersOf(used, m)
	if len(carries) < leastBalls {
		d.Verdict = DistanceTooFew
		return d
	}
	if len(fliers) < leastBalls {
		return d
	}
	reference := usual.reference(fliers, c.Target)
	mean := meanOf(fliers)
	slope := slopesAt(mean.between(reference.flier), m)
	parts := means{n: len(fliers)}
	rows := make([][numParts]float64, len(fliers))
	for i, f := range fliers {
		rows[i] = slope.parts(f, reference.flier)
		rows[i][byClub] = f.carry - c.Target
		for _, v := range rows[i][:byClub] {
			rows[i][byClub] -= v
		}
	}
	parts.of(rows)
	for _, v := range parts.mean {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return d // numbers no ball has: the model has no slope there
		}
	}
	limits, n, verdict, p := ownersOf(parts, slope.parts(reference.unsure(mean), flier{}), max(3*analysis.Yard, 0.03*c.Target), c)
	for i, to := range []*analysis.Estimate{&d.Speed, &d.Strike, &d.Loft, &d.Spin, &d.Air, &d.Rest} {
		*to = analysis.Estimate{N: n, Mean: parts.mean[i], Low: limits[i][0], High: limits[i][1], OK: true}
	}
	d.Verdict, d.Confidence = verdict, p
	switch {
	case p < c.level() && d.Miss.Excludes(0):
		d.Verdict = DistanceUnknown
	case p < c.level():
		d.Verdict = DistanceTooFew
	case usual == nil && (verdict == DistanceClub || verdict == DistanceTwo && d.Rest.Mean/d.Miss.Mean >= aShare):
		d.Verdict = DistanceUnknown // what is left over may be another swing as well
	}
	return d
}

// parts are what a ball owes to each owner, m, against a reference: linear in
// what it differs by, loft with the smash and spin that come with it and speed
// with its spin.
func (s slopes) parts(f, r flier) (v [numParts]float64) {
	launch, speed := f.launch-r.launch, f.speed-r.speed
	v[bySpeed] = s.speed * speed
	v[byLoft] = s.loft * launch
	v[bySpin] = s.spin * (f.spin - r.spin - s.spinByLaunch*launch - s.spinBySpeed*speed)
	v[byStrike] = s.smash * (f.smash - r.smash - s.smashByLaunch*launch)
	v[byAir] = f.air - r.air
	return v
}

// ownersOf weighs who owns the miss over balls, slopes and reference, and what
// each of them may have.
func ownersOf(parts means, unsure [numParts]float64, zero float64, c Config) (limits [numParts][2]float64, n int, best DistanceVerdict, p float64) {
	rng := rand.New(rand.NewPCG(c.Seed, 0xa0761d6478bd642f))
	names := [numParts]DistanceVerdict{DistanceSpeed, DistanceStrike, DistanceLoft, DistanceSpin, DistanceAir, DistanceClub}
	counts := map[DistanceVerdict]int{}
	var drawn [numParts][]float64
	total := 0
	for k := 0; k < c.draws(); k += 2 {
		var off, reference [byClub]float64
		for i := range off {
			off[i] = math.Exp(doubtCarry * rng.NormFloat64())
			reference[i] = unsure[i] * rng.NormFloat64()
		}
		for _, v := range parts.sample(rng, parts.n) {
			total++
			miss := 0.0
			for _, x := range v {
				miss += x
			}
			v[byClub] = miss
			for i := range off {
				v[i] = v[i]*off[i] + reference[i]
				v[byClub] -= v[i]
			}
			for i, x := range v {
				drawn[i] = append(drawn[i], x)
			}
			if math.Abs(miss) <= zero {
				counts[DistanceCentred]++
				continue
			}
			first, second := 0, -1
			for i := 1; i < numParts; i++ {
				switch {
				case v[i]/miss > v[first]/miss:
					first, second = i, first
				case second < 0 || v[i]/miss > v[second]/miss:
					second = i
				}
			}
			owner := names[first]
			if v[second]/miss >= aShare {
				owner = DistanceTwo
			}
			counts[owner]++
		}
	}
	for i := range drawn {
		limits[i][0], limits[i][1] = middle95(drawn[i])
	}
	best = DistanceCentred
	for _, o := range append(names[:], DistanceTwo) {
		if counts[o] > counts[best] {
			best = o
		}
	}
	return limits, parts.n, best, float64(counts[best]) / float64(total)
}
