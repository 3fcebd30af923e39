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
	// Output: carry 148 m, 7.1 m right, 28 m high, 6.1 s
}

func ExampleModel_Rest() {
	m := flight.Standard()
	l := m.Fly(analysis.Launch{Speed: 70, Angle: 12 * analysis.Degree, Spin: 2600 * analysis.RevPerMinute})
	x, _ := m.Rest(l)
	fmt.Printf("carry %.0f m, total %.0f m\n", l.Carry, x)
	// Output: carry 234 m, total 253 m
}

func ExampleOf() {
	height, temperature := 1600.0, analysis.ZeroCelsius+25
	launch := analysis.Launch{Speed: 70, Angle: 12 * analysis.Degree, Spin: 2600 * analysis.RevPerMinute}

	home := flight.Standard()
	away := flight.Of(analysis.Conditions{Altitude: &height, Temperature: &temperature})
	fmt.Printf("%.0f m at home, %.0f m in the hills\n", home.Fly(launch).Carry, away.Fly(launch).Carry)
	// Output: 234 m at home, 249 m in the hills
}
