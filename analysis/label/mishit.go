package label

import "strings"

// mishits are the words golfers have for a ball they do not want counted
// (common practice, no source). Add a word to the list.
var mishits = words("shank shanks shanked mishit mishits mis-hit mis-hits mishitted miss-hit " +
	"topped top tops thin thinned thins fat fats chunk chunks chunked duff duffs duffed " +
	"skull skulls skulled bladed blade whiff whiffs whiffed skied sky duck-hook hosel hoselled hozel " +
	"flub flubs flubbed fluff fluffed dud duds toed heeled double-hit")

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

// mishit reports whether the words say only that the ball was mishit, and
// gives the golfer's own word for it.
func mishit(text string) (word string, ok bool) {
	for w := range strings.FieldsSeq(text) {
		bare := strings.ToLower(strings.Trim(w, ".!?'\"()"))
		switch {
		case mishits[bare] && word == "":
			word = bare
		case mishits[bare], fillers[bare], bare == "":
		default:
			return "", false
		}
	}
	return word, word != ""
}
