package visits

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
)

func TestFilesAreTheSameAgain(t *testing.T) {
	a, b := Files(3, 40), Files(3, 60)
	for i := range a {
		if !reflect.DeepEqual(a[i], b[i]) {
			t.Fatalf("case %d depends on how many there are", i)
		}
	}
	if reflect.DeepEqual(Files(4, 1), a[:1]) {
		t.Error("two seeds, one case")
	}
}

// Troubles, shot numbers and times come as often as they should.
func TestShares(t *testing.T) {
	of := 0
	for k := range Trouble(NumTroubles) {
		of += k.Share()
	}
	if of != 100 || Intact.Share() < 55 || Intact.Share() > 60 {
		t.Errorf("%d shares, %d of them intact", of, Intact.Share())
	}
	const n = 3000
	kinds, numbered, timed, silent := map[Trouble]int{}, 0, 0, map[Trouble]int{}
	for _, c := range Files(1, n) {
		kinds[c.Kind]++
		if c.Numbers != nil {
			numbered++
		}
		if c.Times != nil {
			timed++
		}
		if c.Silent() {
			silent[c.Kind]++
		}
	}
	for k := range Trouble(NumTroubles) {
		p := float64(k.Share()) / 100
		within(t, k.String(), float64(kinds[k])/n, p, 4*math.Sqrt(p*(1-p)/n))
	}
	within(t, "with shot numbers", float64(numbered)/n, 0.5, 0.03)
	within(t, "with times", float64(timed)/n, 2.0/3, 0.03)
	for k, count := range silent {
		if k != Cancels && k != NotThisPlan {
			t.Errorf("%d files that are %q say nothing of it", count, k)
		}
	}
	t.Logf("of %d files, %d are intact and %v say nothing of their trouble", n, kinds[Intact], silent)
	if all := silent[Cancels] + silent[NotThisPlan]; all == 0 || all > n/100 {
		t.Errorf("%d of %d files say nothing of their trouble", all, n)
	}
}

// held are the balls by turn, in the order the turns come in the file.
func held(truth []int) (runs [][2]int) {
	for i, x := range truth {
		if i == 0 || x != truth[i-1] {
			runs = append(runs, [2]int{x, 0})
		}
		runs[len(runs)-1][1]++
	}
	return runs
}

func count(truth []int) map[int]int {
	n := map[int]int{}
	for _, x := range truth {
		n[x]++
	}
	return n
}

