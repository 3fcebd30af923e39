package challenge

import "rangepost/analysis"

// The warnings for which a host is to look at an entry before it counts. The
// last ones are for whoever keeps the entries to give.
const (
	ManyUnmeasured = "many-unmeasured"      // Count of the balls have no figure
	NotMeasured    = "session-not-measured" // Count sessions before it have none at all
	StrayBalls     = "stray-balls"          // Count balls called another club's stand one by one among those that count
	LikeAnothers   = "like-anothers"        // the balls are too much like those of another entry
	LeftBefore     = "left-before"          // its player left the challenge before, or deleted a session since the opening
	DatedAhead     = "dated-ahead"          // the file says that it was hit after it was posted
	Undated        = "undated"              // the file does not say when it was hit, and its player's others do
	TypedIn        = "typed-in"             // the balls were typed or pasted
	PostedLate     = "posted-late"          // it was posted later than the rules allow after it was announced

	NotHalf        = "not-half"        // Count of the drawn balls do not show as half shots
	OtherHalf      = "other-half"      // Count balls besides them do
	AnnouncedAgain = "announced-again" // another was announced before, and not entered
)

// MostOther is how many of so many balls may be half shots that were not drawn, which
// full ones pass for now and then: a session with more may be of before, with some in
// many places, so that two of them fit.
func MostOther(balls int) int { return max(1, balls/10) }

// leastStrays are looked at: one tee shot in between is nothing.
const leastStrays = 2

// Plain reports whether the file plainly does not show that it was hit after half shots
// were drawn, so that there is nothing for a host to decide: full ones stand in their
// place, or half shots in so many places that two fit any draw. Of honest sessions it is
// none of middling golfers' in 4,800, and of wild ones' 0 to 1.4 in 100
// (testdata/year-study.md).
func (s Stretch) Plain() bool { return s.Full > 0 || s.Many() }

// Many reports the latter.
func (s Stretch) Many() bool {
	most := MostOther(len(s.Balls))
	return s.HalfShots > 2*most && s.OtherHalf > most
}

// Doubts are those that the balls themselves raise.
func (s Stretch) Doubts() (why []analysis.Warning) {
	if s.Passed > MostPassed(len(s.Balls)) {
		why = append(why, analysis.Warning{Code: ManyUnmeasured, Count: s.Passed})
	}
	if s.Bare > 0 {
		why = append(why, analysis.Warning{Code: NotMeasured, Count: s.Bare})
	}
	if s.Strays >= leastStrays {
		why = append(why, analysis.Warning{Code: StrayBalls, Count: s.Strays})
	}
	if n := s.Drawn - s.Shown; n > 0 {
		why = append(why, analysis.Warning{Code: NotHalf, Count: n})
	}
	if s.Drawn > 0 && s.OtherHalf > MostOther(len(s.Balls))-min(s.Short, 1) {
		why = append(why, analysis.Warning{Code: OtherHalf, Count: s.OtherHalf})
	}
	return why
}
