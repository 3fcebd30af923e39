package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

// ChallengeRule says in one line what a challenge scores.
func (v Voice) ChallengeRule(t challenge.Terms) string {
	of := "the first " + balls(t.Balls) + " with the " + t.Club.String() + ", mishits and all"
	if t.OfTheBall() {
		of = fmt.Sprintf("the first %s with the %s, mishits and all, %s balls only", balls(t.Balls), t.Club, t.Ball)
	}
	switch t.Rule {
	case challenge.Nearest:
		return "Nearest: over " + of + ", the mean distance to a target " + v.Distance(t.Target) + " away. The shortest wins."
	case challenge.Narrow:
		return "Narrow: over " + of + ", the width that holds 80 % of them. The narrowest wins, wherever it points."
	case challenge.Zone:
		return "Zone: over " + of + ", the share landing in a zone " + v.Distance(t.Wide) + " wide and " + v.Distance(t.Deep) +
			" deep round a target " + v.Distance(t.Target) + " away. The largest wins."
	case challenge.Brief:
		return "Brief: over " + of + ", the share with the " + v.Asked(analysis.Brief{Number: t.Number, Low: t.Low, High: t.High}) + ". The largest wins."
	}
	return fmt.Sprintf("Progress: over %s, how much nearer the target line they land than your own last %d before the opening. The largest gain wins.",
		of, challenge.Window)
}

// ChallengeDevices says what devices do to standings (common practice, no
// source).
const ChallengeDevices = "The limits hold what a device scatters, about a yard a ball. A device set up askew moves every ball, and no limit shows it."

// ChallengeWhy says what keeps the rule fair, "" where nothing needs saying.
func ChallengeWhy(t challenge.Terms) string {
	if t.Rule != challenge.Progress {
		return ""
	}
	return fmt.Sprintf("A gain is a share of your own past, so a beginner can win. %s are few, so most of any gain is luck, and about as small a part of it counts for everybody; no gain over %.0f %% counts, so a bad past is worth little.",
		sentence(balls(t.Balls)), 100*challenge.MostGain)
}

// ChallengeScore says a score: "7.1 yards (5.2 to 9.0)", "7 of 10 (39 to
// 90 %)", "12 % nearer (3 % further to 25 % nearer)".
func (v Voice) ChallengeScore(t challenge.Terms, s challenge.Score) string {
	switch {
	case t.Shares():
		low, high := percentOutward(s.Low, s.High)
		return fmt.Sprintf("%d of %d (%s to %s %%)", s.In, s.Of, low, high)
	case t.Rule == challenge.Progress:
		return gain(s.Value) + " (" + gain(s.Low) + " to " + gain(s.High) + ")"
	}
	text := v.tenths(s.Value)
	if t.Rule == challenge.Narrow {
		text += " wide"
	}
	if s.OK {
		scale := v.Scale(analysis.Length)
		text += " (" + figure(math.Floor(tidy(s.Low/scale*10))/10, 0.1) + " to " + figure(math.Ceil(tidy(s.High/scale*10))/10, 0.1) + ")"
	}
	return text
}

// ChallengeBar says a score in few letters, for a bar whose axis has the unit:
// "7.1 (5.2 to 9.0)", "7 of 10".
func (v Voice) ChallengeBar(t challenge.Terms, s challenge.Score) string {
	switch {
	case t.Shares():
		return fmt.Sprintf("%d of %d", s.In, s.Of)
	case t.Rule == challenge.Progress:
		return gain(s.Value)
	}
	return strings.NewReplacer(" "+v.Unit(analysis.Length), "", " wide", "").Replace(v.ChallengeScore(t, s))
}

// tenths is a distance to a tenth: scores are means of several balls, and are
// compared that finely.
func (v Voice) tenths(m float64) string {
	return v.unit(figure(math.Round(m/v.Scale(analysis.Length)*10)/10, 0.1), analysis.Length)
}

func gain(g float64) string {
	n := math.Round(100 * g)
	switch {
	case n == 0:
		return "no nearer"
	case n < 0:
		return figure(-n, 1) + " % further"
	}
	return figure(n, 1) + " % nearer"
}

