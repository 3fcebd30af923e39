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

// MoistAir is air of a temperature in K, a pressure in Pa and a relative
// humidity of 0 to 1, by the formula of the weights and measures laboratories,
// for 15 to 27 °C and 600 to 1100 hPa; outside it is still far better than a
// golf ball needs. A viscosity of moist air is not distinguished from dry.
//
// Picard, A., Davis, R. S., Gläser, M. and Fujii, K. (2008), Revised formula
// for the density of moist air (CIPM-2007), Metrologia 45:149. [S]
func MoistAir(temperature, pressure, humidity float64) Air {
	const (
		gas      = 8.314472    // J/(mol K)
		dryMolar = 28.96546e-3 // kg/mol, at 400 parts per million of carbon dioxide
		vapour   = 1 - 18.01528e-3/dryMolar
	)
	t := temperature - analysis.ZeroCelsius
	saturated := math.Exp(1.2378847e-5*temperature*temperature - 1.9121316e-2*temperature + 33.93711047 - 6.3431645e3/temperature)
	enhancement := 1.00062 + 3.14e-8*pressure + 5.6e-7*t*t
	x := humidity * enhancement * saturated / pressure
	r := pressure / temperature
	z := 1 - r*(1.58123e-6-2.9331e-8*t+1.1043e-10*t*t+(5.707e-6-2.051e-8*t)*x+(1.9898e-4-2.376e-6*t)*x*x) +
		r*r*(1.83e-11-0.765e-8*x*x)
	return Air{
		Density:   pressure * dryMolar / (z * gas * temperature) * (1 - x*vapour),
		Viscosity: viscosity(temperature),
	}
}
