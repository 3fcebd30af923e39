package words

// Aid says what the product is not. It stands in the help reply and beside
// every caution.
const Aid = "This is a coach's aid and no medical advice: with pain, stop and see a professional."

// RangeRules comes before anything a golfer is asked to try on a range.
const RangeRules = "Range rules and staff come first: check what is in front of you and swing only in your bay."

// fullSwings is the session from which rest and warm-up are mentioned (common
// practice, no source).
const fullSwings = 100

// Cautions are the lines a session of that many full swings calls for, or work
// on speed of any length; none for an ordinary session.
func Cautions(swings int, speed bool) []string {
	switch {
	case swings > fullSwings:
		return []string{Count(swings, "full swing") + " in one visit: warm up first, rest between sets and spread them over days.", Aid}
	case speed:
		return []string{"Speed work asks for a proper warm-up and a rest between sets: few swings, fresh, and not every day.", Aid, RangeRules}
	}
	return nil
}
