package timeline

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
