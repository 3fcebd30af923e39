package main

import "rangepost/analysis"

// A column is one number of an export with its header, unit and decimals.
type column struct {
	number   analysis.Number
	head     string
	unit     string
	scale    float64 // SI units in one of the unit
	decimals int
	letters  bool // the side as a letter, "2.9 L", rather than a sign
}

// clubAndBall is what a device that sees both exports, and ballOnly what one
// that sees only the ball does, in SI.
var (
	clubAndBall = []analysis.Number{analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft,
		analysis.StrikeToe, analysis.StrikeUp, analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin,
		analysis.SpinAxis, analysis.Carry, analysis.Lateral}
	ballOnly = []analysis.Number{analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis,
		analysis.Carry, analysis.Lateral}
)

var english = map[analysis.Number]string{
	analysis.ClubSpeed: "Club Speed", analysis.Attack: "Attack Angle", analysis.Path: "Club Path", analysis.Face: "Face Angle",
	analysis.DynamicLoft: "Dynamic Loft", analysis.StrikeToe: "Strike Across", analysis.StrikeUp: "Strike Height",
	analysis.BallSpeed: "Ball Speed", analysis.LaunchAngle: "Launch Angle", analysis.Direction: "Launch Direction",
	analysis.Spin: "Spin Rate", analysis.SpinAxis: "Spin Axis", analysis.Carry: "Carry", analysis.Lateral: "Offline",
}

// units makes columns of numbers in the units given for speeds and lengths.
func units(numbers []analysis.Number, speed string, mps float64, length string, metres float64) []column {
	var all []column
	for _, n := range numbers {
		c := column{number: n, head: english[n], decimals: 1}
		switch n.Info().Kind {
		case analysis.Angle:
			c.unit, c.scale = "deg", analysis.Degree
		case analysis.Speed:
			c.unit, c.scale = speed, mps
		case analysis.Length:
			c.unit, c.scale = length, metres
		case analysis.Small:
			c.unit, c.scale = "mm", analysis.Millimetre
		case analysis.Rate:
			c.unit, c.scale, c.decimals = "rpm", analysis.RevPerMinute, 0
		}
		all = append(all, c)
	}
	return all
}

func imperial(ns []analysis.Number) []column {
	return units(ns, "mph", analysis.MilePerHour, "yd", analysis.Yard)
}

func metric(ns []analysis.Number) []column {
	return units(ns, "km/h", analysis.KMPerHour, "m", 1)
}

// mixed is miles an hour beside metres.
func mixed(ns []analysis.Number) []column {
	return units(ns, "mph", analysis.MilePerHour, "m", 1)
}

// letters writes sides as letters.
func letters(cs []column) []column {
	for i := range cs {
		cs[i].letters = cs[i].number.Info().Sideways
	}
	return cs
}

// translated gives columns other headers.
func translated(cs []column, heads map[analysis.Number]string, degree string) []column {
	for i := range cs {
		cs[i].head = heads[cs[i].number]
		if cs[i].unit == "deg" {
			cs[i].unit = degree
		}
	}
	return cs
}

func german(cs []column) []column {
	return translated(cs, map[analysis.Number]string{
		analysis.ClubSpeed: "Schlägergeschwindigkeit", analysis.Attack: "Eintreffwinkel", analysis.Path: "Schwungbahn",
		analysis.Face: "Schlagflächenwinkel", analysis.DynamicLoft: "Dynamischer Loft", analysis.StrikeToe: "Treffpunkt seitlich",
		analysis.StrikeUp: "Treffpunkt Höhe", analysis.BallSpeed: "Ballgeschwindigkeit", analysis.LaunchAngle: "Abflugwinkel",
		analysis.Direction: "Startrichtung", analysis.Spin: "Spinrate", analysis.SpinAxis: "Spinachse", analysis.Carry: "Fluglänge",
		analysis.Lateral: "Seitenabweichung",
	}, "Grad")
}

func french(cs []column) []column {
	return translated(cs, map[analysis.Number]string{
		analysis.ClubSpeed: "Vitesse du club", analysis.Attack: "Angle d'attaque", analysis.Path: "Chemin du club",
		analysis.Face: "Angle de face", analysis.DynamicLoft: "Loft dynamique", analysis.StrikeToe: "Impact horizontal",
		analysis.StrikeUp: "Impact vertical", analysis.BallSpeed: "Vitesse de balle", analysis.LaunchAngle: "Angle de décollage",
		analysis.Direction: "Direction de départ", analysis.Spin: "Taux de spin", analysis.SpinAxis: "Axe de spin",
		analysis.Carry: "Portée", analysis.Lateral: "Écart latéral",
	}, "°")
}
