package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

// turned is how far a wind turns over a session, as a circular standard deviation,
// before it is said: gusts do less (common practice, no source).
const turned = 20 * degree

// wind reads the wind of a session, as one mean over its balls: from columns of
// what is into the face and across, or from a speed and a direction against the
// target line. What a column does not say of that is asked, unless nothing blows.
func wind(cs []column, o Options) (speed, from *float64, decisions []string, questions []analysis.Question) {
	by := map[field]*column{}
	blows := false
	for i := range cs {
		c := &cs[i]
		switch c.field {
		case windSpeed, headWind, tailWind, crossWind, crossLeft, crossRight:
			blows = blows || slices.ContainsFunc(c.cells, func(v cell) bool { return v.ok && v.v != 0 })
			by[c.field] = c
		case windFrom, windTo:
			if !c.unitKnown() {
				c.unit = unitNamed("deg", angle) // nobody writes a wind in radians
			}
			by[c.field] = c
		}
	}
	if !blows {
		return nil, nil, nil, nil
	}
	if c := by[crossWind]; c != nil {
		questions = append(questions, fromWhere(c))
	}
	direction := by[windFrom]
	if direction == nil {
		direction = by[windTo]
	}
	if c := direction; c != nil && !c.againstTarget() {
		switch direction = nil; {
		case c.speaksOf(northPart):
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it is against north", c.text))
		case by[windSpeed] == nil:
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: the wind has no speed", c.text))
		default:
			questions = append(questions, againstWhat(c))
		}
	}
	var used []*column
	for _, f := range []field{headWind, tailWind, crossLeft, crossRight} {
		if by[f] != nil {
			used = append(used, by[f])
		}
	}
	if used == nil && by[windSpeed] != nil && direction != nil {
		used = []*column{by[windSpeed], direction}
	}
	for _, c := range used {
		if u, ok := unitFor(o.Answers["unit:"+c.field.key()], c.field.dimension()); ok && unitless(*c) {
			c.unit = u
		}
		if !readable(*c) {
			return nil, nil, decisions, append(questions, windUnit(c))
		}
	}
	if used == nil {
		return nil, nil, decisions, questions
	}
	m := meanWind(used)
	if m.n == 0 || m.speed > weather[windSpeed][1] {
		return nil, nil, append(decisions, fmt.Sprintf("%s left out: nobody plays in that wind", headings(used))), questions
	}
	line := fmt.Sprintf("wind read from %s: %.1f m/s from %.0f degrees, clockwise from the target line (0 is into the face), the mean over %s",
		headings(used), m.speed, math.Mod(math.Round(m.from/degree), 360), plural(m.n, "ball", "balls"))
	if m.turn > turned {
		line += fmt.Sprintf("; it turned by some %.0f degrees to either side of that", m.turn/degree)
	}
	return &m.speed, &m.from, append(decisions, line), questions
}

// againstTarget reports whether a direction is known to be against the target
// line: by its heading, by an answer, or as its cells are words a golfer says.
func (c *column) againstTarget() bool {
	return c.meaning.definite || c.speaksOf(targetPart) || !c.unread()
}

// speaksOf reports whether a word of the heading is one for a part.
func (c *column) speaksOf(p part) bool {
	return slices.ContainsFunc(spelled(c.text), func(w string) bool {
		return slices.ContainsFunc(partsBySpelling()[w], func(o partWord) bool { return o.part == p })
	})
}

// A steadyWind is the mean of the winds that balls had.
type steadyWind struct {
	speed, from float64
	n           int
	turn        float64 // rad, how far it turned, a circular standard deviation
}

// meanWind adds up what the columns say of every ball: a speed and a direction, or
// what is into the face and across.
func meanWind(cs []*column) (m steadyWind) {
	along, across, all := 0.0, 0.0, 0.0
	for i := range cs[0].cells {
		x, y, said := 0.0, 0.0, false
		for k, c := range cs {
			v := c.cells[i]
			if !v.ok {
				continue
			}
			if !v.si {
				v.v = c.unit.si(v.v)
			}
			switch c.field {
			case headWind:
				x += v.v
			case tailWind:
				x -= v.v
			case crossRight:
				y += v.v
			case crossLeft:
				y -= v.v
			case windSpeed:
				x = v.v
				continue
			case windTo:
				x, y = -x*math.Cos(v.v), -x*math.Sin(v.v)
			case windFrom:
				x, y = x*math.Cos(v.v), x*math.Sin(v.v)
			}
			said = k == 0 || c.field != windFrom && c.field != windTo || cs[0].cells[i].ok
		}
		if said {
			along, across, all = along+x, across+y, all+math.Hypot(x, y)
			m.n++
		}
	}
	if m.n == 0 {
		return m
	}
	sum := math.Hypot(along, across)
	m.speed, m.from = sum/float64(m.n), math.Mod(math.Atan2(across, along)+2*math.Pi, 2*math.Pi)
	if all > 0 {
		m.turn = math.Sqrt(-2 * math.Log(min(1, max(sum/all, 1e-9))))
	}
	return m
}

func againstWhat(c *column) analysis.Question {
	return analysis.Question{Key: "column:" + c.key(), Text: fmt.Sprintf("Is '%s' against the target line, or against north?", c.text), Choices: []analysis.Choice{
		{Value: windFrom.key(), Text: "the target line: 0 is into the face"},
		{Value: windTo.key(), Text: "the target line: 0 is with the ball"},
		{Value: ignored.key(), Text: "north, or nobody knows: leave it out"},
	}}
}

func fromWhere(c *column) analysis.Question {
	return analysis.Question{Key: "column:" + c.key(), Text: fmt.Sprintf("A plus in '%s': is that a wind from the left, or from the right?", c.text), Choices: []analysis.Choice{
		{Value: crossLeft.key(), Text: "from the left"},
		{Value: crossRight.key(), Text: "from the right"},
		{Value: ignored.key(), Text: "nobody knows: leave it out"},
	}}
}

func windUnit(c *column) analysis.Question {
	q := analysis.Question{Key: "unit:" + c.field.key(), Text: fmt.Sprintf("Which unit is %s in?", headings([]*column{c}))}
	for u := range strings.SplitSeq("mph m/s km/h knots", " ") {
		q.Choices = append(q.Choices, analysis.Choice{Value: u, Text: u})
	}
	return q
}
