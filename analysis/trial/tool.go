package trial

import (
	"strconv"
	"strings"
	"unicode"

	"rangepost/analysis"
)

// toolWords says which tool a thing and a way make.
var toolWords = map[string]map[string]analysis.Tool{
	"grip":   {"stronger": analysis.StrongerGrip, "weaker": analysis.WeakerGrip},
	"aim":    {"left": analysis.AimLeft, "right": analysis.AimRight},
	"ball":   {"forward": analysis.BallForward, "back": analysis.BallBack},
	"handle": {"forward": analysis.HandleForward, "back": analysis.HandleBack},
}

// sameWords are other words for a thing or a way.
var sameWords = map[string]string{
	"strong": "stronger", "weak": "weaker",
	"aimed": "aim", "aiming": "aim", "alignment": "aim", "aligned": "aim", "lined": "aim",
	"balls": "ball", "shaft": "handle",
	"fwd": "forward", "fore": "forward", "backward": "back", "backwards": "back", "forwards": "forward", "further": "", "farther": "",
}

// asides are words of a label that change nothing.
var asides = map[string]bool{
	"": true, "a": true, "an": true, "the": true, "my": true, "with": true, "of": true, "to": true, "in": true, "up": true,
	"bit": true, "little": true, "lot": true, "more": true, "much": true, "slightly": true, "very": true, "too": true,
	"position": true, "stance": true, "lean": true, "set": true, "try": true, "trial": true, "test": true, "again": true,
	"one": true, "two": true, "half": true, "width": true, "degrees": true, "deg": true,
}

// ToolOf is the tool that a set's label names: "strong grip", "Ball back 2",
// "aim a bit left". It wants one thing and one way and no word besides that
// could mean another change: a label that says more than the tool teaches
// nothing about the tool. "" when the label names none.
func ToolOf(label string) analysis.Tool {
	thing, way := "", ""
	for _, w := range strings.FieldsFunc(strings.ToLower(label), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) {
		if same, ok := sameWords[w]; ok {
			w = same
		}
		_, number := strconv.Atoi(w)
		switch {
		case toolWords[w] != nil:
			if thing != "" && thing != w {
				return ""
			}
			thing = w
		case isWay(w):
			if way != "" && way != w {
				return ""
			}
			way = w
		case asides[w] || number == nil:
		default:
			return ""
		}
	}
	if thing == "" && (way == "stronger" || way == "weaker") {
		thing = "grip" // as the trade says it: "strong"
	}
	return toolWords[thing][way]
}

func isWay(w string) bool {
	for _, ways := range toolWords {
		if _, ok := ways[w]; ok {
			return true
		}
	}
	return false
}
