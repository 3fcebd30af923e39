package sessionfile

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/impact"
)

// knownShots is the one session the shapes are written from: two clubs, two
// labels, a golfer whose face and path wander together, struck and flown by
// the models and measured with the noise of a device. A constant part of the
// error stands for a device set up a little askew, a loss of carry for range
// balls, factors on spin, axis and curve for what its maker thinks of them: the
// reader knows of none.
//
// rough multiplies the noise: 1 is a good device, 3 a poor one.
func knownShots(rng *rand.Rand, n int, rough float64) []analysis.Shot {
	clubs := []struct {
		key                     string
		speed, attack, loft     float64
		path, face, ballsPerSet float64
	}{
		{"driver", 44, 1.5, 13, -2.5, -1, 0},
		{"7i", 36, -4, 24, 1.5, 0.5, 0},
	}
	air := flight.Standard()
	askew := 0.8 * degree * rng.NormFloat64()
	short := 0.9 + 0.1*rng.Float64()
	spun, tilt, bend := 0.8+0.4*rng.Float64(), 0.75+0.5*rng.Float64(), 0.75+0.5*rng.Float64()
	var shots []analysis.Shot
	for i := range n {
		c := clubs[i*len(clubs)/n]
		club, _ := analysis.ParseClub(c.key)
		label := "normal"
		grip := 0.0
		if i%4 >= 2 {
			label, grip = "strong grip", -3
		}
		swing := rng.NormFloat64()
		d := analysis.Delivery{
			ClubSpeed:   c.speed + 0.8*rng.NormFloat64(),
			Attack:      (c.attack + 0.8*rng.NormFloat64()) * degree,
			Path:        (c.path + 1.6*swing) * degree,
			Face:        (c.face + grip + 0.8*swing + 1.4*rng.NormFloat64()) * degree,
			DynamicLoft: (c.loft + 0.9*rng.NormFloat64()) * degree,
			StrikeToe:   0.006 * rng.NormFloat64(),
			StrikeUp:    0.004 * rng.NormFloat64(),
		}
		h := impact.HeadOf(club)
		l := h.Strike(d)
		to := air.Fly(l)
		noisy := func(v, sd float64) float64 { return v + rough*sd*rng.NormFloat64() }
		s := analysis.Shot{N: i + 1, Club: club, Label: label}
		for number, v := range map[analysis.Number]float64{
			analysis.ClubSpeed: noisy(d.ClubSpeed, 0.3), analysis.Attack: noisy(d.Attack, 0.4*degree),
			analysis.Path: noisy(d.Path, 0.6*degree), analysis.Face: noisy(d.Face, 0.5*degree),
			analysis.DynamicLoft: noisy(d.DynamicLoft, 0.5*degree),
			analysis.StrikeToe:   d.StrikeToe, analysis.StrikeUp: d.StrikeUp,
			analysis.BallSpeed: noisy(l.Speed, 0.2), analysis.LaunchAngle: noisy(l.Angle, 0.3*degree),
			analysis.Direction: noisy(l.Direction+askew, 0.3*degree), analysis.Spin: l.Spin * spun * noisy(1, 0.04),
			analysis.SpinAxis: noisy(l.Axis*tilt, 2*degree),
			analysis.Carry:    to.Carry * short * noisy(1, 0.01), analysis.Total: to.Carry*short + 12,
			analysis.Lateral: noisy(short*to.Carry*math.Tan(bend*(math.Atan(to.Lateral/to.Carry)-l.Direction)+l.Direction+askew), 1), analysis.Apex: to.Apex * noisy(1, 0.02),
			analysis.Descent: noisy(to.Descent, 0.5*degree), analysis.FlightTime: noisy(to.Time, 0.05),
		} {
			s = s.With(number, v)
		}
		v, _ := s.Value(analysis.Lateral)
		shots = append(shots, s.With(analysis.LateralTotal, 1.05*v))
	}
	return shots
}
