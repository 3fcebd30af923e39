package plan

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

var files = flag.Int("match-files", 400, "how many files TestMatchSimulated reads")

// What happens to simulated files, by how often of a thousand.
var mishaps = []struct {
	name string
	of   int
}{
	{"intact", 560}, {"two visits", 30}, {"stopped", 60}, {"stopped in a turn", 40}, {"warm", 80}, {"skipped", 40}, {"twice", 30},
	{"ball more", 30}, {"ball less", 30}, {"unread with gap", 40}, {"unread", 20}, {"after", 20}, {"cancels", 20},
}

func TestMatchSimulated(t *testing.T) {
	type tally struct{ files, asked, wrong, offered, balls, placed int }
	counts := map[string]*tally{}
	get := func(name string) *tally {
		if counts[name] == nil {
			counts[name] = &tally{}
		}
		return counts[name]
	}
	rng := rand.New(rand.NewPCG(uint64(*seed), 1))
	for range *files {
		pick, kind := rng.IntN(1000), ""
		for _, m := range mishaps {
			if pick -= m.of; pick < 0 {
				kind = m.name
				break
			}
		}
		times := []float64{0, 1, 2, 4}[rng.IntN(4)]
		sets := 2 + rng.IntN(4)/3
		p := card(rng, sets, 4+rng.IntN(3), 60/sets/5, 3)
		h := newHitter(rng, times, sets)
		end := p.visitEnd(0)
		plain := func(i int) int { return i + 1 }
		var before []Placed
		start := 0
		if rng.IntN(2) == 0 {
			turns := p.deal(0, end)
			before = append(before, Placed{h.hit(p, turns, plain), turns})
			start, end = end, p.visitEnd(end)
		}
		truth, numbers := mishap(rng, p, kind, start, end)
		s := h.hit(p, truth, func(i int) int { return numbers[i] })
		m, err := p.Match(before, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []*tally{get(kind), get(fmt.Sprint(kind, " x", times))} {
			c.files++
			if len(m.Likely) > 0 {
				c.asked++
				right := false
				best := 0
				for _, r := range m.Likely {
					if r.Key == string(None) {
						continue
					}
					got, err := p.Take(before, s, r.Key)
					if err != nil {
						t.Fatalf("%s: %v", r.Key, err)
					}
					if wrong(p, truth, got.Turn) == 0 {
						right = true
						best = max(best, r.Balls)
					}
				}
				if right {
					c.offered++
					c.balls += len(truth)
					c.placed += best
				}
			} else if wrong(p, truth, m.Placed.Turn) > 0 {
				c.wrong++
			}
		}
	}
	names := []string{}
	for name := range counts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		if strings.Contains(name, " x") && !testing.Verbose() {
			continue
		}
		c := counts[name]
		t.Logf("%-25s %5d files, %5d asked, %4d wrong in silence, %5d with a right reading (%d of %d balls)", name, c.files, c.asked, c.wrong, c.offered, c.placed, c.balls)
	}
}

// wrong counts balls in a turn of another set, or of none.
func wrong(p Plan, truth, got []int) (n int) {
	for i := range truth {
		if got[i] != Nowhere && p.setOf(got[i]) != p.setOf(truth[i]) {
			n++
		}
	}
	return n
}

// mishap is the balls of a visit from start up to end as they were hit, and
// their numbers.
func mishap(rng *rand.Rand, p Plan, kind string, start, end int) (truth, numbers []int) {
	truth = p.deal(start, end)
	turn := start + rng.IntN(end-start)
	size := p.Turns[turn].Balls
	at := slices.Index(truth, turn)
	warm := func(n int) []int { return slices.Repeat([]int{Nowhere}, n) }
	few := 1 + rng.IntN(15)
	switch kind {
	case "two visits":
		truth = p.deal(start, p.visitEnd(min(end, len(p.Turns)-1)))
	case "stopped":
		truth = truth[:max(at, size)]
	case "stopped in a turn":
		truth = truth[:max(at, size)+1+rng.IntN(size-1)]
		if len(truth) == len(p.deal(start, end)) {
			truth = truth[:len(truth)-1]
		}
	case "warm":
		truth = append(warm(few), truth...)
	case "skipped":
		truth = slices.Delete(truth, at, at+size)
	case "twice":
		truth = slices.Insert(truth, at, slices.Repeat([]int{turn}, size)...)
	case "ball more":
		truth = slices.Insert(truth, at, turn)
	case "ball less":
		truth = slices.Delete(truth, at, at+1)
	case "after":
		truth = append(truth, warm(few)...)
	case "cancels":
		truth = append(warm(few), truth[:len(truth)-few]...)
	}
	for i := range truth {
		numbers = append(numbers, i+1)
	}
	if kind == "unread with gap" || kind == "unread" {
		for range 1 + rng.IntN(3) {
			i := 1 + rng.IntN(len(truth)-2)
			truth, numbers = slices.Delete(truth, i, i+1), slices.Delete(numbers, i, i+1)
		}
		if kind == "unread" {
			for i := range numbers {
				numbers[i] = i + 1
			}
		}
	}
	return truth, numbers
}

var seed = flag.Int("match-seed", 1, "of TestMatchSimulated")

func BenchmarkMatch60(b *testing.B)  { benchmarkMatch(b, 0) }
func BenchmarkMatch200(b *testing.B) { benchmarkMatch(b, 2) }

func benchmarkMatch(b *testing.B, more int) {
	rng := rand.New(rand.NewPCG(1, 2))
	p := card(rng, 2, 5, 6, 6)
	h := newHitter(rng, 1, 2)
	turns := p.deal(0, 12)
	plain := func(i int) int { return i + 1 }
	before := []Placed{{h.hit(p, turns, plain), turns}}
	now := p.deal(12, 24+12*more)
	if more > 0 {
		now = append(now, slices.Repeat([]int{Nowhere}, 20)...)
	}
	s := h.hit(p, now, plain)
	for b.Loop() {
		if _, err := p.Match(before, s); err != nil {
			b.Fatal(err)
		}
	}
}
