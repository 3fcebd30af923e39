package flight

import (
	"math"

	"rangepost/analysis"
)

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
