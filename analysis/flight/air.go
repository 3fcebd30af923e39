package flight

import (
	"math"

	"rangepost/analysis"
)

// Air is what the ball flies through.
type Air struct {
	Density   float64 // kg/m^3
	Viscosity float64 // dynamic, Pa s
}

// Constants of the standard atmosphere, exact by definition in it.
const (
	seaLevelTemperature = 288.15   // K
	seaLevelPressure    = 101325.0 // Pa
	lapse               = 0.0065   // K/m
	dryAir              = 287.0529 // specific gas constant, J/(kg K)
	earthRadius         = 6356766  // m, of the standard atmosphere
)

// StandardAir is dry air of the standard atmosphere at a height above sea
// level in m, up to 11,000 m.
//
//	T = 288.15 - 0.0065 H,  p = 101325 (T/288.15)^5.25588,  rho = p/(287.0529 T),
//	H = r0 z/(r0 + z)
//
// US Standard Atmosphere 1976 and ISO 2533. [S]
func StandardAir(height float64) Air {
	t, p := standard(height)
	return Air{Density: p / (dryAir * t), Viscosity: viscosity(t)}
}

func standard(height float64) (temperature, pressure float64) {
	h := earthRadius * height / (earthRadius + height)
	t := seaLevelTemperature - lapse*h
	return t, seaLevelPressure * math.Pow(t/seaLevelTemperature, 5.25588)
}

// viscosity is Sutherland's law with the constants of the standard atmosphere.
func viscosity(t float64) float64 {
	return 1.458e-6 * t * math.Sqrt(t) / (t + 110.4)
}

// AirOf is the air of a session: pressure of the standard atmosphere at its
// altitude (sea level when unknown), at its temperature (the standard one for
// that altitude when unknown), and dry, because no file says how humid it was:
// at 30 °C and half saturated that makes the air 0.8 % too heavy, worth under
// a yard on any carry.
func AirOf(c analysis.Conditions) Air {
	height := 0.0
	if c.Altitude != nil {
		height = *c.Altitude
	}
	t, p := standard(height)
	if c.Temperature != nil {
		t = *c.Temperature
	}
	return Air{Density: p / (dryAir * t), Viscosity: viscosity(t)}
}
