package clubyear

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A Device is what somebody's balls are measured by: one of two kinds, in two
// dresses each.
type Device string

// The devices. Bays measure club and ball, boxes the ball alone.
const (
	Bay      Device = "bay"
	BayLine  Device = "bay with a heading" // names day and player above the table
	Box      Device = "box"
	BoxComma Device = "box with commas"
)

// Devices lists the devices in a fixed order.
func Devices() []Device { return []Device{Bay, BayLine, Box, BoxComma} }

// hasClub reports whether the device measures what the club does.
func (d Device) hasClub() bool { return d == Bay || d == BayLine }

// metric reports whether the device writes metres.
func (d Device) metric() bool { return d == Box || d == BoxComma }

// A column is a number as a device writes it: its heading without the unit, the
// unit in SI with its name, and how many decimals.
type column struct {
	n        analysis.Number
	head     string
	unit     float64
	name     string
	decimals int
}

// columns are the device's, in the order of its file.
func (d Device) columns() []column {
	deg, yd, mph := analysis.Degree, analysis.Yard, analysis.MilePerHour
	if d.metric() {
		return []column{
			{analysis.BallSpeed, "Ball Speed", 1, "m/s", 1},
			{analysis.LaunchAngle, "Launch Angle", deg, "deg", 1},
			{analysis.Direction, "Launch Direction", deg, "deg", 1},
			{analysis.Spin, "Spin Rate", 10 * analysis.RevPerMinute, "rpm", -1},
			{analysis.SpinAxis, "Spin Axis", deg, "deg", 0},
			{analysis.Carry, "Carry", 1, "m", 1},
			{analysis.Lateral, "Lateral", 1, "m", 1},
		}
	}
	return []column{
		{analysis.ClubSpeed, "Club Speed", mph, "mph", 1},
		{analysis.Attack, "Attack Angle", deg, "deg", 1},
		{analysis.Path, "Club Path", deg, "deg", 1},
		{analysis.Face, "Face Angle", deg, "deg", 1},
		{analysis.DynamicLoft, "Dynamic Loft", deg, "deg", 1},
		{analysis.BallSpeed, "Ball Speed", mph, "mph", 1},
		{analysis.LaunchAngle, "Launch Angle", deg, "deg", 1},
		{analysis.Direction, "Launch Direction", deg, "deg", 1},
		{analysis.Spin, "Spin", analysis.RevPerMinute, "rpm", 0},
		{analysis.SpinAxis, "Spin Axis", deg, "deg", 1},
		{analysis.Apex, "Apex", analysis.Foot, "ft", 0},
		{analysis.Descent, "Descent Angle", deg, "deg", 1},
		{analysis.Carry, "Carry", yd, "yd", 1},
		{analysis.Lateral, "Lateral", yd, "yd", 1},
	}
}

// noise is the standard deviation of one reading, and what of it is in proportion
// to the value.
var noise = map[analysis.Number]struct{ fixed, share float64 }{
	analysis.ClubSpeed:   {0.35, 0},
	analysis.Attack:      {0.5 * analysis.Degree, 0},
	analysis.Path:        {0.5 * analysis.Degree, 0},
	analysis.Face:        {0.5 * analysis.Degree, 0},
	analysis.DynamicLoft: {0.6 * analysis.Degree, 0},
	analysis.BallSpeed:   {0.2, 0},
	analysis.LaunchAngle: {0.2 * analysis.Degree, 0},
	analysis.Direction:   {0.2 * analysis.Degree, 0},
	analysis.Spin:        {0, 0.02},
	analysis.SpinAxis:    {0.8 * analysis.Degree, 0},
	analysis.Apex:        {0.2, 0.01},
	analysis.Descent:     {0.4 * analysis.Degree, 0},
	analysis.Carry:       {0.3, 0.005},
	analysis.Lateral:     {0.3, 0},
}

// read is a ball as the device measures it, every number of its columns, not yet
// rounded.
func (d Device) read(c analysis.Club, dl analysis.Delivery, l analysis.Launch, f panel.Flight, rng *rand.Rand) analysis.Shot {
	shot := trueShot(c, dl, l, f)
	for _, col := range d.columns() {
		v, _ := shot.Value(col.n)
		sd := noise[col.n]
		shot = shot.With(col.n, v+math.Hypot(sd.fixed, sd.share*v)*rng.NormFloat64())
	}
	return shot
}

// trueShot is what a device without error or limit would read.
func trueShot(c analysis.Club, d analysis.Delivery, l analysis.Launch, f panel.Flight) analysis.Shot {
	return analysis.Shot{Club: c}.
		With(analysis.ClubSpeed, d.ClubSpeed).With(analysis.Attack, d.Attack).
		With(analysis.Path, d.Path).With(analysis.Face, d.Face).
		With(analysis.DynamicLoft, d.DynamicLoft).
		With(analysis.BallSpeed, l.Speed).With(analysis.LaunchAngle, l.Angle).
		With(analysis.Direction, l.Direction).With(analysis.Spin, l.Spin).With(analysis.SpinAxis, l.Axis).
		With(analysis.Apex, f.Apex).With(analysis.Descent, f.Descent).
		With(analysis.Carry, f.Carry).With(analysis.Lateral, f.Lateral)
}
