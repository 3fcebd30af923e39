package cause_test

import (
	"fmt"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// Eight balls with a 7-iron: face, path and where they landed.
func Example() {
	set := analysis.Set{Club: analysis.Club{Family: analysis.Iron, Number: 7}}
	for i, b := range []struct{ face, path, carry, lateral float64 }{
		{3.9, 0.4, 141, 14}, {4.4, -0.6, 139, 18}, {2.8, 0.1, 143, 10}, {4.1, 1.0, 142, 15},
		{3.2, -0.9, 140, 13}, {4.8, 0.3, 138, 17}, {3.6, 0.2, 141, 15}, {4.0, -0.3, 142, 16},
	} {
		set.Shots = append(set.Shots, analysis.Shot{N: i + 1, Club: set.Club}.
			With(analysis.ClubSpeed, 38).
			With(analysis.Attack, -4*analysis.Degree).
			With(analysis.DynamicLoft, 25*analysis.Degree).
			With(analysis.Face, b.face*analysis.Degree).
			With(analysis.Path, b.path*analysis.Degree).
			With(analysis.Carry, b.carry).
			With(analysis.Lateral, b.lateral))
	}
	set = pattern.Mishits(set)
	r := cause.Of(set, pattern.Of(set), cause.Config{Seed: 1})

	fmt.Println("verdict:", r.Verdict)
	fmt.Printf("%.0f m right, of which the face owns %.0f\n", r.Miss.Mean, r.Face.Mean)
	fmt.Printf("face alone: %.0f deg; try a %s\n", r.WorkBack.FaceAlone.Mean/analysis.Degree, r.WorkBack.Tool)
	// Output:
	// verdict: face
	// 15 m right, of which the face owns 17
	// face alone: -3 deg; try a stronger grip
}
