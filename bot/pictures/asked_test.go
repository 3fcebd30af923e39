package pictures

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
)

// askeds are the cases a picture of asked shots has to stand up to.
func askeds() map[string]AskedInput {
	const deg = analysis.Degree
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	set := func(name, says string, face, path float64, seed uint64) AskedSet {
		in := invent(made{balls: 10, face: face, path: path, sdFace: 1.2, sdPath: 1.4, carry: 140, spread: 3, seed: seed})
		curve := (face - path) * 1.6
		wanted := ball.Flight{Start: -2 * deg, Curve: 7, Apex: math.NaN(), Carry: math.NaN(), Lateral: math.NaN()}
		return AskedSet{
			Name: name, Says: says, Cause: in.Cause, Wanted: &wanted,
			Flight:   ball.Flight{Start: face * deg, Curve: curve, Apex: 25, Carry: 140, Lateral: face*2.4 + curve},
			Corridor: []asked.Delivered{{Face: (face - 1) * deg, Path: (path - 2) * deg}, {Face: (face + 1) * deg, Path: path * deg}, {Face: (face + 2) * deg, Path: (path + 2) * deg}, {Face: face * deg, Path: path * deg}},
		}
	}
	usual := set("", "as usual", 0.3, 0.5, 3)
	usual.Corridor, usual.Wanted = nil, nil
	unknown := usual
	unknown.Cause.Balls, unknown.Flight = nil, ball.Flight{Start: math.NaN(), Curve: math.NaN(), Apex: math.NaN(), Carry: math.NaN(), Lateral: math.NaN()}
	return map[string]AskedInput{
		"two": {Title: "Draw 8: 4 of 10", Who: "Priya", Club: iron, Sets: []AskedSet{usual, set("draw 8", "4 of 10", 2, 6, 4)}},
		"one column": {Title: "12 of 30 did the shot they were asked for", Club: iron, Sets: []AskedSet{
			usual, set("start 3 right, curve 8 left", "4 of 10", 2, 6, 4), set("fade 8", "8 of 20", -2, -6, 5)}},
		"seven": {Title: "20 of 60 did the shot they were asked for", Club: iron, Sets: []AskedSet{
			usual, set("draw 8", "4 of 10", 2, 6, 4), set("fade 8", "5 of 10", -2, -6, 5), set("a name that is far too long for the room there is", "1 of 10", -9, -14, 6),
			set("straight", "2 of 10", 0, 0, 7), set("start 3 right", "4 of 10", 3, 3, 8), set("強い draw", "4 of 10", 12, 16, 9)}},
		"nothing known": {Title: "0 of 0 did the shot they were asked for", Club: iron, Sets: []AskedSet{unknown}},
	}
}
