package sessionfile

import (
	"fmt"
	"strings"

	"rangepost/analysis"
)

// conditions reads the session's air: the middle of what the rows say, unless
// it was said beside the file. What has no unit and could be several is left out,
// and said.
func conditions(cs []column, o Options) (c analysis.Conditions, decisions []string, questions []analysis.Question) {
	for i := range cs {
		col := &cs[i]
		var to **float64
		switch col.field {
		case temperature:
			to = &c.Temperature
			if !col.unitKnown() && col.unread() {
				col.unit = warmthOf(median(col.raw()))
			}
		case altitude:
			to = &c.Altitude
		case windSpeed:
			to = &c.WindSpeed
		default:
			continue
		}
		if !readable(*col) {
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: it has no unit", col.text))
			continue
		}
		vs := col.siValues()
		if len(vs) == 0 {
			continue
		}
		m, bounds := median(vs), weather[col.field]
		if m < bounds[0] || m > bounds[1] {
			decisions = append(decisions, fmt.Sprintf("column '%s' left out: nobody plays in that", col.text))
			continue
		}
		*to = &m
	}
	if o.Air.WindSpeed == nil {
		speed, from, lines, asked := wind(cs, o)
		if from != nil {
			c.WindSpeed, c.WindFrom = speed, from
		}
		decisions, questions = append(decisions, lines...), asked
	}
	for _, said := range []struct{ by, of **float64 }{
		{&o.Air.Temperature, &c.Temperature}, {&o.Air.Altitude, &c.Altitude}, {&o.Air.WindSpeed, &c.WindSpeed}, {&o.Air.WindFrom, &c.WindFrom},
	} {
		if *said.by != nil {
			*said.of = *said.by
		}
	}
	return c, decisions, questions
}

// weather bounds what a session can have been played in: K, m and m/s.
var weather = map[field][2]float64{temperature: {240, 325}, altitude: {-430, 5000}, windSpeed: {0, analysis.StrongestWind}}

// warmthOf is the unit a temperature without one is in: nobody plays at 45 °C,
// and hardly anybody under freezing. Between, both could be.
func warmthOf(v float64) unit {
	switch {
	case v > 230:
		return unitNamed("K", warmth)
	case v > 45:
		return unitNamed("°F", warmth)
	case v < 32:
		return unitNamed("°C", warmth)
	}
	return unit{}
}

// above reads what the lines above the header say of the whole session: its
// club ("Club: 7 iron"), and its day.
func (t *table) above(s *analysis.Session, o Options) {
	var days []string
	for _, line := range t.preamble {
		if only, ok := onlyCell(line); ok && isClubRow(line) {
			t.clubAbove = only
		}
		var cells []string
		for _, c := range line.cells {
			if k, v, ok := strings.Cut(plainText(c), ": "); ok {
				cells = append(cells, k, v)
			} else if p := strings.TrimSuffix(plainText(c), ":"); p != "" {
				cells = append(cells, p)
			}
		}
		for i, c := range cells {
			days = append(days, c)
			if i+1 < len(cells) {
				m := lexiconBySpelling()[squeezed(c)]
				if _, known := parseClub(cells[i+1]); known && len(m.fields) == 1 && m.fields[0] == clubField {
					t.clubAbove = cells[i+1]
				}
			}
		}
	}
	if times, ambiguous := parseTimes(days, o.Zone); !ambiguous {
		first := earliest(times)
		s.When, s.Dated = first.Time, first.dated
	}
}
