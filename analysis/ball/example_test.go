package ball_test

import (
	"fmt"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

func ExampleModel_Worth() {
	m := ball.Of(analysis.Club{Family: analysis.Driver}, analysis.RightHanded, analysis.Conditions{})
	d := analysis.Delivery{ClubSpeed: 45, DynamicLoft: 12 * analysis.Degree}
	w := m.Worth(d, ball.Departure{}).PerDegree()
	fmt.Printf("a degree of face: %+.0f yd, of path: %+.0f yd, of aim: %+.0f yd\n",
		w.Face/analysis.Yard, w.Path/analysis.Yard, (w.Face+w.Path)/analysis.Yard)
	// Output: a degree of face: +9 yd, of path: -5 yd, of aim: +4 yd
}

func ExampleModel_Departure() {
	m := ball.Of(analysis.Club{Family: analysis.Iron, Number: 7}, analysis.RightHanded, analysis.Conditions{})
	delivered := analysis.Delivery{
		ClubSpeed: 37, Attack: -4 * analysis.Degree, DynamicLoft: 25 * analysis.Degree,
		Face: 3 * analysis.Degree, Path: -1 * analysis.Degree,
	}
	shot := analysis.Shot{}.With(analysis.Spin, 5600*analysis.RevPerMinute)
	own := m.Departure(delivered, shot)

	square := delivered
	square.Face = 0
	fmt.Printf("as struck %.0f m right, with a square face %.0f m\n",
		m.Land(delivered, own).Lateral, m.Land(square, own).Lateral)
	// Output: as struck 14 m right, with a square face 2 m
}
