package clubyear

import (
	"cmp"
	"flag"
	"fmt"
	"math"
	"slices"
	"testing"
)

// contests plays so many of a field of five to toys made anew.
func contests(n int, r Rule, w Way, seed uint64, plant func(t *toy)) (all []Outcome) {
	for i := range n {
		t := newToy()
		plant(t)
		all = append(all, Contest{Rule: r, Size: 5, Way: w, Seed: seed + uint64(i), Zone: london}.Play(t, Trusting))
	}
	return all
}

func none(*toy) {}

// -contests 500 plays every way by every rule so often, and prints who wins: some
// minutes. At 500 a fair share of one in five is told from 1.2 times of it.
var studied = flag.Int("contests", 0, "contests of every way and rule, for the table of shares")

// What a scorer that believes everything lets win, the referee finds; of the honest
// it says nothing.
func TestRefereeFindsWhatWins(t *testing.T) {
	var shares []Share
	add := func(n int, k RuleKind, w Way) Finding {
		shares = append(shares, ShareOf(contests(n, RuleOf(k, "7i"), w, 100, none)))
		return shares[len(shares)-1].Finding(1.2)
	}
	if *studied > 0 {
		for _, k := range Kinds() {
			add(*studied, k, "")
			for _, w := range Ways(k) {
				add(*studied, k, w)
			}
		}
	}
	for _, c := range []struct {
		kind RuleKind
		way  Way
	}{
		{Narrow, NoDate}, {Area, DeletesRows}, {Area, YardsAsFeet}, {Narrow, OthersMirrored}, {Nearest, BestOfFive},
		{Progress, Sandbag30}, {Area, ShortChips}, {Nearest, Quartered}, {Narrow, HalvedAlike},
	} {
		if f := add(20, c.kind, c.way); f != Broken {
			t.Errorf("%q at %s: %s", c.way, c.kind, f)
		}
	}
	for _, k := range Kinds() {
		if f := add(20, k, ""); f == Broken {
			t.Errorf("an honest one at %s: %s", k, f)
		}
	}
	t.Log("\n" + ShareTable(shares, 1.2))

	// A fair share of 500 contests is told to be kept, 1.5 times of it to be broken.
	for wins, want := range map[float64]Finding{100: Kept, 120: Open, 150: Broken} {
		s := Share{Fair: 0.2, Wins: rate(wins, 500)}
		if got := s.Finding(1.2); got != want {
			t.Errorf("%v of 500: %s, want %s", wins, got, want)
		}
	}
}

// Equals who win equally pass; a toy that turns left-handers' faces about does not.
func TestEqualsWinEqually(t *testing.T) {
	hands := func(m Member, place int) string { return fmt.Sprint(m.Left) }
	devices := func(m Member, place int) string { return string(m.Device) }
	places := func(m Member, place int) string { return fmt.Sprint(place) }
	fair := contests(120, RuleOf(Within, "pw"), "", 1000, none)
	for _, group := range []func(Member, int) string{hands, devices, places} {
		if got := Equal(fair, true, group); got.P < 0.01 || got.N != 120 {
			t.Errorf("a fair toy: %+v", got)
		}
	}
	unfair := contests(60, RuleOf(Within, "pw"), "", 1000, func(t *toy) { t.unfair = true })
	if got := Equal(unfair, false, hands); got.P > 0.001 {
		t.Errorf("a toy that is unfair to left-handers: %+v", got)
	}
}

// Under chance alone one test in twenty is below 0.05, with one winner and with
// joint ones; a member who wins 2.25 times as often as is fair is found [C].
func TestEqualIsExact(t *testing.T) {
	members := make([]Member, 6)
	for i := range members {
		members[i].Name = string(rune('A' + i))
	}
	draw := func(joint int, more float64, seed int) (all []Outcome) {
		rng := chance(1, joint, seed)
		for range 150 {
			order := rng.Perm(6)
			if rng.Float64() < more/6 {
				order[0], order[slices.Index(order, 0)] = 0, order[0]
			}
			var r Result
			for i, k := range order {
				r.Placings = append(r.Placings, Placing{Member: members[k].Name, Place: max(1, i+2-joint)})
			}
			all = append(all, Outcome{Contest: Contest{Size: 6}, Members: members, Result: r})
		}
		return all
	}
	each := func(m Member, place int) string { return m.Name }
	for _, joint := range []int{1, 3} {
		below := 0
		for seed := range 400 {
			if Equal(draw(joint, 0, seed), false, each).P < 0.05 {
				below++
			}
		}
		// Of 400 at one in twenty: 20, standard deviation 4.4.
		if below < 8 || below > 33 {
			t.Errorf("%d winners: %d of 400 below 0.05", joint, below)
		}
	}
	if got := Equal(draw(1, 1.5, 1), false, each); got.P > 0.01 {
		t.Errorf("one wins more: %+v", got)
	}
}