// Every file is what its trouble says, by its balls alone.
func TestTroubles(t *testing.T) {
	cancels := map[string]int{}
	for seed := range uint64(2) {
		for i, c := range Files(seed+1, 1500) {
			wrong := func(why string) {
				t.Helper()
				t.Errorf("seed %d, case %d, %v: %s\n due %v\n got %v", seed+1, i, c.Kind, why, held(c.Due), held(c.Truth))
			}
			got, due := count(c.Truth), count(c.Due)
			strays, extra, short := got[-1], 0, 0
			for k, n := range got {
				if k >= 0 {
					extra += max(0, n-due[k])
				}
			}
			for k, n := range due {
				short += max(0, n-got[k])
			}
			prefix := func(a, b []int) bool { return len(a) < len(b) && slices.Equal(a, b[:len(a)]) }
			others := 0
			for _, s := range c.Session.Shots {
				if s.Club != c.Golfer.Club {
					others++
				}
			}
			same := len(c.Truth) == len(c.Due)
			if c.Kind != WarmsUpOther && c.Kind != MixesClubs && others > 0 {
				wrong("another club")
			}
			switch c.Kind {
			case Intact:
				if !slices.Equal(c.Truth, c.Due) || c.Clues != 0 || c.Silent() {
					wrong("not intact")
				}
			case StopsAfterTurn:
				if !prefix(c.Truth, c.Due) || c.Due[len(c.Truth)] == c.Truth[len(c.Truth)-1] {
					wrong("does not stop after a turn")
				}
			case StopsMidTurn:
				if !prefix(c.Truth, c.Due) || c.Due[len(c.Truth)] != c.Truth[len(c.Truth)-1] {
					wrong("does not stop in mid-turn")
				}
			case WarmsUp, WarmsUpOther:
				w := len(c.Truth) - len(c.Due)
				if w != strays || w < 1 || w > 15 || !slices.Equal(c.Truth[w:], c.Due) {
					wrong("no warm-ups")
				}
				for j, s := range c.Session.Shots {
					if j >= w && s.Club != c.Golfer.Club || c.Kind == WarmsUpOther && others != 0 && (j < w) == (s.Club == c.Golfer.Club) {
						wrong("wrong clubs")
						break
					}
				}
			case SkipsTurn:
				r, d := held(c.Truth), held(c.Due)
				if len(r) != len(d)-1 || extra+strays > 0 || r[len(r)-1] != d[len(d)-1] {
					wrong("not one turn fewer")
				}
			case RepeatsTurn:
				if short+strays > 0 || len(held(c.Truth)) != len(held(c.Due)) || extra != due[c.Truth[slices.IndexFunc(c.Truth, func(k int) bool { return got[k] > due[k] })]] {
					wrong("not one turn more")
				}
			case BallMore:
				if extra != 1 || short+strays > 0 {
					wrong("not a ball more")
				}
			case BallLess:
				if short != 1 || extra+strays > 0 {
					wrong("not a ball less")
				}
			case MissesReadings:
				if short < 1 || short > 3 || extra+strays > 0 || !slices.IsSorted(c.Numbers) {
					wrong("readings")
				}
			case MixesClubs:
				if others == 0 || others != strays || extra+short > 0 || c.Truth[0] < 0 || c.Truth[len(c.Truth)-1] < 0 {
					wrong("clubs")
				}
			case BallsAfter:
				if !prefix(c.Due, c.Truth) || strays != len(c.Truth)-len(c.Due) || strays > 20 {
					wrong("no balls after the end")
				}
			case TwoVisits:
				next := c.Turns[c.Due[0]].Visit + 1
				if !prefix(c.Due, c.Truth) || strays > 0 || c.Turns[c.Truth[len(c.Truth)-1]].Visit != next {
					wrong("not the next two visits")
				}
			case SplitVisit:
				if first := prefix(c.Truth, c.Due); !first {
					before := c.Before[len(c.Before)-1].Truth
					whole := append(slices.Clone(before), c.Truth...)
					if !slices.Equal(c.Truth, c.Due) || !slices.Equal(whole, places(laidOut(c.Turns, c.Turns[c.Truth[0]].Visit, c.Golfer.Club))) {
						wrong("the two halves are not the whole")
					}
				}
			case PostedAgain:
				sameAs(t, c)
				if strays != len(c.Truth) {
					wrong("counts twice")
				}
			case NotThisPlan:
				if strays != len(c.Truth) {
					wrong("of the plan")
				}
			case Cancels:
				if !same || slices.Equal(c.Truth, c.Due) {
					wrong("does not cancel")
				}
				switch {
				case strays > 0:
					cancels["warm-ups"]++
					if strays > 12 || !slices.Equal(c.Truth[strays:], c.Due[:len(c.Due)-strays]) {
						wrong("warm-ups")
					}
				case extra == 1 && short == 1:
					cancels["balls"]++
				default:
					cancels["turns"]++
				}
			}
			if (c.Of >= 0) != (c.Kind == PostedAgain) || c.Of >= len(c.Before) {
				wrong("of another file")
			}
		}
	}
	if len(cancels) != 3 {
		t.Errorf("pairs that cancel: %v", cancels)
	}
}

// sameAs checks that a file that is posted again has the numbers of the first
// one, as near as they were written.
func sameAs(t *testing.T, c Case) {
	t.Helper()
	first := c.Before[c.Of].Session.Shots
	if len(first) != len(c.Session.Shots) {
		t.Fatalf("%d shots posted again as %d", len(first), len(c.Session.Shots))
	}
	same := true
	for i, s := range c.Session.Shots {
		for n, by := range map[analysis.Number]float64{
			analysis.Face: 0.31 * deg, analysis.Path: 0.31 * deg, analysis.Carry: 0.56, analysis.ClubSpeed: 0.28, analysis.Spin: 10.1 * analysis.RevPerMinute,
		} {
			a, _ := first[i].Value(n)
			b, _ := s.Value(n)
			within(t, "posted again: "+n.String(), b, a, by)
			same = same && a == b
		}
	}
	if same {
		t.Error("posted again in the same dress")
	}
}

