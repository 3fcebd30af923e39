package plan

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
)

var (
	sevenIron = analysis.Club{Family: analysis.Iron, Number: 7}
	driver    = analysis.Club{Family: analysis.Driver}
)

// small is a card of three visits, each of four turns of five balls, drawn by hand.
func small() Plan {
	p := Plan{Club: sevenIron, Labels: []string{"as usual", "stronger grip"}, Number: analysis.Face}
	for i, set := range []int{0, 1, 1, 0, 1, 0, 0, 1, 0, 1, 0, 1} {
		p.Turns = append(p.Turns, Turn{Set: set, Balls: 5, Block: i / 2, Visit: i / 4})
	}
	return p
}

// file makes balls from a line: a digit or letter is a turn from 1 on ("1", "a" is
// the tenth), "-" a warm-up or other ball that is none of the card's, "d" one with
// another club. The sets' faces differ by so many degrees, of a spread of two.
func file(p Plan, line string, degrees float64, seed uint64) (analysis.Session, []int) {
	rng := rand.New(rand.NewPCG(seed, 3))
	var s analysis.Session
	var truth []int
	for i, c := range strings.ReplaceAll(line, " ", "") {
		turn, club, face := Nowhere, p.Club, 0.0
		switch {
		case c == '-':
		case c == 'x':
			club = driver
		default:
			n, _ := strconv.ParseInt(string(c), 16, 0)
			turn = int(n) - 1
			face = degrees * float64(p.Turns[turn].Set)
		}
		shot := analysis.Shot{N: i + 1, Club: club}.
			With(analysis.Face, (face+2*rng.NormFloat64())*analysis.Degree).
			With(analysis.Path, 2.5*rng.NormFloat64()*analysis.Degree).
			With(analysis.ClubSpeed, 38+rng.NormFloat64())
		s.Shots, truth = append(s.Shots, shot), append(truth, turn)
	}
	return s, truth
}

const (
	visit1 = "11111 22222 33333 44444"
	visit2 = "55555 66666 77777 88888"
	visit3 = "99999 aaaaa bbbbb ccccc"
)

