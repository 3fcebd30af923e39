package timeline

import "rangepost/analysis"

// sameBall keeps, for a number measured of the ball, the sessions with the
// kind of ball that most were hit with, the later kind of equals. What the
// club did compares across all of them.
func sameBall(number analysis.Number, sessions []analysis.SessionValues) (kept []analysis.SessionValues, left int) {
	if !ofTheBall(number) {
		return sessions, 0
	}
	count := map[analysis.Ball]int{}
	var kind analysis.Ball
	for _, s := range sessions {
		if len(s.Values) == 0 {
			continue
		}
		count[s.Ball]++
		if count[s.Ball] >= count[kind] {
			kind = s.Ball
		}
	}
	for _, s := range sessions {
		switch {
		case s.Ball == kind:
			kept = append(kept, s)
		case len(s.Values) > 0:
			left++
		}
	}
	return kept, left
}

// ofTheBall reports whether a number depends on the kind of ball: everything
// the ball does but where it started.
func ofTheBall(n analysis.Number) bool {
	return n.Info().Of != analysis.OfClub && n != analysis.Direction
}
