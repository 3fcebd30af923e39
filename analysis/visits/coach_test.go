package visits

import (
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// trade is what these tests say the trade expects, a right-hander's.
func trade() map[string]Expected {
	e := func(face, path, attack, loft float64) map[analysis.Number]float64 {
		return map[analysis.Number]float64{
			analysis.Face: face * deg, analysis.Path: path * deg, analysis.Attack: attack * deg, analysis.DynamicLoft: loft * deg,
		}
	}
	return map[string]Expected{
		"grip one way": {Of: e(-2, 0, 0, -1)}, "grip the other": {Of: e(2, 0, 0, 1)},
		"aim one way": {Of: e(-2, -2, 0, 0), ByTarget: true}, "aim the other": {Of: e(2, 2, 0, 0), ByTarget: true},
		"ball up": {Of: e(0, -1.5, 1, 1)}, "ball back": {Of: e(0, 1.5, -1, -1)},
		"hands up": {Of: e(0, 0, 0, -2)}, "hands back": {Of: e(0, 0, 0, 2)},
	}
}

func TestCoachIsTheSameAgain(t *testing.T) {
	if a := Coach(1, 20, trade()); !reflect.DeepEqual(a, Coach(1, 20, trade())) || len(a.Students) != 20 {
		t.Error("one seed, two coaches")
	}
	if !reflect.DeepEqual(Coaches(1, 5, trade()), Coaches(1, 8, trade())[:5]) {
		t.Error("a coach depends on how many there are")
	}
}

// Tools are spread about what the trade expects, and wrong as often as said.
func TestTools(t *testing.T) {
	fits, n := map[Fit]int{}, 0
	var off, other []float64
	for _, c := range Coaches(1, 400, trade()) {
		if len(c.Tools) < 4 || len(c.Tools) > 8 {
			t.Fatalf("%d tools", len(c.Tools))
		}
		for _, x := range c.Tools {
			n++
			fits[x.Fit]++
			by := map[Fit]float64{Roughly: 1, Opposite: -1}[x.Fit]
			for _, k := range drawn {
				e := trade()[x.Key].Of[k]
				if d := (x.Mean[k] - by*e) / deg; e != 0 {
					off = append(off, d)
				} else {
					other = append(other, d)
				}
			}
			for k, sd := range x.Between {
				if w := x.Within[k]; sd < 0 || w < 0 || k != analysis.FaceToPath && (sd > 2.5*deg || w > 2.5*deg) {
					t.Fatalf("%v: between %.2f, within %.2f deg", k, sd/deg, w/deg)
				}
			}
		}
	}
	within(t, "opposite", float64(fits[Opposite])/float64(n), 0.10, 0.015)
	within(t, "nothing of it", float64(fits[NothingOfIt])/float64(n), 0.15, 0.02)
	within(t, "about what is expected", stat.StdDev(off, nil), 1.2, 0.03)
	within(t, "about what is not", stat.StdDev(other, nil), 0.6, 0.02)
}

// right turns a student's amount into a right-hander's.
func right(x Tool, v float64, n analysis.Number, h analysis.Hand) float64 {
	if !x.ByTarget && (n == analysis.Face || n == analysis.Path || n == analysis.FaceToPath) && h == analysis.LeftHanded {
		return -v
	}
	return v
}

// Golfers, trials and what is seen of them have the spread they should, in the
// mirror too; and face-to-path is the difference of the two everywhere.
func TestStudents(t *testing.T) {
	spread := map[analysis.Number][]float64{}
	trials := map[analysis.Number][]float64{}
	seen, seenLeft := map[analysis.Number][]float64{}, map[analysis.Number][]float64{}
	next := map[analysis.Number][]float64{}
	lefts, students, had := 0, 0, map[int]int{}
	for _, c := range Coaches(2, 110, trade()) {
		tools := map[string]Tool{}
		for _, x := range c.Tools {
			tools[x.Key] = x
		}
		if n := len(c.Students); n < 5 || n > 40 || len(c.New.Trials) != 0 {
			t.Fatalf("%d students, the new one with %d trials", len(c.Students), len(c.New.Trials))
		}
		for _, s := range append(c.Students, c.New) {
			if students++; s.Hand == analysis.LeftHanded {
				lefts++
			}
			for key, own := range s.Own {
				x := tools[key]
				for n, v := range own {
					spread[n] = append(spread[n], (right(x, v, n, s.Hand)-x.Mean[n])/x.Between[n])
					next[n] = append(next[n], (s.Next[key][n]-v)/x.Within[n])
				}
				within(t, "own face-to-path", own[analysis.FaceToPath], own[analysis.Face]-own[analysis.Path], 1e-12)
			}
			had[len(s.Trials)]++
			for _, tr := range s.Trials {
				x := tools[tr.Tool]
				for _, n := range numbers {
					o := tr.Seen[n]
					if o.DF < 4 || o.DF > float64(tr.Balls+tr.Base-2)+1e-9 {
						t.Fatalf("%g degrees of freedom of %d and %d balls", o.DF, tr.Balls, tr.Base)
					}
					z := (o.Difference - s.Own[tr.Tool][n]) / math.Hypot(x.Within[n], o.SE)
					trials[n] = append(trials[n], z)
					// Against the tool's mean, with every spread there is.
					all := (right(x, o.Difference, n, s.Hand) - x.Mean[n]) / math.Sqrt(x.Between[n]*x.Between[n]+x.Within[n]*x.Within[n]+o.SE*o.SE)
					if s.Hand == analysis.LeftHanded {
						seenLeft[n] = append(seenLeft[n], all)
					} else {
						seen[n] = append(seen[n], all)
					}
				}
				d := tr.Seen
				within(t, "seen face-to-path", d[analysis.FaceToPath].Difference, d[analysis.Face].Difference-d[analysis.Path].Difference, 1e-12)
			}
		}
	}
	for _, n := range numbers {
		within(t, "golfers "+n.String(), stat.StdDev(spread[n], nil), 1, 0.04)
		within(t, "next trials "+n.String(), stat.StdDev(next[n], nil), 1, 0.02)
		within(t, "trials "+n.String(), stat.StdDev(trials[n], nil), 1, 0.04)
		within(t, "seen "+n.String(), stat.StdDev(seen[n], nil), 1, 0.05)
		within(t, "seen of left-handers "+n.String(), stat.StdDev(seenLeft[n], nil), 1, 0.12)
		// Tools that did well are tried again, so the mean may be off, but not by much.
		within(t, "seen of left-handers "+n.String(), stat.Mean(seenLeft[n], nil), 0, 0.15)
		within(t, "golfers "+n.String(), stat.Mean(spread[n], nil), 0, 0.05)
	}
	within(t, "left-handers", float64(lefts)/float64(students), 1.0/12, 0.012)
	for n := range 7 {
		if n > 0 && float64(had[n])/float64(students) < 0.11 {
			t.Errorf("%d of %d students have %d trials", had[n], students, n)
		}
	}
	if len(had) != 7 {
		t.Errorf("students have trials: %v", had)
	}
}

// The best tool leaves the least, and needs are those a coach would see.
func TestNeeds(t *testing.T) {
	needs, byTrade, n := map[analysis.Number]int{}, 0, 0
	for _, c := range Coaches(3, 60, trade()) {
		for _, s := range c.Students {
			needs[s.Need.Number]++
			n++
			if a := math.Abs(s.Need.Change) / deg; a < 1 || a > 4.5 {
				t.Fatalf("a need of %.1f deg", a)
			}
			thought, least := "", math.Inf(1)
			for _, x := range c.Tools {
				if s.Left(x.Key) < s.Left(s.Best) {
					t.Fatalf("%q leaves %.2f deg, the best %.2f", x.Key, s.Left(x.Key)/deg, s.Left(s.Best)/deg)
				}
				if d := math.Abs(s.Need.Change - s.thought(x, trade())); d < least {
					thought, least = x.Key, d
				}
			}
			if s.Left(thought)-s.Left(s.Best) < deg {
				byTrade++
			}
		}
	}
	within(t, "needs of the face", float64(needs[analysis.Face])/float64(n), 0.5, 0.04)
	// The trade is worth something, and leaves something to be learnt.
	if share := float64(byTrade) / float64(n); share < 0.25 || share > 0.75 {
		t.Errorf("what the trade thinks best is within a degree of the best for %.2f of the students", share)
	}
}
