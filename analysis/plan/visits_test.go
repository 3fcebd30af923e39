package plan_test

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/stat"
	"rangepost/analysis/visits"
)

// What is promised of plans, measured on students and files of another hand.

var (
	visitPlans = flag.Int("visits", 30, "plans without a difference of each kind of another hand's students, half as many of each difference, and five times as many files, 2000 at most; 400 or more for figures to quote")
	visitSeed  = flag.Uint64("visits-seed", 10, "its seed; those from 10 on are held out")
	visitHold  = flag.Bool("visits-hold", false, "hold it to what is promised and was not reached, too")
	visitFile  = flag.String("visits-file", "", "file to write its tables to")
)

// visitNote heads the file that the long run writes.
const visitNote = `# Plans, on another hand's students

Made by

    go test ./analysis/plan -run TestVisits -timeout 5h -visits %d -visits-seed %d -visits-file %s

Students and files are those of analysis/visits; seeds from 10 on are held out.
No constant of package plan was chosen on them; that balls come again with other
columns was seen in the counts of seed 10 and mended on seeds 1 to 9. What is asked
rather than taken was set on seeds 2 to 9. Shares are
in %%, in brackets their 95 %% limits (Wilson).

`

// TestVisits measures what plans promise. Short runs are held to the same bounds as
// long ones, with room for their sampling error: a bound fails where the limits of
// a share lie wholly on the wrong side of it.
func TestVisits(t *testing.T) {
	var out strings.Builder
	study := func(name string, of func(t *testing.T) string) {
		t.Run(name, func(t *testing.T) {
			text := of(t)
			t.Log("\n" + text)
			out.WriteString(text)
		})
	}
	study("soon", studySoon)
	study("matching", studyMatching)
	study("honest", studyHonest)
	if *visitFile != "" {
		text := fmt.Sprintf(visitNote, *visitPlans, *visitSeed, *visitFile) + strings.TrimRight(out.String(), "\n") + "\n"
		if err := os.WriteFile(*visitFile, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A share counts how often something held.
type share struct{ of, all int }

func (s *share) add(held bool) {
	s.all++
	if held {
		s.of++
	}
}

func (s share) limits() (low, high float64) {
	low, high, ok := stat.Wilson(s.of, s.all, 0.95)
	if !ok {
		return 0, 1
	}
	return low, high
}

func (s share) String() string {
	if s.all == 0 {
		return "-"
	}
	low, high := s.limits()
	return fmt.Sprintf("%.1f (%.1f-%.1f)", 100*float64(s.of)/float64(s.all), 100*low, 100*high)
}

func atMost(t *testing.T, what string, s share, bound float64) {
	t.Helper()
	if low, _ := s.limits(); low > bound {
		t.Errorf("%s in %d of %d, at most %v is promised", what, s.of, s.all, bound)
	}
}

func atLeast(t *testing.T, what string, s share, bound float64) {
	t.Helper()
	if _, high := s.limits(); high < bound {
		t.Errorf("%s in %d of %d, at least %v is promised", what, s.of, s.all, bound)
	}
}

// line is a row of a table.
func line(cells ...any) string {
	var b strings.Builder
	for _, c := range cells {
		fmt.Fprintf(&b, "| %v ", c)
	}
	return b.String() + "|\n"
}

func heading(cells ...any) string {
	return line(cells...) + strings.Repeat("| --- ", len(cells)) + "|\n"
}

// drawOf is the generator of one plan of the study: the same whatever else is run.
func drawOf(i int, kind ...string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(strings.Join(kind, "|")))
	return rand.New(rand.NewPCG(*visitSeed, h.Sum64()+uint64(i)))
}

// planFor is a student's plan, from a bucket of forty balls of theirs hit as usual.
// The change that matters is the practical zero.
func planFor(t *testing.T, g visits.Golfer, n analysis.Number, sets int, rng *rand.Rand) plan.Plan {
	t.Helper()
	earlier, _ := visits.Hit([]visits.Turn{{Balls: 40}}, g, nil, rng)
	return made(t, plan.Config{
		Club: g.Club, Labels: []string{"as usual", "stronger grip", "tee higher"}[:sets],
		Number: n, Earlier: earlier, Seed: rng.Uint64(),
	})
}

// hitBy has a student hit the whole card, a session a visit.
func hitBy(g visits.Golfer, p plan.Plan, e []visits.Effect, rng *rand.Rand) []plan.Placed {
	turns := make([]visits.Turn, len(p.Turns))
	for i, t := range p.Turns {
		turns[i] = visits.Turn(t)
	}
	sessions, truth := visits.Hit(turns, g, e, rng)
	all := make([]plan.Placed, len(sessions))
	for i := range sessions {
		all[i] = plan.Placed{Session: sessions[i], Turn: truth[i]}
	}
	return all
}

// median and the like, 0 <= q < 1.
func quantile(v []float64, q float64) float64 {
	slices.Sort(v)
	return v[int(q*float64(len(v)))]
}
