package sessionfile

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"rangepost/analysis"
)

// Sets may stand in a column that no word of the lexicon names: a few words or
// phrases that come again and again. What a device says of a ball comes again too,
// so that headings and words that are no golfer's doing are never taken for them.
const (
	mostSets   = 12
	leastBalls = 3 // of every set
)

// setHeadings are the headings under which words that repeat are sets; under any
// other it is asked. notSets are words of headings under which they are none.
var (
	setHeadings = headingSet("setup, set up, setup name, trial, trial name, feel, feeling, block, block name, " +
		"Versuch, Gefühl, réglage, essai, sensation, bloc, ajuste, ensayo, prueba, sensación, bloque, assetto, prova, sensazione, blocco, " +
		"uppställning, försök, känsla, セットアップ, 試行, 感覚, ブロック, 셋업, 시도, 느낌, 블록")
	notSets = headingSet("user, member, student, pupil, coach, pro, team, facility, range, course, hole, city, country, weather, colour, color, surface, " +
		"mode, unit, units, version, software, source, result, outcome, trajectory, flight, type, brand, maker, model, shaft, month, weekday, season, lie, " +
		"Schüler, Trainer, Wetter, Farbe, Ergebnis, élève, météo, couleur, résultat, alumno, color, resultado, allievo, meteo, colore, risultato, elev, väder, färg, resultat")
	// deviceWords are those by which devices and judges call a ball: its shape, its
	// side, how it was hit, what it lay on, and whether it counts.
	deviceWords = headingSet("draw, fade, straight, push, pull, hook, slice, left, right, centre, center, middle, short, long, high, low, on, off, target, line, " +
		"good, bad, ok, okay, great, excellent, perfect, poor, fair, average, solid, clean, pure, thin, fat, top, topped, shank, mishit, miss, hit, heel, toe, " +
		"yes, no, true, false, on, off, valid, invalid, in, out, tee, mat, turf, grass, fairway, rough, bunker, sand, ball, shot, slight, big, to, a, the, " +
		"links, rechts, gerade, gut, schlecht, ja, nein, gauche, droite, droit, bon, mauvais, oui, non, izquierda, derecha, recto, bueno, malo, sí, " +
		"sinistra, destra, dritto, buono, cattivo, vänster, höger, rak, bra, dålig, nej, 左, 右, ドロー, フェード, ストレート, 良い, 悪い, 좌, 우, 드로우, 페이드, 스트레이트")
)

func headingSet(list string) func() map[string]bool {
	return sync.OnceValue(func() map[string]bool {
		m := map[string]bool{}
		for word := range strings.SplitSeq(list, ", ") {
			m[squeezed(word)] = true
		}
		return m
	})
}

// findSets looks for the column that names sets where no other does. A heading
// that says so is believed, of any other one is asked.
func (t *table) findSets(o Options) (decisions []string, questions []analysis.Question) {
	if slices.ContainsFunc(t.columns, func(c column) bool { return c.field == labelField }) {
		return nil, nil
	}
	for i := range t.columns {
		c := &t.columns[i]
		_, answered := o.Answers["column:"+c.key()]
		if answered || c.field != ignored || c.asked || c.other || len(c.meaning.fields) > 0 {
			continue
		}
		words := t.repeated(c)
		switch {
		case words == nil:
		case setHeadings()[c.key()]:
			c.field = labelField
			decisions = append(decisions, fmt.Sprintf("'%s' read as the sets", c.text))
		case !o.Sets && len(questions) == 0 && mayHeadSets(c.text) && !slices.Contains(words, ""):
			questions = append(questions, areSets(c, words))
		}
	}
	if decisions != nil {
		questions = nil
	}
	return decisions, questions
}

// mayHeadSets reports whether sets may stand under a heading: it is a word, and
// none for something else.
func mayHeadSets(heading string) bool {
	_, _, _, place := placeName(heading)
	words := spelled(heading)
	return !place && slices.ContainsFunc(words, func(w string) bool { return utf8.RuneCountInString(w) > 2 || unspaced(w) }) &&
		!slices.ContainsFunc(words, func(w string) bool { return notSets()[w] })
}

// repeated are the words of a column as sets have them, nil if they are not: 2 to 12
// different ones, each of three balls and more, which do not merely say the club
// again. An empty cell is one of them.
func (t *table) repeated(c *column) (words []string) {
	balls, of := map[string]int{}, map[string]string{} // by the words; the words of a club
	at := slices.IndexFunc(t.columns, func(c column) bool { return c.field == clubField })
	byClub, ofDevice := true, 0
	for i, text := range t.labels(c.at) {
		_, isClub := parseClub(text)
		if text != "" && (isClub || looksLikeTime(strings.ToLower(text)) || !strings.ContainsFunc(text, unicode.IsLetter) || isFigure(text)) {
			return nil
		}
		if balls[text]++; balls[text] == 1 {
			words = append(words, text)
		}
		club := t.clubs[i]
		if at >= 0 {
			club = plainText(t.rows[i].cell(t.columns[at].at))
		}
		if before, ok := of[club]; ok && before != text {
			byClub = false
		}
		of[club] = text
	}
	if len(words) < 2 || len(words) > mostSets || byClub || slices.Min(slices.Collect(maps.Values(balls))) < leastBalls {
		return nil
	}
	for _, w := range words {
		if w != "" && !slices.ContainsFunc(strings.Fields(w), func(w string) bool { return !deviceWords()[squeezed(w)] }) {
			ofDevice++
		}
	}
	if 2*ofDevice > len(words) || 2*balls[""] > len(t.rows) {
		return nil
	}
	return words
}

func areSets(c *column, words []string) analysis.Question {
	like := "'" + shown(words[0]) + "' and '" + shown(words[1]) + "'"
	return analysis.Question{Key: "column:" + c.key(), Text: fmt.Sprintf("Are the words in '%s' the sets of this session, such as %s?", c.text, like), Choices: []analysis.Choice{
		{Value: labelField.key(), Text: "yes: compare them"},
		{Value: ignored.key(), Text: "no: leave it out"},
	}}
}
