package words

import (
	"strings"
	"testing"
	"time"

	"rangepost/analysis/season"
)

func TestSeasonClasses(t *testing.T) {
	c := season.Classes{Upper: []float64{-1, 12, 24.4}, Juniors: true}
	var said []string
	for i := range c.Num() {
		said = append(said, SeasonClass(c, i))
	}
	check(t, strings.Join(said, "; "), "handicap to +1; handicap over +1 to 12; handicap over 12 to 24.4; handicap over 24.4; juniors")
	check(t, SeasonClass(season.Classes{Juniors: true}, 0), "juniors")
	check(t, SeasonClass(season.Classes{Upper: []float64{18}}, 1), "handicap over 18")
}

func TestSeasonRows(t *testing.T) {
	rows := season.Table([][]int{{100, 51, 13}, {51, season.Missed, 100}, {season.Missed, 1, season.Missed}}, 2)
	check(t, SeasonRow(rows[0]), "58.7 points, the best 2 of 3")
	check(t, SeasonRow(rows[1]), "58.7 points from 2 challenges")
	check(t, SeasonRow(rows[2]), "13.0 points from 1 challenge")
	check(t, SeasonTitle(rows, "Wren", false), "2 members share the lead with 58.7 points")
	check(t, SeasonTitle(rows, "Wren", true), "2 members share the win with 58.7 points")
	one := season.Table([][]int{{100, 51, 13}, {51, 13, 51}}, 0)
	check(t, SeasonTitle(one, "Wren", false), "Wren leads with 47.3 points")
	check(t, SeasonTitle(one, "Wren", true), "Wren won with 47.3 points")
	check(t, SeasonTitle(nil, "", false), "Nobody has points")
	check(t, SeasonBehind(rows, rows[2]), "To the next place up it lacks 45.7 points.")
	check(t, SeasonBehind(rows, rows[1]), "Nobody is ahead.")
	alt := AltSeason(one, []string{"Wren", "Tamsin"}, "Wren leads with 47.3 points")
	if !strings.HasSuffix(alt, "1. Wren: 47.3 points from 3 challenges. 2. Tamsin: 35.0 points from 3 challenges.") {
		t.Error(alt)
	}
}

func TestSeasonBest(t *testing.T) {
	check(t, SeasonBest(0, 12), "Every challenge counts.")
	check(t, SeasonBest(6, 0), "Your best 6 count.")
	check(t, SeasonBest(6, 2), "Both challenges count.")
	check(t, SeasonBest(6, 1), "The one challenge counts.")
	check(t, SeasonBest(6, 12), "Your best 6 of 12 challenges count.")
	check(t, SeasonBest(6, 6), "All 6 challenges count.")
}

func TestSeasonDays(t *testing.T) {
	var days []time.Time
	for i := range 10 {
		days = append(days, time.Date(2026, time.November, 1+7*i, 0, 0, 0, 0, time.UTC))
	}
	check(t, SeasonDays(days[:1]), "1 November 2026")
	check(t, SeasonDays(days[7:]), "20 December 2026, 27 December and 3 January 2027")
	check(t, SeasonDays(days), "1 November 2026, 8 November, 15 November, 22 November, 29 November, 6 December, 13 December and 3 more, the last 3 January 2027")
}
