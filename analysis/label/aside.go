package label

import (
	"strings"

	"rangepost/analysis"
)

// mishits are the words golfers have for a ball they do not want counted
// (common practice, no source). Add a word to the list.
var mishits = words("shank shanks shanked mishit mishits mis-hit mis-hits mishitted miss-hit " +
	"topped top tops thin thinned thins fat fats chunk chunks chunked duff duffs duffed " +
	"skull skulls skulled bladed blade whiff whiffs whiffed skied sky duck-hook hosel hoselled hozel " +
	"flub flubs flubbed fluff fluffed dud duds toed heeled double-hit")

// warmups are the words for balls that were hit to get warm (common practice, no
// source).
var warmups = words("warm-up warm-ups warmup warmups warming-up")

// extras are the words for balls that were hit besides what was asked for (common
// practice, no source).
var extras = words("extra extras")

var oneWord = strings.NewReplacer("warm up", "warm-up", "warming up", "warming-up")

// fillers are the words that may stand around one without making it a label:
// "was a total shank", "shanked it".
var fillers = words("a an the it was were is are this that these those one ones bad total proper complete huge big little bit " +
	"i we my just only both all again ball balls shot shots off ugly horrible very really slightly")

func words(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(s) {
		m[w] = true
	}
	return m
}

// aside says why words set a ball aside, with the golfer's own first word for it:
// Used, and no word, unless they say no more than that.
func aside(text string) (why analysis.Aside, word string) {
	for w := range strings.FieldsSeq(oneWord.Replace(strings.ToLower(text))) {
		bare := strings.Trim(w, ".!?'\"()")
		says := analysis.Used
		switch {
		case mishits[bare]:
			says = analysis.Mishit
		case warmups[bare]:
			says = analysis.WarmUp
		case extras[bare]:
			says = analysis.Extra
		case fillers[bare], bare == "":
			continue
		default:
			return analysis.Used, ""
		}
		switch {
		case why == analysis.Used:
			why, word = says, bare
		case why != says:
			return analysis.Used, ""
		}
	}
	return why, word
}
