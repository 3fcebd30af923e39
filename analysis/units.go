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
	Degree       = math.Pi / 180    // radians
	RevPerMinute = 2 * math.Pi / 60 // radians a second
	ZeroCelsius  = 273.15           // kelvin
)
