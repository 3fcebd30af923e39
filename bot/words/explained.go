package words

import (
	"slices"
	"strings"

	"rangepost/analysis"
)

// Explained are the trade words that lines use and a golfer was not told yet,
// each with the sentence that tells it.
func Explained(lines []string, told []string) (words, says []string) {
	for i := range lines {
		line := strings.ToLower(lines[i])
		for at := range line {
			g, ok := glossAt(line, at)
			if !ok {
				continue
			}
			key := glossKey(g.term)
			if !slices.Contains(told, key) && !slices.Contains(words, key) {
				words = append(words, key)
				says = append(says, meaning(g))
			}
		}
	}
	return words, says
}

// SetupMeans says what a setup tool is, for whoever hears of it first: what the
// hands or the ball do (common practice, no source); "" for none.
func (v Voice) SetupMeans(t analysis.Tool) string {
	right, left := "right", "left"
	if v.Hand == analysis.LeftHanded {
		right, left = left, right
	}
	switch t {
	case analysis.StrongerGrip:
		return "Stronger: the grip turned a little to the " + right + " on the handle."
	case analysis.WeakerGrip:
		return "Weaker: the grip turned a little to the " + left + " on the handle."
	case analysis.AimLeft, analysis.AimRight:
		return "Aiming: stance and club both along a line further that way."
	case analysis.BallForward:
		return "Forward: a ball's width nearer the target."
	case analysis.BallBack:
		return "Back: a ball's width further from the target."
	case analysis.HandleForward:
		return "Forward: the handle leans a little more toward the target."
	case analysis.HandleBack:
		return "Back: the handle leans a little less toward the target."
	}
	return ""
}

// Once takes out of a reply the plain words of what its reader was told before,
// and says which trade words and setups it still explains.
func Once(text string, told []string) (once string, fresh []string) {
	for _, g := range glosses {
		key, plain := glossKey(g.term), " ("+g.plain+")"
		switch {
		case !strings.Contains(text, plain) && !strings.Contains(text, meaning(g)):
		case slices.Contains(told, key):
			text = strings.ReplaceAll(text, plain, "")
		case !slices.Contains(fresh, key):
			fresh = append(fresh, key)
		}
	}
	for _, tool := range analysis.Tools() {
		for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
			if strings.Contains(text, Voice{Hand: hand}.SetupMeans(tool)) && !slices.Contains(told, string(tool)) && !slices.Contains(fresh, string(tool)) {
				fresh = append(fresh, string(tool))
			}
		}
	}
	return text, fresh
}

// Bare is a reply to somebody who knows the trade's words.
func Bare(text string) string {
	for _, g := range glosses {
		text = strings.ReplaceAll(text, " ("+g.plain+")", "")
	}
	return text
}

// meaning is a gloss as a sentence of its own.
func meaning(g gloss) string { return sentence(g.term) + ": " + g.plain + "." }

// A Meaning is a word of the trade or a setup, and what it means.
type Meaning struct{ Word, Means string }

// Meanings are all that can be asked about, for one golfer.
func (v Voice) Meanings() (all []Meaning) {
	for _, g := range glosses {
		all = append(all, Meaning{g.term, meaning(g)})
	}
	for _, tool := range analysis.Tools() {
		all = append(all, Meaning{string(tool), v.SetupMeans(tool)})
	}
	return all
}

// glossKey is the term by which it is known that one was explained.
func glossKey(term string) string {
	if same, ok := alike[term]; ok {
		return same
	}
	return term
}
