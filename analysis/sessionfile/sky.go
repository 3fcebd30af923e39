package sessionfile

import (
	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// A sky flies the balls of one file, each once: what settles the signs, what
// looks for mistakes and what doubts single numbers ask for the same flights.
type sky struct {
	air   flight.Model
	flown map[analysis.Launch]flight.Landing
}

// mostKept is how many flights are kept: those of the largest session, and a
// few tries at each of its clubs.
const mostKept = maxShots + 1000

func newSky() *sky {
	return &sky{flight.Standard(), map[analysis.Launch]flight.Landing{}}
}

// fly is the flight of a launch, which has no NaN in it.
func (s *sky) fly(l analysis.Launch) flight.Landing {
	to, ok := s.flown[l]
	if !ok {
		to = s.air.Fly(l)
		if len(s.flown) < mostKept {
			s.flown[l] = to
		}
	}
	return to
}
