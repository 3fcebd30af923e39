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
		return "Narrow: over " + of + ", the width that holds 80 % of them" + v.brought(t) + ". The narrowest wins, wherever it points."
	case challenge.Zone:
		return "Zone: over " + of + ", the share landing in a zone " + v.Distance(t.Wide) + " wide and " + v.Distance(t.Deep) +
			" deep round a target " + v.Distance(t.Target) + " away. The largest wins."
	case challenge.OnRequest:
		each := balls(t.Balls / len(t.Shots))
		if t.Balls%len(t.Shots) != 0 {
			each = "about as many balls"
		}
		return "On request: over " + of + ", the share that does the shot it is asked for: " + v.Quote(strings.Join(t.Shots, "; ")) + ", " + each + " of each in that order, in a mirror for left-handers. The largest wins."
	case challenge.Brief:
		return "Brief: over " + of + ", the share with the " + v.Asked(analysis.Brief{Number: t.Number, Low: t.Low, High: t.High}) + ". The largest wins."
	}
	if t.Across > 0 {
		return fmt.Sprintf("Progress: over %s, how much closer together across the line they land%s, than your own last %d before the opening. The largest gain wins.",
			of, v.brought(t), challenge.Window)
	}
	return fmt.Sprintf("Progress: over %s, how much nearer the target line they land than your own last %d before the opening. The largest gain wins.",
		of, challenge.Window)
}

// brought says at which distance sideways figures count, "" where they count as
// they lie.
func (v Voice) brought(t challenge.Terms) string {
	if t.Across <= 0 {
		return ""
	}
	return " as it would be at " + v.Distance(t.Across)
}

// ChallengeCounts says what counts as an entry, and who may look at it.
func (v Voice) ChallengeCounts(t challenge.Terms) string {
	text := "One entry each: your first balls posted since the opening, over as many sessions as it takes."
	if t.Announced {
		text = "One entry each: press \"My next session counts\" before you hit it, and post it within a day."
	}
	if t.Drawn {
		text = fmt.Sprintf("One entry each: press \"My next session counts\" before you hit it. I then draw two of its balls for you to hit as half shots; they do not count. Post the file within %s. Later, or with full shots in their place, it does not count, and you may announce one more the next day; that one waits for a host, as does one whose half shots are in doubt.",
			Count(int(t.PostedWithin().Minutes()), "minute"))
	}
	if t.Dispersion() && t.Least > 0 {
		text += " Full shots: sessions that stay short of " + v.Distance(t.Least) + ", or of three quarters of your own usual carry, do not count."
	}
	if t.Number.Info().Sideways && t.Rule == challenge.Brief {
		text += " Sides are a right-hander's; for left-handers they are the other way round."
	}
	if t.Fewest > 0 && !t.Inferred {
		text += " Only measured figures count."
	}
	if t.Fewest > 1 {
		text += " There is a winner from " + Entries(t.Fewest) + " on."
	}
	if t.Look {
		text += " A host may look at the balls of an entry."
	}
	return text
}

// DrawnBalls names balls by their places: "ball 4 and ball 9".
func DrawnBalls(places []int) string {
	var each []string
	for _, p := range places {
		each = append(each, fmt.Sprintf("ball %d", p))
	}
	return List(each)
}

// ChallengeOther says the distances of a challenge in the unit that is not the
// clubhouse's, "" for rules without any.
func (v Voice) ChallengeOther(t challenge.Terms) string {
	if t.Target <= 0 {
		return ""
	}
	other := Voice{Units: analysis.Units{Distance: analysis.Metres}}
	if v.Units.Distance == analysis.Metres {
		other.Units.Distance = analysis.Yards
	}
	text := "For whoever reads " + other.Unit(analysis.Length) + ": the target is " + other.Distance(t.Target) + " away"
	if t.Rule == challenge.Zone {
		text += ", the zone " + other.Distance(t.Wide) + " wide and " + other.Distance(t.Deep) + " deep"
	}
	return text + "."
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
		return gain(t, s.Value) + " (" + gain(t, s.Low) + " to " + gain(t, s.High) + ")"
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
		return gain(t, s.Value)
	}
	return strings.NewReplacer(" "+v.Unit(analysis.Length), "", " wide", "").Replace(v.ChallengeScore(t, s))
}

