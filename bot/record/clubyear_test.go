package record

import (
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/clubyear"
)

// -year seed plays the whole year of a club with a careful host and prints what
// became of it: some minutes.
var yearSeed = flag.Uint64("year", 0, "play the year of the club of this seed, and print it")

// -contests 100 plays every way of -rules so often, under either host, and prints who
// wins; -equals 200 plays so many contests of honest equals.
var (
	contests = flag.Int("contests", 0, "contests of each way, for the table of shares")
	rules    = flag.String("rules", "nearest,narrow", "their rules")
	equals   = flag.Int("equals", 0, "contests of honest equals, whether they win equally")
	ways     = flag.String("ways", "", "a part of the names of the ways, every one if empty")
)

func TestClubYear(t *testing.T) {
	if *yearSeed == 0 {
		t.Skip("needs -year")
	}
	g := newGround(t)
	p := g.club(clubZone(t))
	y := clubyear.New(*yearSeed, p.zone).Play(p, clubyear.Careful)
	t.Logf("honest entries held wrongly: %+v\n%s", clubyear.WronglyHeld(y.Entries), clubyear.TallyTable(clubyear.Tallies(y.Entries)))
	for _, e := range y.Entries {
		if e.Way == "" && e.Due == clubyear.Accepted && e.Said.State != "" && e.Said.State != clubyear.Accepted {
			t.Logf("%d %s %s %q: %s: %s", e.Challenge, e.Rule, e.Member, e.Mishap, e.Said.State, e.Said.Reason)
		}
	}
	for _, ball := range []kind{analysis.NewBall, analysis.RangeBall} {
		one := p.of(y, ball)
		for _, b := range one.Calibration() {
			t.Logf("%s balls, %.2f to %.2f: said %.3f, true %+v, off %v", ball, b.From, b.To, b.Said, b.Best, b.Off())
		}
		for s := range 2 {
			for _, f := range one.Follow(s+1, 4, *yearSeed) {
				t.Logf("%s balls, season %d: %+v", ball, s+1, f)
			}
		}
	}
	t.Log("\n" + strings.Join(g.sortedAsked(), "\n"))
}

// played plays n contests of a field of five.
func (g *ground) played(n int, kind clubyear.RuleKind, way clubyear.Way, seed uint64, host clubyear.Host) (all []clubyear.Outcome) {
	zone := clubZone(g.t)
	for i := range n {
		c := clubyear.Contest{Rule: clubyear.RuleOf(kind, "7i"), Size: 5, Way: way, Seed: seed + uint64(i), Zone: zone}
		all = append(all, c.Play(g.club(zone), host))
	}
	return all
}

// hosted are the same contests under a careful and a trusting host, who differ
// where something waits alone.
func (g *ground) hosted(n int, kind clubyear.RuleKind, way clubyear.Way, seed uint64) map[clubyear.Host][]clubyear.Outcome {
	all := map[clubyear.Host][]clubyear.Outcome{}
	for i := range uint64(n) {
		one := g.played(1, kind, way, seed+i, clubyear.Trusting)
		all[clubyear.Trusting] = append(all[clubyear.Trusting], one...)
		if slices.ContainsFunc(one[0].Entries, func(e clubyear.Entry) bool { return e.Said.State == clubyear.Waits }) {
			one = g.played(1, kind, way, seed+i, clubyear.Careful)
		}
		all[clubyear.Careful] = append(all[clubyear.Careful], one...)
	}
	return all
}

func TestClubContests(t *testing.T) {
	if *contests == 0 {
		t.Skip("needs -contests")
	}
	g := newGround(t)
	for _, k := range strings.Split(*rules, ",") {
		for _, w := range clubyear.Ways(clubyear.RuleKind(k)) {
			if !strings.Contains(string(w), *ways) {
				continue
			}
			all := g.hosted(*contests, clubyear.RuleKind(k), w, 100)
			for _, host := range []clubyear.Host{clubyear.Careful, clubyear.Trusting} {
				_, line, _ := strings.Cut(clubyear.ShareTable([]clubyear.Share{clubyear.ShareOf(all[host])}, 1.2), "\n")
				fmt.Printf("%-9s%s", host, line)
			}
		}
	}
	t.Log("\n" + strings.Join(g.sortedAsked(), "\n"))
}

// groups are what equals differ by.
var groups = map[string]func(m clubyear.Member, place int) string{
	"hand":    func(m clubyear.Member, _ int) string { return fmt.Sprint(m.Left) },
	"device":  func(m clubyear.Member, _ int) string { return string(m.Device) },
	"units":   func(m clubyear.Member, _ int) string { return fmt.Sprint(m.Metric) },
	"joining": func(_ clubyear.Member, place int) string { return fmt.Sprint(place) },
}

func TestClubEquals(t *testing.T) {
	if *equals == 0 {
		t.Skip("needs -equals")
	}
	g := newGround(t)
	for _, k := range strings.Split(*rules, ",") {
		all := g.played(*equals, clubyear.RuleKind(k), "", 5000, clubyear.Careful)
		for name, group := range groups {
			fmt.Printf("%s by %s: wins %+v, leads %+v\n", k, name, clubyear.Equal(all, false, group), clubyear.Equal(all, true, group))
		}
		held := 0
		for _, o := range all {
			held += int(clubyear.WronglyHeld(o.Entries).X)
		}
		fmt.Printf("%s: %+v; %d entries held\n", k, clubyear.ConfidenceOf(all), held)
	}
}
