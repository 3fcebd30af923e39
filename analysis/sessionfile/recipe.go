package sessionfile

import (
	"slices"
	"strings"
	"sync"

	"rangepost/analysis"
)

// A recipe is one way to make a heading of a field: the parts that have to be
// there, and those that may.
type recipe struct {
	field     field
	need, may uint64
	weight    float64
}

// otherFields are the recipes of what is no number, written as in the table of
// numbers.
var otherFields = map[field]string{
	clubField:   "club name",
	shotField:   "shot (ball); ball shot",
	timeField:   "day (time) (shot); time shot",
	labelField:  "set (name) (shot)",
	ballKind:    "ball name",
	player:      "player (name)",
	backSpin:    "back spin (rate) (ball) (speed); ~back (rate)",
	sideSpin:    "side spin (rate) (ball) (speed)",
	temperature: "warmth",
	windSpeed:   "wind (speed)",
	windFrom:    "wind direction (target) (north) (angle); wind angle (target) (north) (direction)",
}

// recipes are all of them: those in the rows of the numbers, and otherFields.
var recipes = sync.OnceValue(func() (all []recipe) {
	add := func(f field, text string) {
		for way := range strings.SplitSeq(text, ";") {
			r := recipe{field: f, weight: sure}
			for word := range strings.FieldsSeq(way) {
				word, isLoose := strings.CutPrefix(word, "~")
				if isLoose {
					r.weight = loose
				}
				name := strings.Trim(word, "()")
				at := slices.Index(partKeys[:], name)
				if at <= 0 {
					panic("sessionfile: no part is called " + name)
				}
				if name == word {
					r.need |= 1 << at
				}
				r.may |= 1 << at
			}
			if r.need != 0 {
				all = append(all, r)
			}
		}
	}
	for _, n := range analysis.Numbers() {
		add(field(n), n.Info().Parts)
	}
	for f := field(0); int(f) < numFields; f++ {
		add(f, otherFields[f])
	}
	return all
})

// impliedBy are the parts that a unit speaks for: "Side (rpm)" is a spin.
func impliedBy(units []string) (parts uint64) {
	for _, said := range units {
		for _, u := range unitBySpelling()[unitSpelling(said)] {
			switch u.dim {
			case speed:
				parts |= 1 << speedPart
			case rate:
				parts |= 1<<spinPart | 1<<ratePart
			case angle:
				parts |= 1 << anglePart
			case length:
				parts |= 1 << distancePart
				if u.scale < 0.1 {
					parts |= 1 << strikePart // nothing else is that small
				}
			}
		}
	}
	return parts
}