// tenths is a distance to a tenth: scores are means of several balls, and are
// compared that finely.
func (v Voice) tenths(m float64) string {
	return v.unit(figure(math.Round(m/v.Scale(analysis.Length)*10)/10, 0.1), analysis.Length)
}

// gain says how much closer together, or before there was a distance to bring
// them to how much nearer the line, balls land than before.
func gain(t challenge.Terms, g float64) string {
	less, more := "nearer", "further"
	if t.Across > 0 {
		less, more = "narrower", "wider"
	}
	n := math.Round(100 * g)
	switch {
	case n == 0:
		return "no " + less
	case n < 0:
		return figure(-n, 1) + " % " + more
	}
	return figure(n, 1) + " % " + less
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
	case r.RankLow == of:
		return "" // the place itself says it
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

// Entries says how many entries: "1 entry", "12 entries".
func Entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return strconv.Itoa(n) + " entries"
}

// mostBalls is how many balls of an entry are told one by one.
const mostBalls = 24

// ChallengeBalls tells the balls of an entry one by one: "1: 143 yards, 4 left".
func (v Voice) ChallengeBalls(t challenge.Terms, balls []challenge.Ball) string {
	if len(balls) == 0 {
		return "Its balls are gone: the player took their data back."
	}
	var each []string
	for _, b := range balls[:min(len(balls), mostBalls)] {
		says := v.Number(analysis.Lateral, b.Lateral)
		switch {
		case b.Unmeasured:
			says = "no figure"
		case t.Rule == challenge.Brief:
			says = v.Number(t.Number, b.Number)
		case b.Carry > 0:
			says = v.Distance(b.Carry) + ", " + says
		}
		each = append(each, fmt.Sprintf("%d: %s", b.N, says))
	}
	if more := len(balls) - mostBalls; more > 0 {
		each = append(each, fmt.Sprintf("and %d more", more))
	}
	return "Its balls by shot number. " + strings.Join(each, "; ") + "."
}

// ChallengeDrawn tells the balls that were drawn to be half shots one by one.
func (v Voice) ChallengeDrawn(drawn []challenge.Ball) string {
	var each []string
	for _, b := range drawn {
		says := "no figure"
		if !b.Unmeasured {
			says = v.Distance(b.Carry)
		}
		each = append(each, fmt.Sprintf("%d: %s", b.N, says))
	}
	return "Drawn to be half shots, by shot number. " + strings.Join(each, "; ") + "."
}

// ChallengeWaits says that entries wait for a host.
func ChallengeWaits(n int) string {
	if n == 1 {
		return "1 entry waits for a host to look at it."
	}
	return Entries(n) + " wait for a host to look at them."
}

// ChallengeWere says how few have entered: "was 1", "were 2".
func ChallengeWere(n int) string {
	if n == 1 {
		return "was 1"
	}
	return fmt.Sprintf("were %d", n)
}

// ChallengeRuled says what hosts did, "" while they did nothing.
func ChallengeRuled(accepted, out int, later bool) string {
	var did []string
	if accepted > 0 {
		did = append(did, Entries(accepted)+" accepted after a look")
	}
	if out > 0 {
		did = append(did, Entries(out)+" taken out, the player told why")
	}
	text := ""
	if len(did) > 0 {
		text = "By the hosts: " + strings.Join(did, "; ") + "."
	}
	if later {
		text = strings.TrimSpace(text + " It ends later than was said, because I was away.")
	}
	return text
}

// ChallengeTitle is the finding of standings, for the head of their picture.
// leader is the name on top, and winners how many have won once it is over.
func (v Voice) ChallengeTitle(t challenge.Terms, s challenge.Standings, leader string, winners int, over bool) string {
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
	switch {
	case over && winners == 0:
		return "No winner: fewer entries than it takes"
	case over && winners == 1:
		return leader + " won with " + score
	case over:
		return Count(winners, "player") + " share the win, best " + score
	case shared > 1:
		return Count(shared, "player") + " share the lead with " + score
	}
	return leader + " leads with " + score
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
	case challenge.OnRequest:
		return "Balls that did their shot, %"
	}
	if t.Across > 0 {
		return "Narrower than before, %"
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
