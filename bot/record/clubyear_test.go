package record

import (
	"flag"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/clubyear"
	"rangepost/analysis/stat"
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
	seed     = flag.Uint64("seed", 5000, "of the first of them")
	ways     = flag.String("ways", "", "a regular expression for the names of the ways")
)

func TestClubYear(t *testing.T) {
	if *yearSeed == 0 {
		t.Skip("needs -year")
	}
	g := newGround(t)
	p := g.club(clubZone(t))
	y := clubyear.New(*yearSeed, p.zone).Play(p, clubyear.Careful)
	waited, both := madeToWait(y.Entries), clubyear.WronglyHeld(y.Entries)
	t.Logf("honest entries made to wait: %+v; these or refused with a reason as they entered: %+v\n%s", waited, both, clubyear.TallyTable(clubyear.Tallies(y.Entries)))
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

// -years 5 plays so many years, for how the points of a season follow skill.
var years = flag.Int("years", 0, "years of the club, whether points follow skill")

// Over years points follow true skill at least as well as any plain count of the same
// results: the differences are of seasons, whose members differ.
func TestClubSeasons(t *testing.T) {
	if *years == 0 {
		t.Skip("needs -years")
	}
	gains := map[string][]float64{}
	for i := range uint64(*years) {
		g := newGround(t)
		g.unjudged = true
		p := g.club(clubZone(t))
		y := clubyear.New(*seed+i, p.zone).Play(p, clubyear.Careful)
		for _, ball := range []kind{analysis.NewBall, analysis.RangeBall} {
			one := p.of(y, ball)
			for s := range 2 {
				all := one.Follow(s+1, 4, *seed+i)
				for _, f := range all {
					gains[f.Name] = append(gains[f.Name], all[0].Rho-f.Rho)
					fmt.Printf("year %d, %s balls, season %d: %-40s %.3f\n", *seed+i, ball, s+1, f.Name, f.Rho)
				}
			}
		}
	}
	for name, all := range gains {
		s := stat.SampleOf(all)
		se := math.Sqrt(s.Variance / float64(s.N))
		fmt.Printf("ahead of %-40s by %+.3f, standard error %.3f, %d seasons\n", name, s.Mean, se, s.N)
		if s.Mean < -2*se {
			t.Errorf("points follow skill less well than %q: by %.3f, standard error %.3f", name, -s.Mean, se)
		}
	}
}

// madeToWait is how many of the honest entries that were due wait for a host, who
// may never look. A refusal says at once what is missing, and is counted apart.
func madeToWait(entries []clubyear.Entry) clubyear.Rate {
	var held []clubyear.Entry
	for _, e := range entries {
		if e.Said.State != clubyear.Refused {
			held = append(held, e)
		}
	}
	return clubyear.WronglyHeld(held)
}

// played plays n contests of a field of five.
func (g *ground) played(n int, rule clubyear.Rule, way clubyear.Way, seed uint64, host clubyear.Host) (all []clubyear.Outcome) {
	zone := clubZone(g.t)
	for i := range n {
		c := clubyear.Contest{Rule: rule, Size: 5, Way: way, Seed: seed + uint64(i), Zone: zone}
		all = append(all, c.Play(g.club(zone), host))
	}
	return all
}

// twoHosts is a contest's product of which a careful host's word is heard and a
// trusting one's as well: whom the careful one would not let in counts only once it
// was asked how it stands without them.
type twoHosts struct {
	*clubProduct
	kept    []string // members
	careful clubyear.Result
}

func (p *twoHosts) Decide(name, member string, accept bool, at time.Time) {
	if accept {
		p.clubProduct.Decide(name, member, true, at)
		return
	}
	p.kept = append(p.kept, member)
}

func (p *twoHosts) Close(name string, at time.Time) clubyear.Result {
	p.now = at
	id := p.held[name][analysis.NewBall] // all hit one kind in a contest
	if id == "" {
		return clubyear.Result{}
	}
	c, err := p.db.Challenge(p.t.Context(), p.server, id)
	must(p.t, err)
	must(p.t, p.rs.Rescore(p.t.Context(), c))
	s, err := p.rs.Standings(p.t.Context(), c)
	must(p.t, err)
	p.careful = resultOf(s)
	for _, m := range p.kept {
		if _, waits := s.LookOf(m); waits {
			p.clubProduct.Decide(name, m, true, at.Add(-time.Minute))
		}
	}
	return p.clubProduct.Close(name, at)
}

// hosted are the same contests under a careful and a trusting host, who differ
// where something waits alone.
func (g *ground) hosted(n int, rule clubyear.Rule, way clubyear.Way, seed uint64) map[clubyear.Host][]clubyear.Outcome {
	all := map[clubyear.Host][]clubyear.Outcome{}
	zone := clubZone(g.t)
	for i := range uint64(n) {
		p := &twoHosts{clubProduct: g.club(zone)}
		c := clubyear.Contest{Rule: rule, Size: 5, Way: way, Seed: seed + i, Zone: zone}
		o := c.Play(p, clubyear.Careful)
		all[clubyear.Trusting] = append(all[clubyear.Trusting], o)
		o.Result = p.careful
		all[clubyear.Careful] = append(all[clubyear.Careful], o)
	}
	return all
}

func TestClubContests(t *testing.T) {
	if *contests == 0 {
		t.Skip("needs -contests")
	}
	g := newGround(t)
	pooled := map[clubyear.Host][]clubyear.Outcome{}
	for _, k := range strings.Split(*rules, ",") {
		for _, w := range clubyear.Ways(clubyear.RuleKind(k)) {
			if !regexp.MustCompile(*ways).MatchString(string(w)) {
				continue
			}
			all := g.hosted(*contests, clubyear.RuleOf(clubyear.RuleKind(k), "7i"), w, *seed)
			for _, host := range []clubyear.Host{clubyear.Careful, clubyear.Trusting} {
				_, line, _ := strings.Cut(clubyear.ShareTable([]clubyear.Share{clubyear.ShareOf(all[host])}, 1.2), "\n")
				fmt.Printf("%-9s%s%s", host, line, timesFair(all[host]))
				if !w.Beyond() {
					pooled[host] = append(pooled[host], all[host]...)
				}
			}
		}
	}
	for host, all := range pooled {
		fmt.Printf("%s host, all ways that are not beyond a file, %d contests:\n%s", host, len(all), timesFair(all))
	}
	t.Log("\n" + strings.Join(g.sortedAsked(), "\n"))
}

// timesFair is how many times its share whoever games it wins and leads, with standard
// errors. A win that is shared scatters far less than a whole one, so these tell more
// than the exact limits of a count.
func timesFair(all []clubyear.Outcome) string {
	var wins, leads []float64
	for _, o := range all {
		s := clubyear.ShareOf([]clubyear.Outcome{o})
		wins, leads = append(wins, s.Wins.X/s.Fair), append(leads, s.Leads.X/s.Fair)
	}
	w, l := stat.SampleOf(wins), stat.SampleOf(leads)
	return fmt.Sprintf("%9swins %.2f +- %.2f, leads %.2f +- %.2f\n", "", w.Mean, math.Sqrt(w.Variance/float64(w.N)), l.Mean, math.Sqrt(l.Variance/float64(l.N)))
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
		all := g.played(*equals, clubyear.RuleOf(clubyear.RuleKind(k), "7i"), "", *seed, clubyear.Careful)
		for name, group := range groups {
			fmt.Printf("%s by %s: wins %+v, leads %+v\n", k, name, clubyear.Equal(all, false, group), clubyear.Equal(all, true, group))
		}
		held, apart := 0, 0
		for _, o := range all {
			held += int(clubyear.WronglyHeld(o.Entries).X)
			if slices.ContainsFunc(o.Result.Placings, func(p clubyear.Placing) bool { return p.Place > 1 }) {
				apart++
			}
		}
		fmt.Printf("%s: %+v; not all share the first place in %d; %d entries held\n", k, clubyear.ConfidenceOf(all), apart, held)
	}
}