// Files before are those of the card before, and intact.
func TestBefore(t *testing.T) {
	for _, c := range Files(5, 400) {
		var at []int
		for _, f := range c.Before {
			if len(f.Truth) != len(f.Session.Shots) {
				t.Fatal("a truth for each ball")
			}
			at = append(at, f.Truth...)
		}
		var card []int
		for i, x := range c.Turns {
			for range x.Balls {
				card = append(card, i)
			}
		}
		if at = append(at, c.Due...); !slices.Equal(at, card[:len(at)]) {
			t.Fatalf("%v: before and due are not the card's beginning", c.Kind)
		}
		if len(c.Effects) < 2 || c.Effects[0] != (Effect{}) {
			t.Fatalf("effects %v", c.Effects)
		}
	}
}

// Balls come 6-40 s apart, or after a pause; and what has no times has none.
func TestTimes(t *testing.T) {
	pauses, turns, gaps, quick := 0, 0, 0, 0
	for _, c := range Files(6, 800) {
		if c.Times == nil {
			if c.Session.Dated == analysis.ByClock {
				t.Fatal("a clock without times")
			}
			continue
		}
		if len(c.Times) != len(c.Truth) || !c.Times[0].Equal(c.Session.When) {
			t.Fatalf("%d times of %d balls", len(c.Times), len(c.Truth))
		}
		for i := 1; i < len(c.Times); i++ {
			gap := c.Times[i].Sub(c.Times[i-1])
			if gap < 6*time.Second || gap > 5*time.Minute && c.Kind != TwoVisits && c.Kind != MissesReadings {
				t.Fatalf("%v: %v between two balls", c.Kind, gap)
			}
			if c.Kind != Intact {
				continue
			}
			if gaps++; gap <= 40*time.Second {
				quick++
			}
			if c.Truth[i] != c.Truth[i-1] {
				if turns++; gap >= LongPause {
					pauses++
				}
			}
		}
	}
	within(t, "turns after a pause", float64(pauses)/float64(turns), 0.43, 0.05)
	within(t, "balls within 40 s", float64(quick)/float64(gaps), 0.9, 0.05)
}

func TestNumbers(t *testing.T) {
	later, of, gaps, missed := 0, 0, 0, 0
	for _, c := range Files(7, 1500) {
		if c.Numbers == nil {
			continue
		}
		if len(c.Numbers) != len(c.Truth) {
			t.Fatalf("%d numbers of %d balls", len(c.Numbers), len(c.Truth))
		}
		switch c.Kind {
		case Intact:
			if of++; c.Numbers[0] != 1 {
				later++
			}
		case MissesReadings:
			if missed++; c.Clues&Gap != 0 {
				gaps++
			}
			continue
		case TwoVisits, PostedAgain, SplitVisit:
			continue
		}
		if c.Clues&Gap != 0 {
			t.Fatalf("%v: numbers %v", c.Kind, c.Numbers)
		}
	}
	within(t, "visits that do not begin at 1", float64(later)/float64(of), 1.0/6, 0.04)
	within(t, "missed readings that leave a gap", float64(gaps)/float64(missed), 0.47, 0.15)
}

// Numbers are rounded as devices round them, and what follows from them follows
// from what is written.
func TestDress(t *testing.T) {
	strikes, n := 0, 500
	for _, c := range Files(8, n) {
		s := c.Session.Shots[0]
		f, ok := s.Value(analysis.Face)
		if !ok || math.Abs(f/(0.01*deg)-math.Round(f/(0.01*deg))) > 1e-6 {
			t.Fatalf("a face of %v deg", f/deg)
		}
		p, _ := s.Value(analysis.Path)
		ftp, _ := s.Value(analysis.FaceToPath)
		within(t, "face-to-path", ftp, f-p, 1e-12)
		if s.Has(analysis.StrikeToe) {
			strikes++
		}
		for _, needed := range []analysis.Number{analysis.ClubSpeed, analysis.Attack, analysis.BallSpeed, analysis.Carry, analysis.Lateral, analysis.Smash} {
			if !s.Measured(needed) {
				t.Fatalf("no %v", needed)
			}
		}
	}
	within(t, "with a strike", float64(strikes)/float64(n), 0.5, 0.08)
}
