package cause

import (
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// doubtCarry is how far the model's slope of carry on any of its four owners
// may be off, as a factor: the published coefficient sets differ by about this
// much (our choice).
const doubtCarry = 0.15

// flier is a ball's carry and what it owes it to.
type flier struct{ carry, speed, smash, launch, spin float64 }

// distance says why the balls finish short or long of the target carry: club
// speed, strike (ball speed over club speed), loft (by the launch angle it
// gives) or spin, each against the set's own well-struck balls, the best
// quarter by smash factor. The slopes are the model's at the set's mean; what
// they leave over is how far the well-struck balls themselves are off, and
// then the club does not carry the target.
func distance(used []analysis.Shot, m *ball.Model, c Config) Distance {
	carries, _ := analysis.Values(used, analysis.Carry)
	if c.Target <= 0 || len(carries) == 0 {
		return Distance{Verdict: DistanceNone}
	}
	d := Distance{Known: true, Verdict: DistanceNone, Miss: stat.Mean(carries)}
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

	reference := wellStruck(fliers)
	slope := slopes(meanOf(fliers), m)
	parts := means{n: len(fliers)}
	rows := make([][numParts]float64, len(fliers))
	for i, f := range fliers {
		v := [numParts]float64{
			slope.speed * (f.speed - reference.speed), slope.smash * (f.smash - reference.smash),
			slope.launch * (f.launch - reference.launch), slope.spin * (f.spin - reference.spin),
		}
		v[4] = f.carry - c.Target - v[0] - v[1] - v[2] - v[3]
		rows[i] = v
	}
	parts.of(rows)
	for _, v := range parts.mean {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return d // numbers no ball has: the model has no slope there
		}
	}
	d.Speed, d.Strike, d.Loft, d.Spin, d.Rest = parts.mean[0], parts.mean[1], parts.mean[2], parts.mean[3], parts.mean[4]
	d.Verdict, d.Confidence = distanceVerdict(parts, max(3*analysis.Yard, 0.03*c.Target), c)
	return d
}

// fliersOf lists the balls whose carry can be owned up to. A launch angle or a
// spin that no ball has is the model's usual one for all, and owns nothing.
func fliersOf(used []analysis.Shot, m *ball.Model) []flier {
	usual := m.Head.Strike(m.Head.Usual.Delivery())
	any := func(n analysis.Number) bool { v, _ := analysis.Values(used, n); return len(v) > 0 }
	launched, spun := any(analysis.LaunchAngle), any(analysis.Spin)
	var fliers []flier
	for _, s := range used {
		f := flier{launch: usual.Angle, spin: usual.Spin}
		ok := true
		need := func(n analysis.Number, to *float64) {
			v, has := s.Value(n)
			*to, ok = v, ok && has
		}
		need(analysis.Carry, &f.carry)
		need(analysis.ClubSpeed, &f.speed)
		need(analysis.Smash, &f.smash)
		if launched {
			need(analysis.LaunchAngle, &f.launch)
		}
		if spun {
			need(analysis.Spin, &f.spin)
		}
		if ok {
			fliers = append(fliers, f)
		}
	}
	return fliers
}

func meanOf(fliers []flier) (m flier) {
	n := float64(len(fliers))
	for _, f := range fliers {
		m.carry += f.carry / n
		m.speed += f.speed / n
		m.smash += f.smash / n
		m.launch += f.launch / n
		m.spin += f.spin / n
	}
	return m
}

// wellStruck is the mean of the best quarter by smash factor, three at least.
func wellStruck(fliers []flier) flier {
	best := slices.Clone(fliers)
	slices.SortStableFunc(best, func(a, b flier) int {
		switch {
		case a.smash > b.smash:
			return -1
		case a.smash < b.smash:
			return 1
		}
		return 0
	})
	return meanOf(best[:max(3, len(best)/4)])
}

// slopes are what one more unit of each owner is worth in carry at a ball, by
// central differences.
func slopes(at flier, m *ball.Model) (slope flier) {
	carry := func(f flier) float64 {
		return m.Flight.Fly(analysis.Launch{Speed: f.speed * f.smash, Angle: f.launch, Spin: f.spin}).Carry
	}
	by := func(move func(f *flier, step float64), step float64) float64 {
		more, less := at, at
		move(&more, step)
		move(&less, -step)
		return (carry(more) - carry(less)) / (2 * step)
	}
	slope.speed = by(func(f *flier, step float64) { f.speed += step }, 0.5)
	slope.smash = by(func(f *flier, step float64) { f.smash += step }, 0.01)
	slope.launch = by(func(f *flier, step float64) { f.launch += step }, 0.5*analysis.Degree)
	slope.spin = by(func(f *flier, step float64) { f.spin += step }, 100*analysis.RevPerMinute)
	return slope
}

// distanceVerdict names the owner of most of the miss, if it is probable
// enough over balls and slopes.
func distanceVerdict(parts means, zero float64, c Config) (DistanceVerdict, float64) {
	rng := rand.New(rand.NewPCG(c.Seed, 0xa0761d6478bd642f))
	owners := [...]DistanceVerdict{DistanceSpeed, DistanceStrike, DistanceLoft, DistanceSpin, DistanceClub}
	counts := map[DistanceVerdict]int{}
	total := 0
	for k := 0; k < c.draws(); k += 2 {
		var off [4]float64
		for i := range off {
			off[i] = math.Exp(doubtCarry * rng.NormFloat64())
		}
		for _, v := range parts.sample(rng, parts.n) {
			total++
			miss := v[0] + v[1] + v[2] + v[3] + v[4]
			if math.Abs(miss) <= zero {
				counts[DistanceCentred]++
				continue
			}
			v[4] = miss
			for i := range off {
				v[i] *= off[i]
				v[4] -= v[i]
			}
			way, most := math.Copysign(1, miss), 0
			for i := range owners {
				if way*v[i] > way*v[most] {
					most = i
				}
			}
			counts[owners[most]]++
		}
	}
	best := DistanceCentred
	for _, o := range owners {
		if counts[o] > counts[best] {
			best = o
		}
	}
	p := float64(counts[best]) / float64(total)
	if p < c.level() {
		return DistanceTooFew, p
	}
	return best, p
}
