package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
)

func contests() map[challenge.Rule]challenge.Terms {
	low, high := -2*deg, 2*deg
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	all := map[challenge.Rule]challenge.Terms{}
	for _, t := range []challenge.Terms{
		{Rule: challenge.Nearest, Target: 150 * yard}, {Rule: challenge.Narrow}, {Rule: challenge.Zone, Target: 150 * yard, Wide: 20 * yard, Deep: 30 * yard},
		{Rule: challenge.Brief, Number: analysis.Face, Low: &low, High: &high}, {Rule: challenge.Progress},
	} {
		t.Club, t.Balls, t.Ball = iron, 10, analysis.RangeBall
		all[t.Rule] = t
	}
	return all
}

func TestChallengeRules(t *testing.T) {
	club := contests()[challenge.Narrow]
	club.Across, club.Least, club.Fewest, club.Look = 140*yard, 60*yard, 3, true
	check(t, Voice{}.ChallengeRule(club), "Narrow: over the first 10 balls with the 7-iron, mishits and all, range balls only, the width that holds 80 % of them as it would be at 140 yards. The narrowest wins, wherever it points.")
	check(t, Voice{}.ChallengeCounts(club), "One entry each: your first balls posted since the opening, over as many sessions as it takes. Full shots: sessions that stay short of 60 yards, or of three quarters of your own usual carry, do not count. Only measured figures count. There is a winner from 3 entries on. A host may look at the balls of an entry.")
	check(t, Voice{}.ChallengeOther(contests()[challenge.Zone]), "For whoever reads metres: the target is 137 metres away, the zone 18 metres wide and 27 metres deep.")
	check(t, Voice{}.ChallengeOther(club), "")
	check(t, Voice{}.ChallengeBalls(club, []challenge.Ball{{N: 1, Carry: 150 * yard, Lateral: -4 * yard}, {N: 2, Unmeasured: true}}), "Its balls by shot number. 1: 150 yards, 4 yards left of target; 2: no figure.")
	for rule, want := range map[challenge.Rule]string{
		challenge.Nearest:  "Nearest: over the first 10 balls with the 7-iron, mishits and all, range balls only, the mean distance to a target 150 yards away. The shortest wins.",
		challenge.Narrow:   "Narrow: over the first 10 balls with the 7-iron, mishits and all, range balls only, the width that holds 80 % of them. The narrowest wins, wherever it points.",
		challenge.Zone:     "Zone: over the first 10 balls with the 7-iron, mishits and all, range balls only, the share landing in a zone 20 yards wide and 30 yards deep round a target 150 yards away. The largest wins.",
		challenge.Brief:    "Brief: over the first 10 balls with the 7-iron, mishits and all, the share with the face angle between 2° left and 2° right of target. The largest wins.",
		challenge.Progress: "Progress: over the first 10 balls with the 7-iron, mishits and all, range balls only, how much nearer the target line they land than your own last 30 before the opening. The largest gain wins.",
	} {
		check(t, Voice{}.ChallengeRule(contests()[rule]), want)
		if why := ChallengeWhy(contests()[rule]); (why != "") != (rule == challenge.Progress) {
			t.Errorf("%s: %q", rule, why)
		}
	}
}

func TestChallengeScores(t *testing.T) {
	c := contests()
	metres := Voice{Units: analysis.Units{Distance: analysis.Metres}}
	far := challenge.Score{Value: 6.49, Low: 4.71, High: 8.28, OK: true}
	check(t, metres.ChallengeScore(c[challenge.Nearest], far), "6.5 metres (4.7 to 8.3)")
	check(t, Voice{}.ChallengeScore(c[challenge.Nearest], far), "7.1 yards (5.1 to 9.1)")
	check(t, metres.ChallengeScore(c[challenge.Narrow], challenge.Score{Value: 20}), "20.0 metres wide")
	check(t, metres.ChallengeBar(c[challenge.Narrow], challenge.Score{Value: 20, Low: 14.2, High: 28, OK: true}), "20.0 (14.2 to 28.0)")
	share := challenge.Score{Value: 0.7, Low: 0.3968, High: 0.8922, OK: true, In: 7, Of: 10}
	check(t, Voice{}.ChallengeScore(c[challenge.Zone], share), "7 of 10 (39 to 90 %)")
	check(t, Voice{}.ChallengeBar(c[challenge.Brief], share), "7 of 10")
	check(t, Voice{}.ChallengeScore(c[challenge.Progress], challenge.Score{Value: 0.12, Low: -0.03, High: 0.25, OK: true}), "12 % nearer (3 % further to 25 % nearer)")
	check(t, Voice{}.ChallengeScore(c[challenge.Progress], challenge.Score{Value: 0.001, Low: -0.2, High: 0.2, OK: true}), "no nearer (20 % further to 20 % nearer)")

	check(t, Voice{}.ChallengeBehind(c[challenge.Nearest], challenge.Standing{Place: 3, Behind: 0.7 * yard}), "To the next place up it lacks 0.7 yards.")
	check(t, Voice{}.ChallengeBehind(c[challenge.Zone], challenge.Standing{Place: 3, Behind: 0.1, Score: share}), "To the next place up it lacks 1 ball inside.")
	check(t, Voice{}.ChallengeBehind(c[challenge.Progress], challenge.Standing{Place: 2, Behind: 0.015}), "To the next place up it lacks 1.5 percentage points.")
	check(t, Voice{}.ChallengeBehind(c[challenge.Nearest], challenge.Standing{Place: 1}), "Nobody is ahead.")
}

