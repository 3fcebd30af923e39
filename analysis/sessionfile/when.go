package sessionfile

import (
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
)

// dayLayouts are the ways of writing a day that can be read only one way.
// Slashes are told apart by the whole column: see dayOrder.
var dayLayouts = []string{
	"2006-1-2", "2006/1/2", "2006.1.2", "2.1.2006", "2.1.06", "2 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "2-Jan-2006", "20060102",
	"2006年1月2日", "2006년 1월 2일",
}

var clockLayouts = []string{
	"", " 15:04:05", " 15:04", "T15:04:05", " 3:04:05 PM", " 3:04 PM", "T15:04:05Z07:00", "T15:04",
	"T15:04Z07:00", " 15:04:05Z07:00", " 15:04Z07:00", " 15:04:05 Z07:00", " 15:04 Z07:00",
	"T15:04:05Z0700", " 15:04:05Z0700", " 15:04:05 Z0700",
}

var plainLayouts, dayFirstLayouts, monthFirstLayouts = layouts(dayLayouts...), layouts("2/1/2006", "2/1/06"), layouts("1/2/2006", "1/2/06")

// layouts are ways of writing a day with each of writing a time of day.
func layouts(days ...string) (all []string) {
	for _, d := range days {
		for _, c := range clockLayouts {
			all = append(all, d+c)
		}
	}
	return all
}

// A moment is a time as a file has it, the zero time where it has none.
type moment struct {
	time.Time
	dated analysis.Dating
}

// earliest is the first of what is there.
func earliest(all []moment) (first moment) {
	for _, m := range all {
		if !m.IsZero() && (first.IsZero() || m.Before(first.Time)) {
			first = m
		}
	}
	return first
}

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

// parseTimes reads when rows were hit, in a zone where they do not say another.
// Slashed dates are read day first or month first as the whole column demands;
// ambiguous says that both would do.
func parseTimes(cells []string, zone *time.Location) (times []moment, ambiguous bool) {
	if zone == nil {
		zone = time.UTC
	}
	times = make([]moment, len(cells))
	asDay, asMonth := make([]moment, len(cells)), make([]moment, len(cells))
	slashed, dayOK, monthOK := false, true, true
	for i, c := range cells {
		c = plainText(c)
		for _, name := range []string{" UTC", " GMT", " Z"} {
			if at, cut := strings.CutSuffix(c, name); cut {
				c = at + " Z"
			}
		}
		if dot := strings.LastIndexByte(c, '.'); dot > 0 && strings.Contains(c[:dot], ":") { // fractions of a second
			c = c[:dot] + strings.TrimLeft(c[dot+1:], "0123456789")
		}
		if isMissing(c) {
			continue
		}
		if t, ok := parseOne(c, plainLayouts, zone); ok {
			times[i] = t
			continue
		}
		d, okD := parseOne(c, dayFirstLayouts, zone)
		m, okM := parseOne(c, monthFirstLayouts, zone)
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
			same = same && asDay[i].Equal(asMonth[i].Time)
		}
	}
	return times, dayOK == monthOK && !same
}

func parseOne(s string, layouts []string, zone *time.Location) (moment, bool) {
	for _, l := range layouts {
		t, err := time.ParseInLocation(l, s, zone)
		if err != nil || t.Year() <= 1970 || t.Year() >= 2200 {
			continue
		}
		switch {
		case strings.Contains(l, "Z07"):
			return moment{t, analysis.ByInstant}, true
		case strings.Contains(l, ":"):
			return moment{t, analysis.ByClock}, true
		}
		return moment{t, analysis.ByDay}, true
	}
	return moment{}, false
}

// looksLikeTime reports whether a plain text is a date or a time of day.
func looksLikeTime(s string) bool {
	if ts, _ := parseTimes([]string{s}, time.UTC); !ts[0].IsZero() {
		return true
	}
	_, ok := parseOne("2000-1-1 "+strings.ToUpper(s), []string{"2006-1-2 15:04:05", "2006-1-2 15:04", "2006-1-2 3:04 PM", "2006-1-2 3:04:05 PM"}, time.UTC)
	return ok
}
