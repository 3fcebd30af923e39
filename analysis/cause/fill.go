package cause

import (
	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// Fill returns a copy of the set with what can be worked back of each ball and
// was not measured, marked inferred: the landing place of a ball whose launch
// was measured in full, and face and path from the launch. What was measured
// stays as it is.
func Fill(set analysis.Set, c Config) analysis.Set {
	set.Shots = append([]analysis.Shot(nil), set.Shots...)
	m := ball.Of(set.Club, c.Hand, c.Conditions)
	for i, s := range set.Shots {
		set.Shots[i] = flown(s, &m)
	}
	return set
}

// flown fills in where a ball landed from how it was launched.
func flown(s analysis.Shot, m *ball.Model) analysis.Shot {
	if s.Has(analysis.Lateral) && s.Has(analysis.Carry) {
		return s
	}
	l, missing := s.Launch()
	if len(missing) > 0 {
		return s
	}
	landing := m.Flight.Fly(l)
	return s.WithInferred(analysis.Lateral, landing.Lateral).WithInferred(analysis.Carry, landing.Carry)
}
