package brief

import (
	"regexp"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// A parser takes a text's pieces in and gathers what they say.
type parser struct {
	o      Options
	b      analysis.Brief
	named  bool
	limits *limits

	typed string // the piece under way
	rest  []token
}

// fillers are words between the parts of a piece that say nothing.
var fillers = map[string]bool{
	"with": true, "the": true, "a": true, "an": true, "and": true, "using": true, "hit": true,
	"keep": true, "please": true, "my": true, "your": true, "on": true, ".": true, "-": true, ":": true, "=": true, "is": true,
}

func (p *parser) piece(typed string) error {
	if label, ok := setNamed(typed); ok {
		if p.b.Label != "" {
			return wrong(typed, "Keep one of them.", "a brief is about one set.")
		}
		p.b.Label = label
		return nil
	}
	p.typed = typed
	p.rest = tokens(p.shots(typed))
	last := "" // the filler just passed
	for len(p.rest) > 0 {
		found, err := p.part(last)
		switch {
		case err != nil:
			return err
		case found:
			last = ""
		case fillers[p.rest[0].text]:
			last, p.rest = p.rest[0].text, p.rest[1:]
		default:
			return wrong(typed, example, "I do not understand '%s' there.", p.rest[0].text)
		}
	}
	return nil
}

// shots reads "draw 7 of 10": a shot, by the label its set has, and how many of how
// many balls have to do it. It returns what is left of the piece.
func (p *parser) shots(typed string) (left string) {
	m := ofMany.FindStringSubmatch(strings.ToLower(typed))
	if m == nil || p.named || p.limits != nil || p.b.Label != "" || strings.Contains(m[1], "within") {
		return typed
	}
	need, _ := strconv.Atoi(m[2])
	of, _ := strconv.Atoi(m[3])
	if need < 1 || need > of || of > maxBalls {
		return typed
	}
	p.b.Number, p.named, p.b.Label = analysis.AskedDone, true, strings.TrimSpace(typed[:len(m[1])])
	p.b.Balls, p.b.Share = of, float64(need)/float64(of)
	p.limits = &limits{kind: atLeast, a: value{figure: 50, typed: true}, typed: typed}
	return m[4]
}

var ofMany = regexp.MustCompile(`^(\D.*?)[ :]+(\d+) of (\d+)(?: balls| shots)?(.*)$`)

// setNamed reads "set strong grip", "the set \"strong grip\"".
func setNamed(typed string) (label string, ok bool) {
	rest := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(typed), "the "))
	if !strings.HasPrefix(rest, "set ") {
		return "", false
	}
	label = strings.Trim(typed[len(typed)-len(rest)+len("set "):], " \"“”'")
	return label, label != ""
}

// part takes in the part of a piece that comes next, if it is one.
func (p *parser) part(after string) (found bool, err error) {
	for _, part := range []func() (bool, error){p.until, p.balls, p.number, p.bounds} {
		if found, err = part(); found || err != nil {
			return found, err
		}
	}
	return p.club(after)
}

// word reports whether the next tokens are these words, and takes them. A
// hyphen between two words is none.
func (p *parser) word(words ...string) bool {
	at := 0
	for i, w := range words {
		if i > 0 && at < len(p.rest) && p.rest[at].text == "-" {
			at++
		}
		if at >= len(p.rest) || p.rest[at].figure || p.rest[at].text != w {
			return false
		}
		at++
	}
	p.rest = p.rest[at:]
	return true
}

// any takes the first of some phrases that comes next.
func (p *parser) any(phrases ...string) bool {
	for _, phrase := range phrases {
		if p.word(strings.Fields(phrase)...) {
			return true
		}
	}
	return false
}

func (p *parser) next(i int) token {
	if i < len(p.rest) {
		return p.rest[i]
	}
	return token{}
}

func (p *parser) number() (bool, error) {
	for _, name := range names {
		if !p.word(name.words...) {
			continue
		}
		if p.named && p.b.Number != name.number {
			return false, wrong(p.typed, "A brief is about one number: set the other one when this is done.", "the %s is named, and so is the %s.", p.b.Number, name.number)
		}
		p.b.Number, p.named = name.number, true
		return true, nil
	}
	return false, nil
}

// balls reads "40 balls".
func (p *parser) balls() (bool, error) {
	if !p.next(0).figure {
		return false, nil
	}
	switch p.next(1).text {
	case "balls", "ball", "shots", "shot", "swings":
	default:
		return false, nil
	}
	n := p.rest[0].value
	p.rest = p.rest[2:]
	switch {
	case p.b.Balls > 0:
		return false, wrong(p.typed, "Say once how many.", "the balls are counted twice.")
	case n < 1 || n > maxBalls || n != float64(int(n)):
		return false, wrong(p.typed, "Say a whole number from 1 to 2000.", "that is no number of balls to hit.")
	}
	p.b.Balls = int(n)
	return true, nil
}

// club reads a club of one to three tokens. A bare figure is a wedge only
// after "with" or "the", or as a piece of its own; a single letter is a word.
func (p *parser) club(after string) (bool, error) {
	for n := min(4, len(p.rest)); n > 0; n-- {
		var name strings.Builder
		for _, t := range p.rest[:n] {
			name.WriteString(t.text)
		}
		text := strings.ReplaceAll(name.String(), "-", "")
		bare := n == 1 && p.rest[0].figure
		if len(text) < 2 || p.rest[0].text == "-" || bare && after == "" && len(tokens(p.typed)) > 1 {
			continue
		}
		club, err := analysis.ParseClub(text)
		if err != nil || club.Unknown() {
			continue
		}
		if !p.b.Club.Unknown() && p.b.Club != club {
			return false, wrong(p.typed, "Name one club, or none for all of them.", "the %s is named, and so is the %s.", p.b.Club, club)
		}
		p.b.Club, p.rest = club, p.rest[n:]
		return true, nil
	}
	return false, nil
}