// TestMatchByHand has cases whose places were written by hand: what is taken
// without a question, or which readings are offered, among others, and where
// the balls go then.
func TestMatchByHand(t *testing.T) {
	for _, test := range []struct {
		name    string
		before  []string
		line    string
		degrees float64
		change  func(s *analysis.Session)
		key     string // taken without asking
		offered []string
		chosen  string // of offered; "" is the first
		want    string // places if that is not line itself: "-" for a ball left out
	}{
		{name: "one visit", line: visit1, degrees: 4, key: "whole"},
		{name: "the next visit", before: []string{visit1}, line: visit2, degrees: 4, key: "whole"},
		{name: "two visits", line: visit1 + visit2, degrees: 4, key: "whole"},
		{name: "the whole card", line: visit1 + visit2 + visit3, degrees: 4, key: "whole"},
		{name: "the last visit", before: []string{visit1, visit2}, line: visit3, degrees: 4, key: "whole"},
		{name: "the rest of a visit", before: []string{"11111 22222"}, line: "33333 44444", degrees: 4, key: "whole"},
		{name: "the rest and a visit", before: []string{"11111 22222"}, line: "33333 44444" + visit2, degrees: 4, key: "whole"},
		{name: "another club among them", line: "xxx 11111 22222 xx 33333 44444 x", degrees: 4, key: "whole"},
		{name: "stopped after a turn", line: "11111 22222 33333", degrees: 4, offered: []string{"stopped:3", "none"}},
		{name: "stopped in a turn", line: "11111 22222 33", degrees: 4, offered: []string{"stopped:2.2", "none"}},
		{name: "finished the next time", before: []string{"11111 22222 333"}, line: "33 44444", degrees: 4, key: "finish:3,whole"},
		{name: "not finished the next time", before: []string{"11111 22222 333"}, line: "44444", degrees: 4, key: "whole"},
		{name: "warm-up balls", line: "------ " + visit1, offered: []string{"warm:6", "after:6", "none"}},
		{name: "warm-up balls, by the figures", line: "------ " + visit1, degrees: 4, offered: []string{"warm:6", "none"}},
		{name: "balls after the end", line: visit1 + " ------", degrees: 4, offered: []string{"after:6", "warm:6", "none"}},
		{name: "a turn skipped", before: []string{visit1}, line: "55555 66666 77777" + visit3, degrees: 5, offered: []string{"skipped", "none"}, chosen: "skipped:8"},
		{name: "a turn twice", line: "11111 22222 33333 33333 44444", degrees: 6, offered: []string{"none"}, chosen: "twice:3"},
		{name: "not this plan, chosen", line: "11111 22222 33333", degrees: 4, offered: []string{"none"}, chosen: "none", want: "----- ----- -----"},
		{name: "a ball short somewhere", line: "11111 2222 33333 44444", offered: []string{"short", "stopped:3.4", "none"}, chosen: "short",
			want: "1111- 2222 33333 - 4444"},
		{name: "unread, by its number", line: "11111 2222 33333 44444", degrees: 4, key: "missed:1,whole",
			change: func(s *analysis.Session) {
				for i := 7; i < len(s.Shots); i++ {
					s.Shots[i].N++
				}
			}},
		{name: "unread in front, by its number", line: "1111 22222 33333 44444", degrees: 4, key: "missed:1,whole",
			change: func(s *analysis.Session) {
				for i := range s.Shots {
					s.Shots[i].N++
				}
			}},
		{name: "counted on from another file", before: []string{"11111 22222"}, line: "33333 44444", degrees: 4, key: "whole",
			change: func(s *analysis.Session) {
				for i := range s.Shots {
					s.Shots[i].N += 10
				}
			}},
		{name: "warm-up balls and stopped as early", line: "----- 55555 66666 77777", before: []string{visit1}, degrees: 6, offered: []string{"none"}, chosen: "warm:5,stopped:7"},
		{name: "mishits keep their place", line: visit1, degrees: 4, key: "whole",
			change: func(s *analysis.Session) {
				for _, i := range []int{3, 4, 11} {
					s.Shots[i].Aside = analysis.Mishit
				}
			}},
		{name: "a row that is there twice has none", line: "11111 2-2222 33333 44444", degrees: 4, key: "whole",
			change: func(s *analysis.Session) { s.Shots[6].Aside = analysis.Duplicate }},
		{name: "clubs never named", line: visit1, degrees: 4, key: "whole",
			change: func(s *analysis.Session) {
				for i := range s.Shots {
					s.Shots[i].Club = analysis.Club{}
				}
			}},
		{name: "clubs named for some", line: visit1, degrees: 4, offered: []string{"whole", "none"},
			change: func(s *analysis.Session) { s.Shots[2].Club = analysis.Club{} }},
		{name: "labels of other things", line: visit1, degrees: 4, offered: []string{"whole", "none"},
			change: func(s *analysis.Session) { s.Shots[2].Label = "tee higher" }},
		{name: "another club altogether", line: "xxxxx xxxxx xxxxx xxxxx", key: "none", want: "----- ----- ----- -----"},
		{name: "after the last turn", before: []string{visit1, visit2, visit3}, line: "----- -----", key: "full"},
		{name: "labels", line: "--- 222222 1111 33333 4444", key: "labels", want: "--- 222222 1111 33333 4444",
			change: label(3, 9, "Stronger Grip", 9, 13, "normal", 13, 18, "stronger grip", 18, 22, "as usual")},
		{name: "labels of one set", line: "11111 44444 22222", key: "labels", change: label(10, 15, "stronger grip")},
		{name: "labels with the rest left out", line: "11111 22222 ---", key: "labels", change: label(0, 5, "normal", 5, 10, "stronger grip")},
		{name: "warm-up balls said by hand", line: "--- " + visit1, degrees: 4, key: "whole",
			change: func(s *analysis.Session) {
				for i := range 3 {
					s.Shots[i].Aside = analysis.WarmUp
				}
			}},
		// Nothing but the times tells these two apart: both are twenty balls.
		{name: "times that agree with the card", line: visit1, key: "whole", change: pausing20(5, 15)},
		{name: "times that agree with warm-up balls first", line: "--- 11111 22222 33333 44", offered: []string{"whole", "none"}, chosen: "warm:3,stopped:3.2",
			change: pausing20(3, 8, 18)},
		// Who never pauses but to look at the card, once warm.
		{name: "one pause before the card", line: "------- " + visit1 + "55555 66666 777", offered: []string{"whole", "warm:7,stopped:6.3", "none"}, chosen: "warm:7,stopped:6.3",
			change: pausing20(7)},
		{name: "pauses between turns of one set too", before: []string{visit1}, line: visit2, key: "whole", change: pausing20(5, 10, 15)},
		{name: "far too many", line: strings.Repeat("-", 150), degrees: 0, offered: []string{"none"}, chosen: "none"},
		{name: "one ball", line: "1", offered: []string{"stopped:0.1", "none"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := small()
			var before []Placed
			for i, line := range test.before {
				s, turns := file(p, line, test.degrees, uint64(i)+100)
				before = append(before, Placed{s, turns})
			}
			s, want := file(p, test.line, test.degrees, 8)
			if test.want != "" {
				_, want = file(p, test.want, 0, 0)
			}
			if test.change != nil {
				test.change(&s)
			}
			m, err := p.Match(before, s)
			if err != nil {
				t.Fatal(err)
			}
			if test.key != "" {
				if len(m.Likely) > 0 {
					t.Fatalf("asked: %+v", m.Likely)
				}
				if m.Reading.Key != test.key {
					t.Errorf("read as %q, want %q", m.Reading.Key, test.key)
				}
				check(t, m.Placed, want)
				return
			}
			var keys []string
			for _, r := range m.Likely {
				keys = append(keys, r.Key)
			}
			if len(keys) < 2 || len(keys) > mostLikely || keys[len(keys)-1] != "none" {
				t.Fatalf("offered %q", keys)
			}
			for _, key := range test.offered {
				if !slices.Contains(keys, key) {
					t.Errorf("offered %q, without %q", keys, key)
				}
			}
			chosen := test.chosen
			if chosen == "" {
				chosen = test.offered[0]
			}
			got, err := p.Take(before, s, chosen)
			if err != nil {
				t.Fatal(err)
			}
			check(t, got, want)
		})
	}
}

