package plan_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
)

var iron = analysis.Club{Family: analysis.Iron, Number: 7}

func config() plan.Config {
	return plan.Config{Club: iron, Labels: []string{"normal", "stronger grip"}, Number: analysis.Face, Change: 2 * analysis.Degree, Seed: 1}
}

func made(t testing.TB, c plan.Config) plan.Plan {
	t.Helper()
	p, err := plan.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// earlier is a session of n balls whose faces scatter by sd, in degrees, with a
// mishit that was set aside and some balls of another club.
func earlier(seed uint64, n int, sd float64) analysis.Session {
	rng := rand.New(rand.NewPCG(seed, 1))
	s := analysis.Session{}
	for i := range n {
		shot := analysis.Shot{N: i + 1, Club: iron}.With(analysis.Face, (3+sd*rng.NormFloat64())*analysis.Degree)
		s.Shots = append(s.Shots, shot)
	}
	wild := analysis.Shot{N: n + 1, Club: iron, Aside: analysis.Mishit}.With(analysis.Face, 30*analysis.Degree)
	other := analysis.Shot{N: n + 2, Club: analysis.Club{Family: analysis.Driver}}.With(analysis.Face, -20*analysis.Degree)
	s.Shots = append(s.Shots, wild, other)
	return s
}

// Every block has one turn of each set, every set the balls the card says, no
// visit more than 60, and visits follow one another in whole blocks.
func TestTheCard(t *testing.T) {
	for _, labels := range [][]string{{"normal", "stronger grip"}, {"normal", "stronger grip", "tee higher"}} {
		for _, change := range []float64{0, 0.5, 1, 2, 4, 8} {
			c := config()
			c.Labels, c.Change = labels, change*analysis.Degree
			p := made(t, c)
			balls := make([]int, len(labels))
			visit := map[int]int{}
			sets := map[int]map[int]bool{}
			of := map[int]int{}
			for i, turn := range p.Turns {
				balls[turn.Set] += turn.Balls
				visit[turn.Visit] += turn.Balls
				if sets[turn.Block] == nil {
					sets[turn.Block] = map[int]bool{}
				}
				sets[turn.Block][turn.Set] = true
				if v, ok := of[turn.Block]; ok && v != turn.Visit {
					t.Errorf("change %v: block %d is hit in two visits", change, turn.Block)
				}
				of[turn.Block] = turn.Visit
				if turn.Block != i/len(labels) || turn.Balls < 3 || turn.Balls > 8 {
					t.Errorf("change %v: turn %d is %+v", change, i, turn)
				}
			}
			for _, n := range balls {
				if n != p.BallsASet {
					t.Errorf("change %v: %v balls a set, said to be %d", change, balls, p.BallsASet)
				}
			}
			for v, n := range visit {
				if n > 60 {
					t.Errorf("change %v: visit %d has %d balls", change, v, n)
				}
			}
			for b, s := range sets {
				if len(s) != len(labels) {
					t.Errorf("change %v: block %d has %d sets", change, b, len(s))
				}
			}
			if len(visit) != p.Visits() || len(sets) != p.Blocks() || p.Blocks() < 8 || p.Balls() > 300 {
				t.Errorf("change %v: %d blocks in %d visits, %d balls", change, p.Blocks(), p.Visits(), p.Balls())
			}
		}
	}
}

func TestTheDraw(t *testing.T) {
	c := config()
	first := made(t, c)
	if !reflect.DeepEqual(first, made(t, c)) {
		t.Error("the same seed drew another order")
	}
	// Of three hundred draws the usual set begins a block as often as not, in the
	// first block and the last.
	begins := make([]int, 2)
	for seed := range uint64(300) {
		c.Seed = seed
		p := made(t, c)
		for k, i := range []int{0, len(p.Turns) - 2} {
			if p.Turns[i].Set == 0 {
				begins[k]++
			}
		}
	}
	for _, n := range begins {
		if n < 115 || n > 185 {
			t.Errorf("the usual set begins %v of 300 blocks", begins)
		}
	}
}

func TestScatterOfOnesOwn(t *testing.T) {
	c := config()
	usual := made(t, c)
	if usual.Own != 0 || usual.SD != 2*analysis.Degree {
		t.Errorf("without balls the scatter is %v of %d", usual.SD, usual.Own)
	}
	c.Earlier = []analysis.Session{earlier(1, 30, 3), earlier(2, 30, 3)}
	// What was tried and the day are no scatter of one ball.
	for i := range c.Earlier[1].Shots[:15] {
		s := c.Earlier[1].Shots[i]
		v, _ := s.Value(analysis.Face)
		c.Earlier[1].Shots[i] = s.With(analysis.Face, v+10*analysis.Degree)
		c.Earlier[1].Shots[i].Label = "weak grip"
	}
	own := made(t, c)
	if own.Own != 60 || math.Abs(own.SD-3*analysis.Degree) > 0.6*analysis.Degree {
		t.Errorf("60 balls that scatter by 3 deg: %v deg of %d", own.SD/analysis.Degree, own.Own)
	}
	if own.BallsASet <= usual.BallsASet {
		t.Errorf("a wilder golfer is asked for %d balls, a usual one for %d", own.BallsASet, usual.BallsASet)
	}
	c.Earlier = []analysis.Session{earlier(1, 5, 3)}
	if few := made(t, c); few.Own != 0 || few.SD != usual.SD {
		t.Errorf("five balls were believed: %v of %d", few.SD, few.Own)
	}
}

func TestTheChangeThatMatters(t *testing.T) {
	c := config()
	c.Change = 0
	if p := made(t, c); p.Change != 1*analysis.Degree {
		t.Errorf("the face's practical zero is %v deg", p.Change/analysis.Degree)
	}
	c.Number = analysis.Carry
	for i := range 20 {
		c.Earlier = append(c.Earlier, analysis.Session{Shots: []analysis.Shot{
			analysis.Shot{N: 1, Club: iron}.With(analysis.Carry, 100), analysis.Shot{N: 2, Club: iron}.With(analysis.Carry, 100+float64(i)/10),
		}})
	}
	if p := made(t, c); math.Abs(p.Change-3) > 0.1 {
		t.Errorf("the practical zero of a carry of 100 m is %v m", p.Change)
	}
}

// More balls never for a larger change, and a plan that is cut says so.
func TestSize(t *testing.T) {
	c := config()
	before := math.MaxInt
	for _, change := range []float64{0.3, 0.6, 1, 1.5, 2, 3, 5} {
		c.Change = change * analysis.Degree
		p := made(t, c)
		if p.BallsASet > before {
			t.Errorf("%v deg wants %d balls, a smaller change %d", change, p.BallsASet, before)
		}
		before = p.BallsASet
		if cut := p.Balls() >= 294; cut == (p.Power >= 0.8) {
			t.Errorf("%v deg: power %v with %d balls", change, p.Power, p.Balls())
		}
		if p.BallsASet < p.FixedASet() {
			t.Errorf("%v deg: fewer balls, %d, than one look wants, %d", change, p.BallsASet, p.FixedASet())
		}
	}
	c.Change = 0.1 * analysis.Degree
	codes := map[string]bool{}
	for _, w := range made(t, c).Warnings() {
		codes[w.Code] = true
	}
	for _, code := range []string{plan.ManyBalls, plan.WeakPlan, plan.UsualScatter} {
		if !codes[code] {
			t.Errorf("a plan for a tenth of a degree does not warn of %s", code)
		}
	}
	c.Change = 6 * analysis.Degree
	c.Earlier = []analysis.Session{earlier(1, 40, 2)}
	if w := made(t, c).Warnings(); len(w) > 0 {
		t.Errorf("an easy plan warns of %v", w)
	}
}

func TestNoPlan(t *testing.T) {
	for what, spoil := range map[string]func(*plan.Config){
		"no club":       func(c *plan.Config) { c.Club = analysis.Club{} },
		"no labels":     func(c *plan.Config) { c.Labels = nil },
		"one label":     func(c *plan.Config) { c.Labels = []string{"normal"} },
		"blank label":   func(c *plan.Config) { c.Labels = []string{"normal", "  "} },
		"same label":    func(c *plan.Config) { c.Labels = []string{"Normal grip", " normal  grip"} },
		"three others":  func(c *plan.Config) { c.Labels = []string{"a", "b", "c", "d"} },
		"no such trial": func(c *plan.Config) { c.Number = analysis.Apex },
		"no number":     func(c *plan.Config) { c.Number = 200 },
		"below nothing": func(c *plan.Config) { c.Change = -1 },
		"no figure":     func(c *plan.Config) { c.Change = math.NaN() },
		"out of reach":  func(c *plan.Config) { c.Change = 7 },
	} {
		c := config()
		spoil(&c)
		_, err := plan.New(c)
		var refusal *analysis.Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("%s: %v is no refusal", what, err)
		}
	}
}
