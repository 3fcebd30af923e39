package cause

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

// distance says why the balls finish short or long of the target carry. What
// each of them does is set against a reference, one thing at a time: the golfer's
// usual with this club where it is known (Config.Usual), else the better of two
// kinds of swing where the set has two. What no reference tells owns nothing,
// and then what is left over may be the club or the whole swing: not known.
func distance(used []analysis.Shot, club analysis.Club, m *ball.Model, off ball.Doubt, seen launchSeen, streak stat.Streak, c Config, usual *Usual) Distance {
	carries, _ := analysis.Values(used, analysis.Carry)
	if c.Target <= 0 || len(carries) == 0 {
		return Distance{Verdict: DistanceNone}
	}
	d := Distance{Known: true, Verdict: DistanceNone, Miss: streak.Mean(carries), Against: usual.sessions()}
	d.Miss.Mean -= c.Target
	if d.Miss.OK {
		d.Miss.Low -= c.Target
		d.Miss.High -= c.Target
	}
	// Beside earlier sessions what counts is how the flight changes from their launch
	// to today's, which a flight that fits today's carry and apex tells better.
	// Without them the air is what is off the published flight.
	if usual != nil {
		fitted := *m
		fitted.Flight = m.Off(off).Flight
		usual = usual.in(m, &fitted)
		m = &fitted
	}
	fliers := fliersOf(used, m)
	if len(carries) < leastBalls {
		d.Verdict = DistanceTooFew
		return d
	}
	if len(fliers) < leastBalls {
		return d
	}
	e := owing{
		means: means{n: len(fliers), streak: streak}, reference: usual.reference(fliers, lacksClub(used), c.Target, m), at: meanOf(fliers),
		seen: seen, zero: max(3*analysis.Yard, 0.03*c.Target), config: c,
	}
	e.off = e.at.less(e.reference.flier)
	e.slopes = slopesAt(e.at.between(e.reference.flier), m)
	for _, day := range e.reference.days {
		e.reference.off = append(e.reference.off, e.slopes.parts(day, e.reference))
	}
	e.doubtFlight(some(fliers), m)
	e.said, e.give = said(e.at, club, c.Ball, c.Hand, c.Conditions)
	e.unnamed = !isSaid(c.Ball)
	if usual != nil {
		e.said = e.said.less(usual.said)
		e.unnamed = e.unnamed && usual.named && usual.said.Ball == 0
	}
	d.Said = e.said
	rows := make([][numParts]float64, len(fliers))
	for i, f := range fliers {
		// Each by its own slopes, halfway to the reference: what a few degrees of loft or
		// a third of the spin makes of a carry is no straight line.
		rows[i] = slopesAt(f.between(e.reference.flier), m).parts(f, e.reference)
		rows[i][byClub] = f.carry - c.Target
		for _, v := range rows[i][:byClub] {
			rows[i][byClub] -= v
		}
	}
	e.of(rows)
	drawn, mean := e.draw()
	for _, v := range mean {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return d // numbers no ball has: the model has no slope there
		}
	}
	// Balls without a speed owe what nothing is known of.
	unowed := d.Miss.Mean
	for _, v := range mean {
		unowed -= v
	}
	mean[byClub] += unowed
	for i := range drawn {
		drawn[i][byClub] += unowed
	}
	column := make([]float64, len(drawn))
	for i, to := range []*analysis.Estimate{&d.Speed, &d.Strike, &d.Loft, &d.Spin, &d.Air, &d.Rest} {
		for k, v := range drawn {
			column[k] = v[i]
		}
		low, high := middle95(column)
		*to = analysis.Estimate{N: e.n, Mean: mean[i], Low: min(low, mean[i]), High: max(high, mean[i]), OK: true}
	}
	air := 0.0
	d.Verdict, d.Confidence, air = e.owner(drawn, mean)
	d.Clubless = e.reference.clubless
	// Off the middle of the face a ball only loses speed: that balls are long
	// because of how they were struck is far less likely than that the device or
	// the flight is off. And every golfer strikes some balls worse than others, which
	// alone moves the mean of a few: where a miss may be luck, theirs is.
	unstruck := d.Verdict == DistanceStrike && (d.Miss.Mean > 0 || !d.Miss.Excludes(0))
	switch {
	case d.Confidence >= c.level() && e.reference.tells(d.Verdict, mean) && !unstruck:
	case !d.Miss.Excludes(0):
		d.Verdict = DistanceTooFew
	case air >= saidLevel && e.explained(d.Miss):
		d.Verdict, d.Confidence, d.Spoken = DistanceAir, air, true
	default:
		d.Verdict = DistanceUnknown
	}
	return d
}
