package trial_test

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/analysis/visits"
)

// heldOut is the seed of the coaches that judge; those under 10 are for tuning.
const heldOut = 19

// expected is what the trade expects, for the worlds of coaches.
func expected() map[string]visits.Expected {
	all := map[string]visits.Expected{}
	for _, tool := range analysis.Tools() {
		of := map[analysis.Number]float64{}
		for _, n := range []analysis.Number{analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft} {
			if x := tool.Usual(n, analysis.RightHanded); x != 0 {
				of[n] = x
			}
		}
		all[string(tool)] = visits.Expected{Of: of, ByTarget: tool.Mirror(analysis.Face, analysis.LeftHanded) == 1}
	}
	return all
}

// tried are a student's trials as the store hands them on.
func tried(s visits.Student) (all []analysis.Observation) {
	for _, x := range s.Trials {
		for _, n := range analysis.Numbers() {
			seen, ok := x.Seen[n]
			if !ok {
				continue
			}
			wide := distuv.StudentsT{Sigma: 1, Nu: seen.DF}.Quantile(0.95) / distuv.UnitNormal.Quantile(0.95)
			all = append(all, analysis.Observation{Club: iron, Tool: analysis.Tool(x.Tool), Number: n, Difference: seen.Difference, SE: wide * seen.SE, Balls: x.Balls})
		}
	}
	return all
}

// golfers are a coach's students but the one at index but.
func golfers(c visits.Coaching, but int) (all []trial.Golfer) {
	for i, s := range c.Students {
		if i != but {
			all = append(all, trial.Golfer{Hand: s.Hand, Taught: tried(s)})
		}
	}
	return all
}

func poolAll(among []trial.Golfer) (all []analysis.Pooled) {
	for _, tool := range analysis.Tools() {
		all = append(all, trial.Pool(tool, among)...)
	}
	return all
}

// The prediction limits of every tool and number that is pooled hold the effect on
// a student who is not among the coach's in 93 to 97 %, over coaches of 5 to 40
// students and wherever 5 to 9 of them have tried the tool; so do those of
// the mean.
func TestSimulatedPool(t *testing.T) {
	type count struct{ holds, of int }
	add := func(c *count, low, high, truth float64) {
		if c.of++; low <= truth && truth <= high {
			c.holds++
		}
	}
	var all, few, many, mean count
	for _, c := range visits.Coaches(heldOut, 3**simulate, expected()) {
		for _, p := range poolAll(golfers(c, -1)) {
			if p.Golfers < trial.FewestGolfers {
				t.Fatalf("pooled of %d golfers", p.Golfers)
			}
			side := p.Tool.Mirror(p.Number, c.New.Hand)
			truth := side * c.New.Own[string(p.Tool)][p.Number]
			add(&all, p.NewLow, p.NewHigh, truth)
			if p.Golfers < 10 {
				add(&few, p.NewLow, p.NewHigh, truth)
			} else {
				add(&many, p.NewLow, p.NewHigh, truth)
			}
			i := slices.IndexFunc(c.Tools, func(x visits.Tool) bool { return x.Key == string(p.Tool) })
			add(&mean, p.Low, p.High, c.Tools[i].Mean[p.Number])
		}
	}
	for _, c := range []struct {
		name string
		count
	}{{"all", all}, {"5 to 9 students", few}, {"10 students and more", many}, {"the mean", mean}} {
		low, high := share(t, c.name+": limits hold it", c.holds, c.of)
		if low > 0.97 || high < 0.93 {
			t.Errorf("%s: limits hold the truth outside 93 to 97 %%", c.name)
		}
	}
}

// The tool recommended for what a student needs leaves no more than a degree more
// of it than the best tool would: by what the trade expects, by that and their own
// trials, and by the coach's other students before those. Students of all coaches,
// then those without a trial.
func TestSimulatedRecommendationAmongStudents(t *testing.T) {
	ways := []string{"the trade", "own trials", "the coach's students"}
	var good, fresh [3]int
	asked, askedFresh := 0, 0
	for _, c := range visits.Coaches(heldOut, *simulate, expected()) {
		ask := func(s visits.Student, among []trial.Golfer) {
			asked++
			if len(s.Trials) == 0 {
				askedFresh++
			}
			own, pooled := tried(s), poolAll(among)
			for way, known := range [][]trial.Response{
				trial.Learn(nil, s.Hand), trial.Learn(own, s.Hand), trial.Learn(own, s.Hand, pooled...),
			} {
				left := func(x visits.Tool) float64 {
					return math.Abs(s.Need.Change - find(t, known, analysis.Tool(x.Key), s.Need.Number).Mean)
				}
				tool := slices.MinFunc(c.Tools, func(a, b visits.Tool) int { return cmp.Compare(left(a), left(b)) })
				if s.Left(tool.Key) > s.Left(s.Best)+analysis.Degree {
					continue
				}
				good[way]++
				if len(s.Trials) == 0 {
					fresh[way]++
				}
			}
		}
		for i := 0; i < len(c.Students); i += 4 {
			ask(c.Students[i], golfers(c, i))
		}
		ask(c.New, golfers(c, -1))
	}
	var lows, highs [3]float64
	for way, name := range ways {
		lows[way], highs[way] = share(t, "within a degree of the best by "+name, good[way], asked)
		share(t, "  of students without a trial", fresh[way], askedFresh)
	}
	if lows[2] <= highs[0] {
		t.Error("the coach's students make the recommendation no better than what the trade expects: " + strconv.Itoa(good[2]) + " to " + strconv.Itoa(good[0]))
	}
}
