package analysis

import "math"

// One of each unit, in SI. Exact by definition (international yard and pound,
// 1959), except the revolution, which is exact by geometry.
const (
	Yard         = 0.9144           // metres
	Foot         = 0.3048           // metres
	Inch         = 0.0254           // metres
	Millimetre   = 0.001            // metres
	MilePerHour  = 0.44704          // metres a second
	KMPerHour    = 1 / 3.6          // metres a second
	Knot         = 1852.0 / 3600    // metres a second
	Degree       = math.Pi / 180    // radians
	RevPerMinute = 2 * math.Pi / 60 // radians a second
	ZeroCelsius  = 273.15           // kelvin
)

// Units are the units a golfer is shown distances and speeds in. Of the zero
// Units nothing was chosen: that is yards and miles an hour.
type Units struct {
	Distance DistanceUnit
	Speed    SpeedUnit
}

// DistanceUnit is a unit distances are shown in; "" is none chosen.
type DistanceUnit string

// SpeedUnit is a unit speeds are shown in; "" is none chosen.
type SpeedUnit string

// The units to choose from.
const (
	Yards           DistanceUnit = "yd"
	Metres          DistanceUnit = "m"
	MilesPerHour    SpeedUnit    = "mph"
	MetresPerSecond SpeedUnit    = "mps"
)

// Or is the units with what was not chosen taken from others.
func (u Units) Or(others Units) Units {
	if u.Distance == "" {
		u.Distance = others.Distance
	}
	if u.Speed == "" {
		u.Speed = others.Speed
	}
	return u
}

// Scale is how many SI units make one of the units kind k is shown in.
func (u Units) Scale(k Kind) float64 {
	switch k {
	case Angle:
		return Degree
	case Speed:
		if u.Speed == MetresPerSecond {
			return 1
		}
		return MilePerHour
	case Length:
		if u.Distance == Metres {
			return 1
		}
		return Yard
	case Small:
		return Millimetre
	case Rate:
		return RevPerMinute
	case Share:
		return 0.01
	}
	return 1
}