// pausing20 takes twenty seconds for every ball, more or less, and a minute and a
// half before some.
func pausing20(long ...int) func(s *analysis.Session) {
	return func(s *analysis.Session) {
		for i := range s.Shots {
			s.Shots[i].Pause = float64(18 + i%5)
			if slices.Contains(long, i) {
				s.Shots[i].Pause = 90
			}
		}
	}
}

func check(t *testing.T, got Placed, want []int) {
	t.Helper()
	if !slices.Equal(got.Turn, want) {
		t.Errorf("placed %v\nwant   %v", got.Turn, want)
	}
}

// label names balls: from, up to, a name, and so on.
func label(names ...any) func(s *analysis.Session) {
	return func(s *analysis.Session) {
		for i := 0; i < len(names); i += 3 {
			for k := names[i].(int); k < names[i+1].(int); k++ {
				s.Shots[k].Label = names[i+2].(string)
			}
		}
	}
}

// A file that was posted before counts once, in whatever order it comes, whole,
// in pieces, or with what was hit since.
func TestMatchAgain(t *testing.T) {
	p := small()
	first, turns := file(p, visit1, 4, 1)
	before := []Placed{{first, turns}}
	second, next := file(p, visit2, 4, 2)
	again := func(shots ...analysis.Shot) analysis.Session {
		for i := range shots {
			shots[i].N = i + 1
		}
		return analysis.Session{Shots: shots}
	}
	backwards := slices.Clone(first.Shots)
	slices.Reverse(backwards)
	for _, test := range []struct {
		name string
		s    analysis.Session
		key  string
		want []int
	}{
		{"again", again(slices.Clone(first.Shots)...), "again", nil},
		{"backwards", again(backwards...), "again", nil},
		{"a piece", again(slices.Clone(first.Shots[:12])...), "again", nil},
		{"and on", again(slices.Concat(first.Shots, second.Shots)...), "whole", append(nowhere(first).Turn, next...)},
		{"newest first", again(slices.Concat(second.Shots, first.Shots)...), "whole", slices.Concat(next, nowhere(first).Turn)},
	} {
		m, err := p.Match(before, test.s)
		if err != nil || len(m.Likely) > 0 || m.Reading.Key != test.key || !m.Reading.Is(Again) {
			t.Errorf("%s: %+v, %v", test.name, m.Reading, err)
			continue
		}
		want := test.want
		if want == nil {
			want = nowhere(test.s).Turn
		}
		check(t, m.Placed, want)
	}
}

// A file that was hit before one that has its places is none of the next turns'
// without a question.
func TestMatchEarlier(t *testing.T) {
	p := small()
	first, turns := file(p, visit1, 4, 1)
	first.When, first.Dated = time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC), analysis.ByClock
	s, _ := file(p, visit2, 4, 2)
	s.When, s.Dated = first.When.Add(-24*time.Hour), analysis.ByClock
	if m, err := p.Match([]Placed{{first, turns}}, s); err != nil || len(m.Likely) < 2 {
		t.Errorf("%+v, %v; want a question", m, err)
	}
}

func TestTakeRefuses(t *testing.T) {
	p := small()
	s, _ := file(p, visit1, 4, 1)
	var refusal *analysis.Refusal
	if _, err := p.Take(nil, s, "stopped:2"); !errors.As(err, &refusal) {
		t.Errorf("%v, want a refusal", err)
	}
	if _, err := p.Match(nil, analysis.Session{}); !errors.As(err, &refusal) {
		t.Errorf("%v, want a refusal", err)
	}
}

// What is offered can be taken, and says of itself what it places; the chances
// are no more than one.
func TestLikelyCanBeTaken(t *testing.T) {
	p := small()
	for seed, line := range []string{"11111 22222 33", "---" + visit1, "11111 2222 33333 44444", visit1 + "-----", "1", strings.Repeat("-", 70)} {
		s, _ := file(p, line, 2, uint64(seed))
		m, err := p.Match(nil, s)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, r := range m.Likely {
			placed, err := p.Take(nil, s, r.Key)
			if err != nil {
				t.Errorf("%s: %s: %v", line, r.Key, err)
				continue
			}
			if got := count(Reading{}, placed.Turn); got.Balls != r.Balls || got.First != r.First || got.Last != r.Last {
				t.Errorf("%s: %s says %d balls, turns %d to %d; placed %d, %d to %d", line, r.Key, r.Balls, r.First, r.Last, got.Balls, got.First, got.Last)
			}
			sum += r.Chance
		}
		// One of a family may stand beside it.
		if sum > 2 {
			t.Errorf("%s: chances add up to %v", line, sum)
		}
	}
}