// ChallengeBehind says what an entry lacks on the next better place.
func (v Voice) ChallengeBehind(t challenge.Terms, r challenge.Standing) string {
	switch {
	case r.Place == 1:
		return "Nobody is ahead."
	case t.Shares():
		return "To the next place up it lacks " + balls(max(1, int(math.Round(r.Behind*float64(r.Score.Of))))) + " inside."
	case t.Rule == challenge.Progress:
		return "To the next place up it lacks " + figure(math.Max(0.1, math.Round(1000*r.Behind)/10), 0.1) + " percentage points."
	}
	return "To the next place up it lacks " + v.tenths(math.Max(r.Behind, v.Scale(analysis.Length)/10)) + "."
}

// ChallengeRanks says which places an entry may truly hold.
func ChallengeRanks(r challenge.Standing, of int) string {
	switch {
	case of == 1:
		return ""
	case r.RankLow == 1 && r.RankHigh == of:
		return "By these balls alone it is apart from nobody: another day may turn it round."
	case r.RankLow == r.RankHigh:
		return "It is apart from everybody else's, so that place is no luck."
	}
	return "By these balls alone its true place may be anywhere from " + Ordinal(r.RankLow) + " to " + Ordinal(r.RankHigh) + "."
}

// ChallengeApart says how far the standings tell anybody apart.
func ChallengeApart(s challenge.Standings) string {
	n := len(s.Rows)
	if n < 2 {
		return ""
	}
	apart := 0
	for _, r := range s.Rows {
		if r.RankLow > 1 || r.RankHigh < n {
			apart++
		}
	}
	text := "Nobody is really apart: such differences are what luck makes of so few balls."
	if apart > 0 {
		first := s.Rows[0]
		text = "The first is really apart from nobody; some below are."
		if below := n - first.RankHigh; below > 0 {
			text = fmt.Sprintf("The first is really apart from %d of the other %d; the rest may be luck.", below, n-1)
		}
		if first.RankHigh == 1 {
			text = "The first is really apart from everybody else."
		}
	}
	if s.Best > 0 {
		text += fmt.Sprintf(" The one on top is truly the best of these about %s times in 100.", figure(math.Max(1, math.Min(99, math.Round(100*s.Best))), 1))
	}
	return text
}

// ChallengeTitle is the finding of standings, for the head of their picture.
// leader is the name on top.
func (v Voice) ChallengeTitle(t challenge.Terms, s challenge.Standings, leader string, over bool) string {
	if len(s.Rows) == 0 {
		return "Nobody has entered yet"
	}
	shared := 0
	for _, r := range s.Rows {
		if r.Place == 1 {
			shared++
		}
	}
	score, _, _ := strings.Cut(v.ChallengeScore(t, s.Rows[0].Score), " (")
	score = strings.TrimSuffix(score, " wide")
	lead := "leads with "
	if over {
		lead = "won with "
	}
	if shared > 1 {
		lead = "share the lead with "
		if over {
			lead = "share the win with "
		}
		return Count(shared, "player") + " " + lead + score
	}
	return leader + " " + lead + score
}

// ChallengeAxis is what the bars of standings are, with the unit.
func (v Voice) ChallengeAxis(t challenge.Terms) string {
	switch t.Rule {
	case challenge.Nearest:
		return "Mean distance to the target, " + v.Unit(analysis.Length)
	case challenge.Narrow:
		return "Width that holds 80 %, " + v.Unit(analysis.Length)
	case challenge.Zone:
		return "Balls in the zone, %"
	case challenge.Brief:
		return "Balls inside the limits, %"
	}
	return "Nearer the target line than before, %"
}

// ChallengeScale is how many of a score's units make one of ChallengeAxis's.
func (v Voice) ChallengeScale(t challenge.Terms) float64 {
	if t.Shares() || t.Rule == challenge.Progress {
		return 0.01
	}
	return v.Scale(analysis.Length)
}

// AltChallenge says what the picture of standings shows, at most 1,024
// characters. names are in the order of the rows.
func (v Voice) AltChallenge(t challenge.Terms, s challenge.Standings, names []string, title string) string {
	v.Plain = true
	says := []string{title + ".", "Bars for " + Count(len(s.Rows), "player") + ", the best on top, with thin lines for 95 % limits. " + v.ChallengeAxis(t) + "."}
	for i, r := range s.Rows {
		says = append(says, fmt.Sprintf("%d. %s: %s.", r.Place, names[i], v.ChallengeScore(t, r.Score)))
	}
	return fit(says, maxAlt)
}

// Ordinal is a place: "1st", "12th", "23rd".
func Ordinal(n int) string {
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}
