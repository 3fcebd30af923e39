package words

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rangepost/analysis/season"
)

// SeasonPoints says what points are.
var SeasonPoints = fmt.Sprintf("Points: in every challenge you meet everybody else in it, and get the share of them you beat, of 100; two scores as close as luck often leaves equals are halved, wider ones count as they fell, also where the first place is shared: over a season luck evens out. The season is the mean of these and of %d, which everybody begins with, so that one good day is no season.", season.Begun)

// SeasonBest says how many of a member's results count.
func SeasonBest(best, of int) string {
	switch {
	case best == 0:
		return "Every challenge counts."
	case of == 0:
		return "Your best " + figure(float64(best), 1) + " count."
	case of == 1:
		return "The one challenge counts."
	case best >= of && of == 2:
		return "Both challenges count."
	case best >= of:
		return "All " + figure(float64(of), 1) + " challenges count."
	}
	return fmt.Sprintf("Your best %d of %d challenges count.", best, of)
}

// SeasonClass is what a class is called: "handicap over 12 to 24", "juniors".
func SeasonClass(c season.Classes, class int) string {
	bands := c.Num()
	if c.Juniors {
		bands--
	}
	switch {
	case class >= bands:
		return "juniors"
	case class == 0:
		return "handicap to " + Handicap(c.Upper[0])
	case class == bands-1:
		return "handicap over " + Handicap(c.Upper[class-1])
	}
	return "handicap over " + Handicap(c.Upper[class-1]) + " to " + Handicap(c.Upper[class])
}

// Handicap is a handicap as golfers write it: "12.4", "+2" for one better than
// scratch.
func Handicap(h float64) string {
	text := strings.TrimSuffix(figure(math.Abs(h), 0.1), ".0")
	if h < 0 {
		return "+" + text
	}
	return text
}

// Points are somebody's in a season, to a tenth: "66.3 points".
func Points(total float64) string { return figure(total, 0.1) + " points" }

// SeasonRow says what somebody has: "66.3 points, the best 6 of 8".
func SeasonRow(r season.Row) string {
	counted := 0
	for _, c := range r.Counted {
		if c {
			counted++
		}
	}
	text := Points(r.Total)
	if counted < r.Played {
		return fmt.Sprintf("%s, the best %d of %d", text, counted, r.Played)
	}
	return text + " from " + Count(r.Played, "challenge")
}

// SeasonTitle is the finding of a table, for the head of its picture. leader is
// the name on top.
func SeasonTitle(rows []season.Row, leader string, over bool) string {
	if len(rows) == 0 || rows[0].Total == 0 {
		return "Nobody has points"
	}
	shared := 0
	for _, r := range rows {
		if r.Place == 1 {
			shared++
		}
	}
	verb := "leads with "
	switch {
	case shared > 1 && over:
		verb = "share the win with "
	case shared > 1:
		verb = "share the lead with "
	case over:
		verb = "won with "
	}
	if shared > 1 {
		leader = Count(shared, "member")
	}
	return leader + " " + verb + Points(rows[0].Total)
}

// SeasonBehind says what a row lacks on the next better place.
func SeasonBehind(rows []season.Row, r season.Row) string {
	ahead := -1.0
	for _, o := range rows {
		if o.Total > r.Total {
			ahead = o.Total
		}
	}
	if ahead < 0 {
		return "Nobody is ahead."
	}
	return "To the next place up it lacks " + Points(ahead-r.Total) + "."
}

// SeasonDays lists days, the year where it is not that of the one before:
// "1 June 2026, 6 July and 3 August". Of more than a few the rest is counted.
func SeasonDays(days []time.Time) string {
	const most = 8
	var said []string
	for i, d := range days {
		if i == most-1 && len(days) > most {
			said = append(said, fmt.Sprintf("%d more, the last %s", len(days)-i, days[len(days)-1].Format("2 January 2006")))
			break
		}
		form := "2 January"
		if i == 0 || d.Year() != days[i-1].Year() {
			form = "2 January 2006"
		}
		said = append(said, d.Format(form))
	}
	return List(said)
}

// AltSeason says what the picture of a table shows, at most 1,024 characters.
// names are in the order of the rows.
func AltSeason(rows []season.Row, names []string, title string) string {
	says := []string{title + ".", "A table of " + Count(len(rows), "member") + ", the best on top, with the points of each challenge; those that count stand on a shade."}
	for i, r := range rows {
		says = append(says, fmt.Sprintf("%d. %s: %s.", r.Place, names[i], SeasonRow(r)))
	}
	return fit(says, maxAlt)
}
