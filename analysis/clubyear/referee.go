package clubyear

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Rate is X of N, with its exact 95 % limits: Clopper & Pearson, Biometrika 26
// (1934) 404 [M]. Shared wins make X no whole number; they scatter less than whole
// ones, so the limits are then wider than need be.
type Rate struct {
	X         float64
	N         int
	Low, High float64
}

func rate(x float64, n int) Rate {
	r := Rate{X: x, N: n, High: 1}
	if x > 0 {
		r.Low = distuv.Beta{Alpha: x, Beta: float64(n) - x + 1}.Quantile(0.025)
	}
	if x < float64(n) {
		r.High = distuv.Beta{Alpha: x + 1, Beta: float64(n) - x}.Quantile(0.975)
	}
	return r
}

// Share is the rate itself, 0 of nothing.
func (r Rate) Share() float64 { return r.X / float64(max(r.N, 1)) }

// A Share is how often a way wins, against one in the size of its field.
type Share struct {
	Way              Way
	Rule             RuleKind
	Fair             float64
	Wins             Rate // of the contests, a joint win in equal parts
	Leads            Rate // whether or not that is a win
	Accepted, Waited int  // entries; the others were refused or never made
}

// ShareOf is the share of contests that have one size, rule and way.
func ShareOf(outcomes []Outcome) Share {
	var s Share
	var wins, leads float64
	for _, o := range outcomes {
		s.Way, s.Rule, s.Fair = o.Contest.Way, o.Contest.Rule.Kind, 1/float64(o.Contest.Size)
		wins += o.Result.wins()[o.Members[o.Gamer].Name]
		leads += o.Result.leads()[o.Members[o.Gamer].Name]
		switch o.Entries[o.Gamer].Said.State {
		case Accepted:
			s.Accepted++
		case Waits:
			s.Waited++
		}
	}
	s.Wins, s.Leads = rate(wins, len(outcomes)), rate(leads, len(outcomes))
	return s
}

// A Finding is what figures allow to be said of a promise.
type Finding string

// The findings: told to be kept, told to be broken, or neither with these numbers.
const (
	Kept   Finding = "kept"
	Broken Finding = "broken"
	Open   Finding = "open"
)

// Finding holds the wins against so many times the fair share. Some 500 contests of
// five tell a fair share from 1.2 times of it. Joint wins hide who is ahead, so
// look at Leads as well.
func (s Share) Finding(times float64) Finding {
	switch limit := times * s.Fair; {
	case s.Wins.Low > limit:
		return Broken
	case s.Wins.High <= limit:
		return Kept
	}
	return Open
}

// wins parts one win among those in the first place; nobody has one of a challenge
// without a winner.
func (r Result) wins() map[string]float64 {
	all := map[string]float64{}
	for _, p := range r.Placings {
		if p.Place == 1 && !r.Void {
			all[p.Member] = 1
		}
	}
	for m := range all {
		all[m] = 1 / float64(len(all))
	}
	return all
}

// leads gives the first in the list one.
func (r Result) leads() map[string]float64 {
	if r.Void || len(r.Placings) == 0 {
		return nil
	}
	return map[string]float64{r.Placings[0].Member: 1}
}

// ShareTable prints shares as times the fair one, with what was said of the gamed
// entries.
func ShareTable(shares []Share, times float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-38s %-9s %5s  %-20s %-20s %9s %7s  %.1f times\n", "way", "rule", "n", "wins", "leads", "accepted", "waited", times)
	for _, s := range shares {
		of := func(r Rate) string {
			return fmt.Sprintf("%.2f (%.2f to %.2f)", r.Share()/s.Fair, r.Low/s.Fair, r.High/s.Fair)
		}
		percent := func(k int) float64 { return 100 * float64(k) / float64(max(s.Wins.N, 1)) }
		fmt.Fprintf(&b, "%-38s %-9s %5d  %-20s %-20s %7.0f %% %5.0f %%  %s%s\n", cmp.Or(string(s.Way), "honest"), s.Rule, s.Wins.N,
			of(s.Wins), of(s.Leads), percent(s.Accepted), percent(s.Waited), s.Finding(times), s.Way.beyond())
	}
	return b.String()
}

func (w Way) beyond() string {
	if w.Beyond() {
		return ", beyond a file"
	}
	return ""
}

// A Tally is what became of the entries of one kind: a mishap, a way, or the honest
// with whom all went well.
type Tally struct {
	Mishap                       Mishap
	Way                          Way
	N, Accepted, Waited, Refused int
	Caught                       int // gamed: waited, refused or in no score
	Owed, Wrong                  int // honest: one of the two is due; they got the other
	reasons                      map[string]int
}

// Reason is what was said most often of those not accepted.
func (t Tally) Reason() (most string) {
	for r, n := range t.reasons {
		if n > t.reasons[most] || n == t.reasons[most] && r < most {
			most = r
		}
	}
	return most
}