// The toy's year: what it is fair about is not called wrong, and its faults are
// found by kind.
func TestYearIsJudged(t *testing.T) {
	play := func(host Host, plant func(t *toy)) []Entry {
		toy := newToy()
		plant(toy)
		y := small(2, 24, 8).Play(toy, host)
		if len(toy.misuse) > 0 {
			t.Errorf("the product was misused: %v", toy.misuse)
		}
		return y.Entries
	}
	fair := play(Careful, none)
	if r := WronglyHeld(fair); r.X > 0 || r.N < 70 {
		t.Errorf("a toy that holds nothing: %+v", r)
	}
	t.Log("\n" + TallyTable(Tallies(fair)))

	nervous := play(Careful, func(t *toy) { t.nervous = true })
	if r := WronglyHeld(nervous); r.X < 2 || r.Low <= 0 {
		t.Errorf("a nervous toy: %+v", r)
	}
	for _, k := range Tallies(nervous) {
		if k.Way == "" && (k.Wrong > 0) != (k.Mishap == Restarted) {
			t.Errorf("a nervous toy is wrong about %d of %q", k.Wrong, k.Mishap)
		}
	}

	// A careful host lets in the honest alone, a trusting one everybody.
	for _, host := range []Host{Careful, Trusting} {
		for _, e := range play(host, func(t *toy) { t.strict = true }) {
			if e.Said.State == Waits && e.Scored != (host == Trusting || e.Way == "") {
				t.Errorf("%s: %+v", host, e)
			}
		}
	}
}

// What is said of the best is held against the truth, among equals and others.
func TestChancesAreHeldAgainstTheTruth(t *testing.T) {
	said := func(plant func(t *toy)) Confidence {
		return ConfidenceOf(contests(20, RuleOf(Narrow, "7i"), "", 50, plant))
	}
	if c := said(none); math.Abs(c.Mean-0.2) > 1e-9 || c.Fair != 0.2 || c.Alone != 1 {
		t.Errorf("an honest toy: %+v", c)
	}
	if c := said(func(t *toy) { t.sure = true }); math.Abs(c.Mean-0.9) > 1e-9 || c.N != 20 {
		t.Errorf("a sure toy: %+v", c)
	}
	rng := chance(7)
	year := func(over float64) (y Year) {
		for range 300 {
			p := 0.5 + 0.5*rng.Float64() // of A to be better than B, truly
			skills := map[string]float64{"A": 1, "B": 2}
			if rng.Float64() > p {
				skills["A"] = 3
			}
			p = min(1, p*over)
			y.Skills = append(y.Skills, skills)
			y.Results = append(y.Results, Result{Placings: []Placing{{"A", 1, p}, {"B", 2, 1 - p}}})
		}
		return y
	}
	off := func(y Year) (n int) {
		for _, b := range y.Calibration() {
			if b.Off() {
				n++
			}
		}
		return n
	}
	if n := off(year(1)); n > 1 {
		t.Errorf("true chances are off in %d bins", n)
	}
	if n := off(year(1.4)); n < 2 {
		t.Errorf("chances 1.4 times too large are off in %d bins", n)
	}
}

// Points by skill follow it, points by lot do not.
func TestSeasonsAreHeldAgainstSkill(t *testing.T) {
	rng := chance(8)
	year := func(points func(skill float64) float64) (y Year) {
		y.Seasons[0] = map[string]float64{}
		for range challenges / seasons {
			skills := map[string]float64{}
			var r Result
			for i := range 40 {
				m := fmt.Sprint("M", i)
				skills[m] = float64(i)
				y.Seasons[0][m] += points(float64(i))
				r.Placings = append(r.Placings, Placing{Member: m, Place: i + 1})
			}
			noisy := func(p Placing) float64 { return skills[p.Member] + 15*lot(p.Member, len(y.Results)) }
			slices.SortFunc(r.Placings, func(a, b Placing) int { return cmp.Compare(noisy(a), noisy(b)) })
			y.Skills, y.Results = append(y.Skills, skills), append(y.Results, r)
		}
		return y
	}
	bySkill := year(func(skill float64) float64 { return -skill }).Follow(1, 6, 1)
	lots := year(func(float64) float64 { return rng.Float64() }).Follow(1, 6, 1)
	for _, s := range bySkill[1:] {
		if bySkill[0].Rho < 0.999 || s.High < 0 {
			t.Errorf("points by skill: %v against %+v", bySkill[0].Rho, s)
		}
	}
	worst := 0.0
	for _, s := range lots[1:] {
		worst = min(worst, s.High)
	}
	if worst >= 0 {
		t.Errorf("points by lot are nowhere told to be worse: %+v", lots)
	}
	if r := spearman([]float64{1, 2, 2, 4}, []float64{1, 3, 2, 4}); math.Abs(r-0.9486833) > 1e-6 { // 3/sqrt(10) [C]
		t.Errorf("Spearman's rho with a tie is %v", r)
	}
}
