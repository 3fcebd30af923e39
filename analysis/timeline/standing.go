package timeline

import "rangepost/analysis/stat"

// Standing is how a brief stands.
type Standing string

// The standings. A brief is kept when as many balls as it asks for were hit
// and, allowing for how few they are, more than half of them were inside its
// limits; missed when its time is over without those balls, or with fewer than
// half of them inside. Between the two the data do not say.
const (
	Running Standing = "running"
	Met     Standing = "kept"
	Missed  Standing = "missed"
	Unclear Standing = "unclear"
)

// CountBrief is how a brief was kept by some balls that were counted before.
func CountBrief(b Brief, inside, of int) Kept {
	k := Kept{Brief: b, Inside: inside, Of: of, ShareHigh: 1, Enough: of > 0 && of >= b.Balls}
	if low, high, ok := stat.Wilson(inside, of, 0.95); ok {
		k.Share, k.ShareLow, k.ShareHigh = float64(inside)/float64(of), low, high
	}
	return k
}

// Standing is how the brief stands; over says that its date has passed. A brief
// that named balls and no date is over with the last of them; one that named
// neither never is.
func (k Kept) Standing(over bool) Standing {
	over = over || k.Enough && k.Brief.Until.IsZero() && k.Brief.Balls > 0
	switch {
	case k.Enough && k.ShareLow > 0.5:
		return Met
	case !over:
		return Running
	case !k.Enough || k.ShareHigh < 0.5:
		return Missed
	}
	return Unclear
}