// A small club's first challenges hold few of the honest wrongly; no way that is
// tried wins more than its share under a host who looks; equals lead equally,
// whichever hand they play from. -year, -contests and -equals are the larger
// studies of the same.
func TestClubIsFair(t *testing.T) {
	if testing.Short() {
		t.Skip("most of a minute")
	}
	g := newGround(t)
	p := g.club(clubZone(t))
	links := clubyear.New(3, p.zone)
	links.Members, links.Challenges = links.Members[:30], links.Challenges[:6]
	y := links.Play(p, clubyear.Careful)
	held := clubyear.WronglyHeld(y.Entries)
	t.Logf("honest entries held wrongly: %+v\n%s", held, clubyear.TallyTable(clubyear.Tallies(y.Entries)))
	if held.N < 80 || held.Low > 0.02 {
		t.Errorf("%v of %d honest entries are held wrongly, more than 2 in 100", held.X, held.N)
	}
	for _, way := range []clubyear.Way{clubyear.DeletesRows, clubyear.Quartered, clubyear.ShortChips, clubyear.OthersMirrored} {
		s := clubyear.ShareOf(g.played(8, clubyear.RuleOf(clubyear.Narrow, "7i"), way, 100, clubyear.Careful))
		if s.Finding(1.2) == clubyear.Broken {
			t.Errorf("%q wins %.1f times its share of %d", way, s.Wins.Share()/s.Fair, s.Wins.N)
		}
	}
	// The limits of a path, which are not alike to either side, tell hands apart.
	honest := g.played(40, clubyear.RuleOf(clubyear.Within, "pw"), "", 5000, clubyear.Careful)
	for name, group := range groups {
		if got := clubyear.Equal(honest, true, group); got.N < 40 || got.P < 0.001 {
			t.Errorf("equals by %s: %+v", name, got)
		}
	}
}
