package timeline

import (
	"slices"

	"rangepost/analysis/stat"
)

// Standing is how a brief stands.
type Standing string

// The standings. A brief is settled once. It is kept when, allowing for how few
// balls there are and how far they resemble each other, more than half were
// inside its limits; missed when fewer were, or its date passed without the
// balls it asks for. That is judged with the last of the balls it asks for, and
// again with twice and four times as many where it was not clear (Keep), or
// when its date has passed; not in between, so that a look after every post
// decides nothing. Between the two the data do not say, at last.
const (
	Running Standing = "running"
	Met     Standing = "kept"
	Missed  Standing = "missed"
	Unclear Standing = "unclear"
)

// Standing is how the brief stands; over says that its date has passed.
func (k Kept) Standing(over bool) Standing {
	judged, last := over, over
	if asked := k.Brief.Asked(); asked > 0 {
		judged = over || k.Of%asked == 0 && slices.Contains(rounds, k.Of/asked)
		last = over || k.Of >= rounds[len(rounds)-1]*asked
	}
	switch s := k.settled(); {
	case !judged:
		return Running
	case !k.Enough:
		return Missed
	case s == Unclear && !last:
		return Running
	default:
		return s
	}
}

// How sure it has to be, two-sided, of a brief that is judged once and of one
// that is judged up to three times, at the same level each (Pocock 1977,
// Biometrika 64:191 [M]): so that a golfer with half of the balls inside is said
// to keep it in 5 % at most, and to miss it in as many (TestSimulatedBriefs).
const (
	once   = 0.93
	thrice = 0.97
)

// settled is what the balls say.
func (k Kept) settled() Standing {
	if share := k.Brief.Share; share > 0 { // as many of as many: that is counted and not inferred
		switch need := share * float64(k.Brief.Balls); {
		case k.Of < k.Brief.Balls:
			return Unclear
		case float64(k.Inside) > need-1e-6:
			return Met
		}
		return Missed
	}
	sure := thrice
	if k.Brief.Asked() == 0 {
		sure = once
	}
	if k.Of == 0 || !(k.Counted > 0) {
		return Unclear
	}
	low, high := stat.WilsonCounted(k.Share, k.Counted, sure)
	switch {
	case high < 0.5:
		return Missed
	case low > 0.5:
		return Met
	}
	return Unclear
}