func TestWhoIsApart(t *testing.T) {
	row := func(low, high int) challenge.Standing { return challenge.Standing{RankLow: low, RankHigh: high} }
	for _, c := range []struct {
		rows []challenge.Standing
		best float64
		want string
	}{
		{[]challenge.Standing{row(1, 1)}, 0, ""},
		{[]challenge.Standing{row(1, 2), row(1, 2)}, 0, "Nobody is really apart: such differences are what luck makes of so few balls."},
		{[]challenge.Standing{row(1, 1), row(2, 3), row(2, 3)}, 0.998, "The first is really apart from everybody else. The one on top is truly the best of these about 99 times in 100."},
		{[]challenge.Standing{row(1, 2), row(1, 3), row(2, 3)}, 0.42, "The first is really apart from 1 of the other 2; the rest may be luck. The one on top is truly the best of these about 42 times in 100."},
		{[]challenge.Standing{row(1, 3), row(1, 2), row(2, 3)}, 0, "The first is really apart from nobody; some below are."},
	} {
		check(t, ChallengeApart(challenge.Standings{Rows: c.rows, Best: c.best}), c.want)
	}
	check(t, ChallengeRanks(row(2, 9), 12), "By these balls alone its true place may be anywhere from 2nd to 9th.")
	check(t, ChallengeRanks(row(1, 12), 12), "By these balls alone it is apart from nobody: another day may turn it round.")
	check(t, ChallengeRanks(row(1, 1), 12), "It is apart from everybody else's, so that place is no luck.")
	check(t, ChallengeRanks(row(1, 1), 1), "")
	check(t, ChallengeRanks(row(2, 2), 2), "")
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 102: "102nd", 111: "111th"} {
		check(t, Ordinal(n), want)
	}
}

func TestChallengePictureInWords(t *testing.T) {
	terms := contests()[challenge.Nearest]
	check(t, Voice{}.ChallengeTitle(terms, challenge.Standings{}, "", 0, false), "Nobody has entered yet")
	var s challenge.Standings
	var names []string
	for i := range 60 {
		s.Rows = append(s.Rows, challenge.Standing{Entry: i, Place: i + 1, Score: challenge.Score{Value: 5 * yard, Low: 4 * yard, High: 6 * yard, OK: true}})
		names = append(names, "Member")
	}
	check(t, Voice{}.ChallengeTitle(terms, s, "Wren", 0, false), "Wren leads with 5.0 yards")
	check(t, Voice{}.ChallengeTitle(terms, s, "Wren", 1, true), "Wren won with 5.0 yards")
	check(t, Voice{}.ChallengeTitle(terms, s, "Wren", 2, true), "2 players share the win, best 5.0 yards")
	check(t, Voice{}.ChallengeTitle(terms, s, "Wren", 0, true), "No winner: fewer entries than it takes")
	s.Rows[1].Place = 1
	check(t, Voice{}.ChallengeTitle(terms, s, "Wren", 0, false), "2 players share the lead with 5.0 yards")
	if alt := (Voice{}).AltChallenge(terms, s, names, "Title"); len([]rune(alt)) > maxAlt || !strings.HasPrefix(alt, "Title. Bars for 60 players") {
		t.Errorf("%d characters: %q", len([]rune(alt)), alt)
	}
}
