package timeline

// Standing is how a brief stands.
type Standing string

// The standings. A brief is settled once: with the last of the balls it asks
// for, or when its date has passed, and not looked at before, so that a look
// after every post decides nothing. It is kept when, allowing for how few balls
// there are and how far they resemble each other, more than half were inside
// its limits; missed when fewer were, or its date passed without the balls it
// asks for. Between the two the data do not say.
const (
	Running Standing = "running"
	Met     Standing = "kept"
	Missed  Standing = "missed"
	Unclear Standing = "unclear"
)

// Standing is how the brief stands; over says that its date has passed.
func (k Kept) Standing(over bool) Standing {
	all := k.Enough && k.Brief.Asked() > 0
	switch {
	case !all && !over:
		return Running
	case !k.Enough || k.ShareHigh < 0.5:
		return Missed
	case k.ShareLow > 0.5:
		return Met
	}
	return Unclear
}
