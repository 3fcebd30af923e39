package brief

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// until reads "by Sunday", "until 14 June", "in 10 days".
func (p *parser) until() (bool, error) {
	typed := p.rest
	before := false
	switch {
	case p.any("by", "until", "till", "due"):
	case p.word("before"):
		before = true
	case p.any("in", "for", "within"):
		n := p.next(0)
		day := map[string]int{"day": 1, "days": 1, "week": 7, "weeks": 7}[p.next(1).text]
		if !n.figure || day == 0 {
			p.rest = typed
			return false, nil
		}
		p.rest = p.rest[2:]
		if n.value != math.Trunc(n.value) {
			return false, wrong(p.typed, "Say whole days or weeks, as in: in 10 days.", "that is no whole number of days.")
		}
		return true, p.ends(p.today().AddDate(0, 0, min(int(n.value), 1000)*day))
	default:
		return false, nil
	}
	p.any("the end of", "end of", "on", "the", "this", "next")
	day, ok := p.day()
	if !ok {
		return false, wrong(p.typed, "Write a day, as in: by Sunday, by 14 June, by 2026-06-14.", "that is no day I know.")
	}
	if before {
		day = day.AddDate(0, 0, -1)
	}
	return true, p.ends(day)
}

// ends keeps the last day of the brief.
func (p *parser) ends(day time.Time) error {
	switch {
	case !p.b.Until.IsZero():
		return wrong(p.typed, "Say once until when.", "there is a day already.")
	case day.Before(p.today()):
		return wrong(p.typed, "Choose a day to come.", "%s is over.", day.Format("2 January 2006"))
	case day.After(p.today().AddDate(1, 0, 0)):
		return wrong(p.typed, "Choose a day within a year.", "%s is more than a year away.", day.Format("2 January 2006"))
	}
	p.b.Until = day.AddDate(0, 0, 1).Add(-time.Millisecond)
	return nil
}

func (p *parser) today() time.Time {
	y, m, d := p.o.Now.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, p.o.Now.Location())
}

// day reads a day. A day of the week is the next one after today.
func (p *parser) day() (time.Time, bool) {
	today := p.today()
	if p.any("today", "tonight") {
		return today, true
	}
	if p.word("tomorrow") {
		return today.AddDate(0, 0, 1), true
	}
	first := p.next(0)
	for i := 1; i <= 7; i++ {
		if d := today.AddDate(0, 0, i); abbreviates(first.text, d.Weekday().String()) {
			p.rest = p.rest[1:]
			return d, true
		}
	}
	if m, ok := month(first.text); ok && p.next(1).figure {
		n := p.rest[1].value
		p.rest = p.rest[2:]
		p.any("st", "nd", "rd", "th")
		return p.date(n, m)
	}
	if !first.figure {
		return today, false
	}
	if p.next(1).text == "-" && p.next(2).figure && p.next(3).text == "-" && p.next(4).figure {
		t, err := time.ParseInLocation("2006-1-2", first.text+"-"+p.rest[2].text+"-"+p.rest[4].text, today.Location())
		p.rest = p.rest[5:]
		return t, err == nil
	}
	p.rest = p.rest[1:]
	p.any("st", "nd", "rd", "th")
	p.any("of")
	m, ok := month(p.next(0).text)
	if !ok {
		return today, false
	}
	p.rest = p.rest[1:]
	return p.date(first.value, m)
}

// date is a day of a month, of the year that is said or else the next such
// day.
func (p *parser) date(day float64, m time.Month) (time.Time, bool) {
	today := p.today()
	year, said := today.Year(), false
	if y := p.next(0); y.figure && y.value >= 2000 && y.value < 3000 {
		year, said = int(y.value), true
		p.rest = p.rest[1:]
	}
	at := func(year int) time.Time { return time.Date(year, m, int(day), 0, 0, 0, 0, today.Location()) }
	t := at(year)
	if !said && t.Before(today) {
		t = at(year + 1)
	}
	return t, t.Month() == m && day == float64(t.Day())
}

func month(text string) (time.Month, bool) {
	for m := time.January; m <= time.December; m++ {
		if abbreviates(text, m.String()) {
			return m, true
		}
	}
	return 0, false
}

// abbreviates reports whether text is a name or its first three or four
// letters.
func abbreviates(text, name string) bool {
	name = strings.ToLower(name)
	return text == name || len(text) >= 3 && len(text) <= 4 && strings.HasPrefix(name, text)
}

// trim writes a figure as short as it can be.
func trim(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