// Tallies counts entries by kind: the honest first, mishaps and ways in their
// order. Who forgot to enter is in none.
func Tallies(entries []Entry) []Tally {
	kinds := []Tally{{}, {Mishap: LeftHander}, {Mishap: ShortJunior}}
	for _, f := range fates {
		kinds = append(kinds, Tally{Mishap: f.mishap})
	}
	for _, t := range tricks {
		kinds = append(kinds, Tally{Way: t.way})
	}
	for i := range kinds {
		t := &kinds[i]
		t.reasons = map[string]int{}
		for _, e := range entries {
			if e.Way == t.Way && e.Mishap == t.Mishap && e.Said.State != "" {
				t.count(e)
			}
		}
	}
	return kinds
}

func (t *Tally) count(e Entry) {
	t.N++
	switch e.Said.State {
	case Accepted:
		t.Accepted++
	case Waits:
		t.Waited++
	case Refused:
		t.Refused++
	}
	if e.Said.State != Accepted {
		t.reasons[e.Said.Reason]++
	}
	switch {
	case e.Way != "" && (e.Said.State != Accepted || !e.Scored):
		t.Caught++
	case e.wrong():
		t.Wrong++
	}
	if e.Due == Accepted || e.Due == Refused {
		t.Owed++
	}
}

// wrong reports whether an honest entry did not get what it was due.
func (e Entry) wrong() bool {
	return e.Due == Accepted && e.Said.State != Accepted || e.Due == Refused && e.Scored
}

// WronglyHeld is how many of the honest entries that were due to be accepted were
// made to wait or turned away.
func WronglyHeld(entries []Entry) Rate {
	held, of := 0.0, 0
	for _, e := range entries {
		if e.Due == Accepted && e.Said.State != "" {
			of++
			if e.wrong() {
				held++
			}
		}
	}
	return rate(held, of)
}

// TallyTable prints tallies: the honest with what was wrong, the gamed with what was
// caught, and what was said most.
func TallyTable(tallies []Tally) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-38s %4s %9s %7s %8s\n", "kind", "n", "accepted", "waited", "refused")
	for _, t := range tallies {
		if t.N == 0 {
			continue
		}
		what := fmt.Sprintf("%d of %d wrong", t.Wrong, t.Owed)
		switch {
		case t.Way != "":
			what = fmt.Sprintf("%d caught%s", t.Caught, t.Way.beyond())
		case t.Owed == 0:
			what = "either will do"
		}
		fmt.Fprintf(&b, "%-38s %4d %9d %7d %8d  %s  %s\n", cmp.Or(string(t.Mishap), string(t.Way), "all well"),
			t.N, t.Accepted, t.Waited, t.Refused, what, t.Reason())
	}
	return b.String()
}

// A Test is a chi-square test of a promise of equality.
type Test struct {
	N         int // contests with a winner
	ChiSquare float64
	Freedom   int
	P         float64
}

// Equal tests whether equals win equally, or lead equally, by groups of them: by
// what group says of a member and their place in the order of joining. Contests are
// of one size, honest, with groups of the same sizes in each.
//
// In a contest of k exchangeable members whose credits x add up to 1, a credit's
// covariance with another's is -c/k and its variance c(1-1/k), with
// c = (E sum x2 - 1/k)/(k-1): with one winner c is 1/k and this is Pearson's test,
// with joint winners it stays exact in its moments [C].
func Equal(outcomes []Outcome, leads bool, group func(m Member, place int) string) Test {
	got, size := map[string]float64{}, map[string]float64{}
	n, spread, k := 0, 0.0, 0.0
	for _, o := range outcomes {
		credit := o.Result.wins()
		if leads {
			credit = o.Result.leads()
		}
		if len(credit) == 0 {
			continue
		}
		n++
		k = float64(len(o.Members))
		square := 0.0
		for i, m := range o.Members {
			g := group(m, i)
			got[g] += credit[m.Name]
			size[g]++ // over all contests
			square += credit[m.Name] * credit[m.Name]
		}
		spread += (square - 1/k) / (k - 1)
	}
	t := Test{N: n, Freedom: len(size) - 1, P: 1}
	if spread < 1e-9 || t.Freedom < 1 {
		return t // everybody always wins, or there is one group
	}
	for _, g := range slices.Sorted(maps.Keys(size)) {
		m := size[g]
		d := got[g] - m/k
		t.ChiSquare += d * d / (spread * m / float64(n))
	}
	t.P = distuv.ChiSquared{K: float64(t.Freedom)}.Survival(t.ChiSquare)
	return t
}

// A Confidence is what was said of who is truly the best in fields of equals.
type Confidence struct {
	N     int     // contests in which something was said of the leader
	Fair  float64 // what is true: one in the size of the field
	Mean  float64 // of what was said of the leader
	Most  float64
	Alone float64 // share of the contests with one winner: equals called apart
}

// ConfidenceOf is that of honest contests of one size.
func ConfidenceOf(outcomes []Outcome) Confidence {
	c := Confidence{Mean: math.NaN()}
	sum, alone := 0.0, 0
	for _, o := range outcomes {
		c.Fair = 1 / float64(o.Contest.Size)
		if len(o.Result.wins()) == 1 {
			alone++
		}
		if p := o.Result.Placings; len(p) > 0 && !math.IsNaN(p[0].Chance) {
			c.N++
			sum += p[0].Chance
			c.Most = max(c.Most, p[0].Chance)
		}
	}
	if c.N > 0 {
		c.Mean = sum / float64(c.N)
	}
	c.Alone = float64(alone) / float64(max(len(outcomes), 1))
	return c
}
