package player

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// A Device measures balls: with noise, and with its own line if it was set up
// askew. A zero device measures nothing.
type Device struct {
	Club   bool // speed, attack, path, face, dynamic loft
	Strike bool // where on the face
	Ball   bool // ball speed, launch, direction, spin, axis
	Landed bool // carry and lateral

	Noise Noise
	Askew float64 // rad its line points right of the target
}

// Noise is the standard deviation of each measurement: rad, m/s and m, or a
// fraction of the value.
type Noise struct {
	ClubSpeed, BallSpeed, Spin, Carry float64 // fractions
	Attack, Path, Face, DynamicLoft   float64
	Launch, Direction, Axis           float64
	Strike, Lateral                   float64 // m
}

// UsualNoise is the noise of a device that sees club and ball (common
// practice, no source).
func UsualNoise() Noise {
	const degree = analysis.Degree
	return Noise{
		ClubSpeed: 0.01, BallSpeed: 0.005, Spin: 0.05, Carry: 0.01,
		Attack: 0.7 * degree, Path: 0.8 * degree, Face: 0.7 * degree, DynamicLoft: 0.8 * degree,
		Launch: 0.3 * degree, Direction: 0.4 * degree, Axis: 2 * degree,
		Strike: 2 * analysis.Millimetre, Lateral: 1,
	}
}

// Measure is what the device makes of a ball.
func (v Device) Measure(s Struck, rng *rand.Rand) analysis.Shot {
	var shot analysis.Shot
	add := func(n analysis.Number, true, sd float64) { shot = shot.With(n, true+sd*rng.NormFloat64()) }
	scale := func(n analysis.Number, true, share float64) { shot = shot.With(n, true*(1+share*rng.NormFloat64())) }
	d, l, at := s.Delivery, s.Launch, s.Landing
	if v.Club {
		scale(analysis.ClubSpeed, d.ClubSpeed, v.Noise.ClubSpeed)
		add(analysis.Attack, d.Attack, v.Noise.Attack)
		add(analysis.Path, d.Path-v.Askew, v.Noise.Path)
		add(analysis.Face, d.Face-v.Askew, v.Noise.Face)
		add(analysis.DynamicLoft, d.DynamicLoft, v.Noise.DynamicLoft)
	}
	if v.Strike {
		add(analysis.StrikeToe, d.StrikeToe, v.Noise.Strike)
		add(analysis.StrikeUp, d.StrikeUp, v.Noise.Strike)
	}
	if v.Ball {
		scale(analysis.BallSpeed, l.Speed, v.Noise.BallSpeed)
		add(analysis.LaunchAngle, l.Angle, v.Noise.Launch)
		add(analysis.Direction, l.Direction-v.Askew, v.Noise.Direction)
		scale(analysis.Spin, l.Spin, v.Noise.Spin)
		add(analysis.SpinAxis, l.Axis, v.Noise.Axis)
	}
	if v.Landed {
		scale(analysis.Carry, at.Carry, v.Noise.Carry)
		add(analysis.Lateral, at.Lateral-v.Askew*at.Carry, v.Noise.Lateral)
	}
	return shot
}
