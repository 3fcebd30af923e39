package panel

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
)

// A device is what measures a world's balls.
type device struct {
	noise  float64 // times the usual standard deviations below
	heavy  bool    // one reading in twelve is four times as noisy
	askew  float64 // the device's target line is this far left of the true one, rad
	metric bool    // rounds metres and m/s, not yards and miles an hour
}

// reading is a number's usual noise and what it is rounded to: common practice,
// no source. share is noise in proportion to the value.
type reading struct{ noise, share, round float64 }

var readings = map[analysis.Number]reading{
	analysis.ClubSpeed:   {noise: 0.30},
	analysis.Attack:      {noise: 0.5 * deg, round: 0.1 * deg},
	analysis.Path:        {noise: 0.5 * deg, round: 0.1 * deg},
	analysis.Face:        {noise: 0.5 * deg, round: 0.1 * deg},
	analysis.DynamicLoft: {noise: 0.5 * deg, round: 0.1 * deg},
	analysis.StrikeToe:   {noise: 0.0020, round: 0.001},
	analysis.StrikeUp:    {noise: 0.0020, round: 0.001},
	analysis.BallSpeed:   {noise: 0.20},
	analysis.LaunchAngle: {noise: 0.2 * deg, round: 0.1 * deg},
	analysis.Direction:   {noise: 0.25 * deg, round: 0.1 * deg},
	analysis.Spin:        {share: 0.02, round: analysis.RevPerMinute},
	analysis.SpinAxis:    {noise: 1.0 * deg, round: 0.1 * deg},
	analysis.Carry:       {noise: 0.3, share: 0.005},
	analysis.Lateral:     {noise: 0.3},
	analysis.Apex:        {noise: 0.2, share: 0.01},
	analysis.Descent:     {noise: 0.5 * deg, round: 0.1 * deg},
	analysis.FlightTime:  {noise: 0.03, round: 0.01},
}

// measured is the order the columns are read in, so that a seed's noise does not
// depend on a map's order.
var measured = []analysis.Number{
	analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft,
	analysis.StrikeToe, analysis.StrikeUp, analysis.BallSpeed, analysis.LaunchAngle,
	analysis.Direction, analysis.Spin, analysis.SpinAxis, analysis.Carry, analysis.Lateral,
	analysis.Apex, analysis.Descent, analysis.FlightTime,
}

// read is a ball as the device writes it down, every column it could have. The
// device's file holds face-to-path, spin loft and smash worked out from its
// own readings, as files do.
func (d device) read(shot analysis.Shot, b Ball, rng *rand.Rand) analysis.Shot {
	carry := b.Flight.Carry
	aim := math.Asin(max(-1, min(1, b.Flight.Lateral/carry)))
	truth := map[analysis.Number]float64{
		analysis.ClubSpeed: b.Delivery.ClubSpeed, analysis.Attack: b.Delivery.Attack,
		analysis.Path: b.Delivery.Path + d.askew, analysis.Face: b.Delivery.Face + d.askew,
		analysis.DynamicLoft: b.Delivery.DynamicLoft,
		analysis.StrikeToe:   b.Delivery.StrikeToe, analysis.StrikeUp: b.Delivery.StrikeUp,
		analysis.BallSpeed: b.Launch.Speed, analysis.LaunchAngle: b.Launch.Angle,
		analysis.Direction: b.Launch.Direction + d.askew,
		analysis.Spin:      b.Launch.Spin, analysis.SpinAxis: b.Launch.Axis,
		analysis.Carry: carry, analysis.Lateral: carry * math.Sin(aim+d.askew),
		analysis.Apex: b.Flight.Apex, analysis.Descent: b.Flight.Descent, analysis.FlightTime: b.Flight.Time,
	}
	for _, n := range measured {
		r, v := readings[n], truth[n]
		sd := d.noise * math.Hypot(r.noise, r.share*v)
		z := rng.NormFloat64()
		if rare := rng.Float64() < 1.0/12; rare && d.heavy {
			z *= 4
		}
		shot = shot.With(n, d.round(n, r, v+sd*z))
	}
	return d.worked(shot)
}

func (d device) round(n analysis.Number, r reading, v float64) float64 {
	to := r.round
	if to == 0 {
		switch {
		case n.Info().Kind == analysis.Speed && d.metric:
			to = 0.1
		case n.Info().Kind == analysis.Speed:
			to = 0.1 * analysis.MilePerHour
		case d.metric:
			to = 0.1
		default:
			to = 0.1 * analysis.Yard
		}
	}
	return to * math.Round(v/to)
}

func (d device) worked(s analysis.Shot) analysis.Shot {
	value := func(n analysis.Number) float64 { v, _ := s.Value(n); return v }
	club := direction(value(analysis.Path), value(analysis.Attack))
	face := direction(value(analysis.Face), value(analysis.DynamicLoft))
	round := func(v, to float64) float64 { return to * math.Round(v/to) }
	s = s.With(analysis.FaceToPath, value(analysis.Face)-value(analysis.Path))
	s = s.With(analysis.SpinLoft, round(math.Acos(max(-1, min(1, club.dot(face)))), 0.1*deg))
	return s.With(analysis.Smash, round(value(analysis.BallSpeed)/value(analysis.ClubSpeed), 0.01))
}
