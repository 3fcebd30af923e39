package sessionfile

import (
	"slices"
	"strings"
	"time"
)

// dayLayouts are the ways of writing a day that can be read only one way.
// Slashes are told apart by the whole column: see dayOrder.
var dayLayouts = []string{
	"2006-1-2", "2006/1/2", "2006.1.2", "2.1.2006", "2.1.06", "2 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "2-Jan-2006", "20060102",
	"2006年1月2日", "2006년 1월 2일",
}

var clockLayouts = []string{"", " 15:04:05", " 15:04", "T15:04:05", " 3:04:05 PM", " 3:04 PM", "T15:04:05Z07:00", "T15:04"}

// stamps lists when each row was hit, as written: days and clocks from columns
// of their own are put together.
func (t *table) stamps(cs []column) (cells []string, names []string) {
	cells = make([]string, len(t.rows))
	for _, clock := range []bool{false, true} {
		for _, c := range cs {
			if c.field != timeField {
				continue
			}
			if !clock {
				names = append(names, "'"+c.text+"'")
			}
			for i, r := range t.rows {
				text := plainText(r.cell(c.at))
				if isMissing(text) || strings.Contains(text, ":") != clock || clock && strings.Contains(cells[i], ":") {
					continue
				}
				cells[i] = strings.TrimSpace(cells[i] + " " + text)
			}
		}
	}
	slices.Sort(names)
	return cells, names
}

// parseTimes reads when rows were hit. Slashed dates are read day first or
// month first as the whole column demands; ambiguous says that both would do.
func parseTimes(cells []string) (times []time.Time, ambiguous bool) {
	layouts := func(days []string) []string {
		var all []string
		for _, d := range days {
			for _, c := range clockLayouts {
				all = append(all, d+c)
			}
		}
		return all
	}
	plain, dayFirst, monthFirst := layouts(dayLayouts), layouts([]string{"2/1/2006", "2/1/06"}), layouts([]string{"1/2/2006", "1/2/06"})
	times = make([]time.Time, len(cells))
	asDay, asMonth := make([]time.Time, len(cells)), make([]time.Time, len(cells))
	slashed, dayOK, monthOK := false, true, true
	for i, c := range cells {
		c = strings.TrimSuffix(plainText(c), " UTC")
		if dot := strings.LastIndexByte(c, '.'); dot > 0 && strings.Contains(c[:dot], ":") { // fractions of a second
			c = c[:dot] + strings.TrimLeft(c[dot+1:], "0123456789")
		}
		if isMissing(c) {
			continue
		}
		if t, ok := parseOne(c, plain); ok {
			times[i] = t
			continue
		}
		d, okD := parseOne(c, dayFirst)
		m, okM := parseOne(c, monthFirst)
		if okD || okM {
			slashed = true
			dayOK, monthOK = dayOK && okD, monthOK && okM
			asDay[i], asMonth[i] = d, m
		}
	}
	if !slashed {
		return times, false
	}
	from := asMonth
	if dayOK {
		from = asDay
	}
	same := true
	for i := range from {
		if !from[i].IsZero() {
			times[i] = from[i]
			same = same && asDay[i].Equal(asMonth[i])
		}
	}
	return times, dayOK == monthOK && !same
}

func parseOne(s string, layouts []string) (time.Time, bool) {
	for _, l := range layouts {
		if t, err := time.Parse(l, s); err == nil && t.Year() > 1970 && t.Year() < 2200 {
			return t, true
		}
	}
	return time.Time{}, false
}

// looksLikeTime reports whether a plain text is a date or a time of day.
func looksLikeTime(s string) bool {
	if ts, _ := parseTimes([]string{s}); !ts[0].IsZero() {
		return true
	}
	_, ok := parseOne("2000-1-1 "+strings.ToUpper(s), []string{"2006-1-2 15:04:05", "2006-1-2 15:04", "2006-1-2 3:04 PM", "2006-1-2 3:04:05 PM"})
	return ok
}
