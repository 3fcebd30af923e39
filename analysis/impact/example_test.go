package impact_test

import (
	"fmt"

	"rangepost/analysis"
	"rangepost/analysis/impact"
)

func ExampleHead_Strike() {
	driver := impact.HeadOf(analysis.Club{Family: analysis.Driver})
	l := driver.Strike(analysis.Delivery{
		ClubSpeed:   45,
		DynamicLoft: 13 * analysis.Degree,
		Face:        2 * analysis.Degree,  // right of the target
		Path:        -3 * analysis.Degree, // left of it
	})
	fmt.Printf("%.0f m/s, %.1f deg up, starts %.1f deg right, tilted %.0f deg to the right\n",
		l.Speed, l.Angle/analysis.Degree, l.Direction/analysis.Degree, l.Axis/analysis.Degree)
	// Output: 65 m/s, 10.7 deg up, starts 0.8 deg right, tilted 21 deg to the right
}

func ExampleHead_FaceShare() {
	for _, key := range []string{"driver", "7i", "pw"} {
		club, err := analysis.ParseClub(key)
		if err != nil {
			panic(err)
		}
		h := impact.HeadOf(club)
		fmt.Printf("%s: %.0f %% face\n", club, 100*h.FaceShare(h.Usual.Delivery()))
	}
	// Output:
	// driver: 75 % face
	// 7-iron: 70 % face
	// pitching wedge: 63 % face
}

func ExampleHead_Infer() {
	iron := impact.HeadOf(analysis.Club{Family: analysis.Iron, Number: 7})
	shot := analysis.Shot{N: 1}.
		With(analysis.BallSpeed, 47).
		With(analysis.LaunchAngle, 19*analysis.Degree).
		With(analysis.Direction, 2*analysis.Degree).
		With(analysis.Spin, 6500*analysis.RevPerMinute).
		With(analysis.SpinAxis, -9*analysis.Degree)
	i, err := iron.Infer(shot, impact.TypicalNoise())
	if err != nil {
		panic(err)
	}
	say := func(name string, mean, sd float64) {
		low, high := impact.Limits95(mean, sd)
		fmt.Printf("%s %.1f deg right, between %.1f and %.1f\n", name, mean/analysis.Degree, low/analysis.Degree, high/analysis.Degree)
	}
	say("face", i.Face, i.FaceSD)
	say("path", i.Path, i.PathSD)
	// Output:
	// face 0.7 deg right, between -0.7 and 2.0
	// path 5.2 deg right, between 3.2 and 7.3
}
