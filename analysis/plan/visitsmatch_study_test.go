package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/visits"
)

// matched is what came of files of one kind.
type matched struct {
	asked              share
	wrong, left        share // of those without a question: with a ball in a set it was not hit with, and no word that it is taken on trust; without a place for one of the card
	trust, misplaced   share // of those without a question: taken on trust, and said to be; of these, with a ball in a set it was not hit with
	offered, most, all share // of those asked: a reading by which no ball is wrong and some are placed; most are; every ball is right
}

// studyMatching places the balls of files on their cards.
func studyMatching(t *testing.T) string {
	files := visits.Files(*visitSeed, min(2000, 5**visitPlans))
	groups := map[string]*matched{}
	var order []string
	group := func(name string) *matched {
		if groups[name] == nil {
			groups[name] = &matched{}
			order = append(order, name)
		}
		return groups[name]
	}
	const all = "all"
	for _, name := range []string{all, "silent", "speak"} {
		group(name)
	}
	for k := range visits.Trouble(visits.NumTroubles) {
		group(k.String())
	}
	for _, name := range marks {
		group(name)
		group("intact, " + name)
	}
	for i := range files {
		c := &files[i]
		to := []*matched{group(all), group(c.Kind.String()), group(mark(c))}
		switch {
		case c.Silent():
			to = append(to, group("silent"))
		case c.Kind != visits.Intact:
			to = append(to, group("speak"))
		default:
			to = append(to, group("intact, "+mark(c)))
		}
		place(t, c, to)
	}
	// Of a hundred files one has a trouble that shows nowhere but in where the balls went.
	everything, speak, whole := groups[all], groups["speak"], groups[visits.Intact.String()]
	quiet := share{whole.asked.all - whole.asked.of, whole.asked.all}
	// What was taken is always said, with a button that says otherwise; these are
	// those of which no doubt is said.
	atMost(t, "wrong and no doubt said", share{everything.wrong.of, everything.asked.all}, 0.0005)
	atMost(t, "wrong without a question, of those that show it", share{speak.wrong.of + speak.misplaced.of, speak.asked.all}, 0.002)
	if *visitHold && everything.wrong.of > 0 {
		t.Errorf("%d files are wrong and no doubt is said", everything.wrong.of)
	}
	atLeast(t, "intact without a question", quiet, 0.85)
	atLeast(t, "a right reading offered", groups[all].offered, 0.95)
	var out strings.Builder
	for _, name := range order {
		if m := groups[name]; m.asked.all > 0 {
			out.WriteString(line(name, m.asked.all, m.asked, of(m.wrong), of(m.trust), of(m.misplaced), of(m.left), of(m.offered), of(m.most), of(m.all)))
		}
	}
	return "## Which ball is which\n\n" +
		fmt.Sprintf("%d files. Shares that get a question; of those without one how many have a ball in a\n", len(files)) +
		"set it was not hit with and no word of doubt, warm-ups and balls after the end among the\n" +
		"wrong ones; how many are taken on trust and said to be, and how many of these are wrong;\n" +
		"how many leave out a ball of the card; of those with a question how many are offered a reading by\n" +
		"which no ball is wrong, how many one that places at least half of the card's balls\n" +
		"besides, and how many one by which every ball is right (where none is of the card:\n" +
		"\"none\"). \"silent\" are files that show nothing of their trouble but by where the balls\n" +
		"went, \"speak\" the other ones with a trouble.\n\n" +
		heading("files", "n", "asked, %", "wrong, no doubt said", "on trust", "wrong of these", "left out in silence", "none wrong offered", "most placed", "every ball right") +
		out.String() + "\n"
}

func of(s share) string { return fmt.Sprintf("%d/%d", s.of, s.all) }

// marks are what a file says of its balls beside their numbers.
var marks = []string{"numbers and times", "numbers alone", "times alone", "neither"}

func mark(c *visits.Case) string {
	switch {
	case c.Numbers != nil && c.Times != nil:
		return marks[0]
	case c.Numbers != nil:
		return marks[1]
	case c.Times != nil:
		return marks[2]
	}
	return marks[3]
}

// planOf is the plan of a case.
func planOf(c *visits.Case) plan.Plan {
	p := plan.Plan{
		Club: c.Golfer.Club, Labels: []string{"as usual", "stronger grip", "tee higher"}[:len(c.Effects)],
		Number: analysis.Face, Change: visits.Zero(), SD: c.Golfer.SD.Face,
	}
	for _, t := range c.Turns {
		p.Turns = append(p.Turns, plan.Turn(t))
	}
	return p
}

// read is a file as a reader of files would hand it on: the shots numbered as the
// device did, if it did.
func read(f visits.File) analysis.Session {
	s := f.Session
	s.Shots = append([]analysis.Shot(nil), s.Shots...)
	for i := range f.Numbers {
		s.Shots[i].N = f.Numbers[i]
	}
	for i := 1; i < len(f.Times); i++ {
		s.Shots[i].Pause = f.Times[i].Sub(f.Times[i-1]).Seconds()
	}
	return s
}

func place(t *testing.T, c *visits.Case, to []*matched) {
	t.Helper()
	p, s := planOf(c), read(c.File)
	var before []plan.Placed
	for _, b := range c.Before {
		before = append(before, plan.Placed{Session: read(b), Turn: b.Truth})
	}
	m, err := p.Match(before, s)
	if err != nil {
		t.Fatal(err)
	}
	asked := len(m.Likely) > 0
	for _, g := range to {
		g.asked.add(asked)
	}
	if !asked {
		wrong, left, _ := compare(p, c.Truth, m.Placed.Turn)
		for _, g := range to {
			g.wrong.add(wrong > 0 && !m.Reading.OnTrust())
			g.left.add(left > 0)
			g.trust.add(m.Reading.OnTrust())
			if m.Reading.OnTrust() {
				g.misplaced.add(wrong > 0)
			}
		}
		return
	}
	offered, most, all := false, false, false
	for _, r := range m.Likely {
		placed, err := p.Take(before, s, r.Key)
		if err != nil {
			t.Fatalf("%s: %v", r.Key, err)
		}
		wrong, left, balls := compare(p, c.Truth, placed.Turn)
		if wrong > 0 {
			continue
		}
		offered = offered || left < balls || balls == 0
		most = most || 2*left <= balls
		all = all || left == 0
	}
	for _, g := range to {
		g.offered.add(offered)
		g.most.add(most)
		g.all.add(all)
	}
}

// compare counts the balls in a set they were not hit with, those of the card that
// have no place, and those of the card.
func compare(p plan.Plan, truth, got []int) (wrong, left, balls int) {
	for i, at := range truth {
		if at >= 0 {
			balls++
		}
		switch {
		case got[i] == plan.Nowhere:
			if at >= 0 {
				left++
			}
		case at < 0 || p.Turns[at].Set != p.Turns[got[i]].Set:
			wrong++
		}
	}
	return wrong, left, balls
}
