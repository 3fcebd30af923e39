package analysis

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// StrongestWind is the most anybody plays in, m/s (common practice, no source).
const StrongestWind = 35

// windSides is the one table of where a wind comes from, in degrees clockwise
// from the target line, and the words for it. A new word goes into its line.
var windSides = []struct {
	degrees float64
	words   string
}{
	{0, "front, ahead, head, headwind, face, into, into face, against, " +
		"vorne, vorn, gegenwind, en face, avant, contra, cara, contro, contrario, motvind, framifrån, 向かい風, アゲインスト, 맞바람, 앞바람"},
	{180, "behind, back, tail, tailwind, downwind, helping, " +
		"hinten, rückenwind, dos, arrière, favor, espalda, favore, spalle, medvind, bakifrån, 追い風, フォロー, 뒷바람"},
	{270, "left, left to right, l to r, " +
		"links, links nach rechts, gauche, gauche droite, izquierda, izquierda derecha, sinistra, sinistra destra, vänster, vänster till höger, 左, 左から, 왼쪽, 왼쪽에서"},
	{90, "right, right to left, r to l, " +
		"rechts, rechts nach links, droite, droite gauche, derecha, derecha izquierda, destra, destra sinistra, höger, höger till vänster, 右, 右から, 오른쪽, 오른쪽에서"},
	{315, "front left, ahead left, left front"}, {45, "front right, ahead right, right front"},
	{225, "back left, behind left, left behind"}, {135, "back right, behind right, right behind"},
}

// windFillers are the words that say nothing of where it comes from.
var windFillers = windWords("from off out of in at on the my a me and was is about around blowing coming straight directly wind crosswind side cross " +
	"von der dem aus wind vent de du la à viento en del desde a vento da dal dalla di från vind")

// windNames are the words that make it a wind.
var windNames = windWords("wind headwind tailwind crosswind downwind")

func windWords(list string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(list) {
		m[w] = true
	}
	return m
}

var windBySide = sync.OnceValue(func() map[string]float64 {
	m := map[string]float64{}
	for _, line := range windSides {
		for words := range strings.SplitSeq(line.words, ", ") {
			m[words] = line.degrees
		}
	}
	for hour := 1; hour <= 12; hour++ { // 12 is from the target
		m[strconv.Itoa(hour)+" oclock"] = float64(hour % 12 * 30)
	}
	return m
})

var (
	windNumber = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(\d{1,3}(?:[.,]\d+)?)\s*(m/s|mps|km/h|kmh|kph|mph|knots?|kn|kt)`)
	})
	windDegrees = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^\s*@\s*(-?\d{1,3}(?:[.,]\d+)?)\s*(?:°|deg(?:rees)?)?`)
	})
	windUnits = map[string]float64{
		"m/s": 1, "mps": 1, "km/h": KMPerHour, "kmh": KMPerHour, "kph": KMPerHour, "mph": MilePerHour,
		"knot": Knot, "knots": Knot, "kn": Knot, "kt": Knot,
	}
	windSpelled = strings.NewReplacer("o'clock", " oclock", "o’clock", " oclock", "o clock", " oclock", "head wind", "headwind", "tail wind", "tailwind", "cross wind", "crosswind",
		"-", " ", ":", " ", "(", " ", ")", " ", ",", " ")
)

// windTokens are the words of a text.
func windTokens(text string) []string { return strings.Fields(windSpelled.Replace(text)) }

// windFrom is where words say a wind comes from, degrees.
func windFrom(tokens []string) (degrees float64, ok bool) {
	said := slices.DeleteFunc(slices.Clone(tokens), func(w string) bool { return windFillers[w] })
	degrees, ok = windBySide()[strings.Join(said, " ")]
	return degrees, ok
}

// WindSide reads where a wind comes from as a golfer sees it, "from the left",
// "into the face", "2 o'clock", into rad clockwise from the target line.
func WindSide(text string) (from float64, ok bool) {
	degrees, ok := windFrom(windTokens(strings.ToLower(text)))
	return degrees * Degree, ok
}

