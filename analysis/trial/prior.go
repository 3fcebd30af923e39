package trial

import "rangepost/analysis"

// prior is what the trade expects of a tool before anything is seen of it, for
// a right-handed golfer, and how much its effect differs from trial to trial.
// All of it is common practice, no source, and wide: a tool is taken to work
// the usual way round in three cases of four.
type prior struct{ mean, sd, between float64 }

// responding are the numbers a tool's response is learned of.
var responding = []analysis.Number{
	analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft,
}

var priors = map[Tool]map[analysis.Number]prior{
	StrongerGrip:  expect(usually{face: -2, loft: -1}),
	WeakerGrip:    expect(usually{face: 2, loft: 1}),
	AimLeft:       expect(usually{face: -2, path: -2}),
	AimRight:      expect(usually{face: 2, path: 2}),
	BallForward:   expect(usually{path: -1.5, attack: 1, loft: 1}),
	BallBack:      expect(usually{path: 1.5, attack: -1, loft: -1}),
	HandleForward: expect(usually{loft: -2}),
	HandleBack:    expect(usually{loft: 2}),
}

// usually is the direction of the trade, degrees.
type usually struct{ face, path, attack, loft float64 }

func expect(u usually) map[analysis.Number]prior {
	angle := func(mean float64) prior {
		return prior{mean * analysis.Degree, 3 * analysis.Degree, 1 * analysis.Degree}
	}
	return map[analysis.Number]prior{
		analysis.ClubSpeed:   {-0.3, 1, 0.4}, // m/s: what is unfamiliar costs some speed
		analysis.Attack:      angle(u.attack),
		analysis.Path:        angle(u.path),
		analysis.Face:        angle(u.face),
		analysis.FaceToPath:  angle(u.face - u.path),
		analysis.DynamicLoft: angle(u.loft),
	}
}
