package flight_test

import (
	"fmt"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

func ExampleModel_Fly() {
	m := flight.Standard()
	l := m.Fly(analysis.Launch{
		Speed: 53,
		Angle: 16.5 * analysis.Degree,
		Spin:  6800 * analysis.RevPerMinute,
		Axis:  5 * analysis.Degree, // curves to the right
	})
	fmt.Printf("carry %.0f m, %.1f m right, %.0f m high, %.1f s\n", l.Carry, l.Lateral, l.Apex, l.Time)
	// Output: carry 148 m, 6.2 m right, 25 m high, 5.8 s
}

func ExampleModel_Rest() {
	m := flight.Standard()
	l := m.Fly(analysis.Launch{Speed: 70, Angle: 12 * analysis.Degree, Spin: 2600 * analysis.RevPerMinute})
	x, _ := m.Rest(l)
	fmt.Printf("carry %.0f m, total %.0f m\n", l.Carry, x)
	// Output: carry 231 m, total 252 m
}

func ExampleOf() {
	height, temperature := 1600.0, analysis.ZeroCelsius+25
	launch := analysis.Launch{Speed: 70, Angle: 12 * analysis.Degree, Spin: 2600 * analysis.RevPerMinute}

	home := flight.Standard()
	away := flight.Of(analysis.Conditions{Altitude: &height, Temperature: &temperature})
	fmt.Printf("%.0f m at home, %.0f m in the hills\n", home.Fly(launch).Carry, away.Fly(launch).Carry)
	// Output: 231 m at home, 247 m in the hills
}