// ParseWind reads a wind as people write it: "5mps@270", "12 mph from the left",
// "headwind 4 m/s", into m/s and rad clockwise from the target line: 0 is into
// the face, 90 degrees from the right. Its error is a *Refusal.
func ParseWind(text string) (speed, from float64, err error) {
	lower := strings.ToLower(strings.TrimSpace(text))
	at := windNumber().FindStringSubmatchIndex(lower)
	ok := at != nil
	if ok {
		before, after := lower[:at[0]], lower[at[1]:]
		speed = windFigure(lower[at[2]:at[3]]) * windUnits[lower[at[4]:at[5]]]
		var degrees float64
		if m := windDegrees().FindStringSubmatch(after); m != nil && before == "" {
			degrees, ok = windFigure(m[1]), m[0] == after
		} else {
			degrees, ok = windFrom(append(windTokens(before), windTokens(after)...))
		}
		from = degrees * Degree
	}
	switch {
	case !ok:
		return 0, 0, Refuse("Write a speed, and where it comes from: \"12 mph headwind\" (or tailwind), \"12 mph from the left\", \"12 mph left to right\", \"5 m/s from 2 o'clock\" (12 is from the target), or 5mps@270, the degrees clockwise from the target line.",
			"that is not a wind.").In(text)
	case speed > StrongestWind:
		return 0, 0, Refuse("It can be up to 35 m/s, which is 78 mph.", "nobody plays in that wind.").In(text)
	case from < 0 || from > 360*Degree:
		return 0, 0, Refuse("They can be from 0 (into the face) over 90 (from the right) to 360.", "a wind has no such degrees.").In(text)
	}
	return speed, from, nil
}

// NotedWind finds a wind in a note, "felt slow, wind 5 m/s from the left"; ok is
// false without one that has a speed, a unit and a side, and is called a wind:
// a note may have other speeds.
func NotedWind(note string) (speed, from float64, ok bool) {
	note = strings.ToLower(note)
	for _, at := range windNumber().FindAllStringSubmatchIndex(note, -1) {
		before, after := note[:at[0]], note[at[1]:]
		if i := strings.LastIndexAny(before, ".,;!?\n"); i >= 0 {
			before = before[i+1:]
		}
		degrees, ok := 0.0, false
		if m := windDegrees().FindStringSubmatch(after); m != nil {
			degrees, ok = windFigure(m[1]), namedWind(windTokens(before)) != nil
		} else {
			degrees, ok = windAround(windTokens(before), windTokens(upTo(after, ".,;!?\n")))
		}
		speed, from = windFigure(note[at[2]:at[3]])*windUnits[note[at[4]:at[5]]], degrees*Degree
		if ok && speed <= StrongestWind && from >= 0 && from <= 360*Degree {
			return speed, from, true
		}
	}
	return 0, 0, false
}

// windAround is where the words on both sides of a speed say it comes from.
func windAround(before, after []string) (degrees float64, ok bool) {
	named := namedWind(before)
	if degrees, ok = windFrom(named); ok {
		return degrees, true
	}
	for n := min(len(after), 6); n > 0; n-- { // what goes on after it says something else
		clear := named != nil || slices.ContainsFunc(after[:n], func(w string) bool { return windNames[w] || w == "face" || w == "oclock" })
		if degrees, ok = windFrom(after[:n]); ok && clear {
			return degrees, true
		}
	}
	return 0, false
}

// namedWind is the end of some words that begins with one for a wind, and goes
// on with where it comes from, if with anything; nil if there is none.
func namedWind(words []string) []string {
	for i := len(words) - 1; i >= 0; i-- {
		if !windNames[words[i]] {
			continue
		}
		if _, ok := windFrom(words[i:]); ok || !slices.ContainsFunc(words[i:], func(w string) bool { return !windFillers[w] }) {
			return words[i:]
		}
		break
	}
	return nil
}

func upTo(text, marks string) string {
	if i := strings.IndexAny(text, marks); i >= 0 {
		return text[:i]
	}
	return text
}

// windFigure is the figure of digits that were matched.
func windFigure(text string) float64 {
	v, _ := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return v
}
