package timeline_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/months"
	"rangepost/analysis/timeline"
)

var compareStudents = flag.Int("compare", 150, "students a design and world that comparisons are judged by; 1500 for figures to quote")

// The limits of a comparison hold the truth, and what is the same is said to
// differ in few cases, in the worlds of another hand: two spans of a student, two
// setups hit on the same days, and two clubs on days of their own. Of spans the
// truth is where the level stood over their sessions.
func TestSimulatedComparisons(t *testing.T) {
	for _, design := range []struct {
		name  string
		n     int     // sessions
		apart float64 // what the second side adds, rad
		sides func(s months.Student, apart float64, rng *rand.Rand) (a, b []analysis.SessionValues, truth float64)
	}{
		{"spans, 6 and 6", 12, 0, spans}, {"spans, 3 and 3", 6, 0, spans}, {"spans, 12 and 12, 2 deg", 24, 2 * deg, spans},
		{"setups, 6 days", 6, 0, setups}, {"setups, 2 days", 2, 0, setups}, {"setups, 3 days, 2 deg", 3, 2 * deg, setups},
		{"setups, 5 days", 5, 0, setups}, {"setups, 10 days, 2 deg", 10, 2 * deg, setups}, {"setups that vary, 6 days", 6, 2 * deg, varying},
		{"setups, 1 day", 1, 0, setups}, {"clubs, 8 days", 8, 0, clubs}, {"clubs, 8 days, 2 deg", 8, 2 * deg, clubs},
	} {
		for _, w := range months.Worlds() {
			held, differ, of := 0, 0, 0
			for seed := range uint64(*compareStudents) {
				s := w.Student(months.Course{Before: design.n, When: months.Never}, seed)
				a, b, truth := design.sides(s, design.apart, rand.New(rand.NewPCG(seed, 5)))
				c, ok := timeline.Compare(judged, a, b, 0.5*deg, 1)
				if !ok || c.Contrast == timeline.TooLittle || c.Contrast == timeline.Varies {
					continue
				}
				of++
				if c.Low <= truth && truth <= c.High {
					held++
				}
				if c.Contrast == timeline.Differ {
					differ++
				}
			}
			hold, said := 100*float64(held)/float64(of), 100*float64(differ)/float64(of)
			t.Logf("%-24s %-11s limits hold %5.1f %%, said to differ %5.1f %%, of %d", design.name, w.Name, hold, said, of)
			// Three standard errors below what is promised.
			if bound := 93 - 300*math.Sqrt(.93*.07/float64(of)); hold < bound {
				t.Errorf("%s, %s: limits hold %.1f %%, want at least 93 less what so few students tell (%.1f)", design.name, w.Name, hold, bound)
			}
		}
	}
}

// spans cuts a student's sessions in two.
func spans(s months.Student, apart float64, _ *rand.Rand) (a, b []analysis.SessionValues, truth float64) {
	half := len(s.Sessions) / 2
	a, b = s.Sessions[:half], moved(s.Sessions[half:], apart)
	for i, level := range s.Level {
		if i < half {
			truth -= level / float64(half)
		} else {
			truth += level / float64(len(s.Level)-half)
		}
	}
	return a, b, truth + apart
}

// setups deals the balls of every day out to two sets, in turns of five.
func setups(s months.Student, apart float64, _ *rand.Rand) (a, b []analysis.SessionValues, truth float64) {
	for _, day := range s.Sessions {
		one, two := day, day
		one.Values, two.Values = nil, nil
		for i, v := range day.Values {
			if i/5%2 == 0 {
				one.Values = append(one.Values, v)
			} else {
				two.Values = append(two.Values, v+apart)
			}
		}
		a, b = append(a, one), append(b, two)
	}
	return a, b, apart
}

// varying are setups whose difference is another every day, by 1 deg.
func varying(s months.Student, apart float64, rng *rand.Rand) (a, b []analysis.SessionValues, truth float64) {
	a, b, truth = setups(s, apart, rng)
	for i := range b {
		b[i] = moved(b[i:i+1], deg*rng.NormFloat64())[0]
	}
	return a, b, truth
}

// clubs deals days out to two clubs at random.
func clubs(s months.Student, apart float64, rng *rand.Rand) (a, b []analysis.SessionValues, truth float64) {
	for i, at := range rng.Perm(len(s.Sessions)) {
		if i < len(s.Sessions)/2 {
			a, truth = append(a, s.Sessions[at]), truth-s.Level[at]/float64(len(s.Sessions)/2)
		} else {
			b, truth = append(b, moved(s.Sessions[at:at+1], apart)...), truth+s.Level[at]/float64(len(s.Sessions)-len(s.Sessions)/2)
		}
	}
	return a, b, truth + apart
}

func moved(sessions []analysis.SessionValues, by float64) (all []analysis.SessionValues) {
	for _, s := range sessions {
		values := make([]float64, len(s.Values))
		for i, v := range s.Values {
			values[i] = v + by
		}
		s.Values = values
		all = append(all, s)
	}
	return all
}

// A difference that is another from one day to the next is not told as one.
func TestCompareVaries(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	const students = 400
	var varies [2]int
	for seed := range uint64(students) {
		for i, turn := range []float64{0, 6 * deg} {
			s := months.Worlds()[0].Student(months.Course{Before: 2, When: months.Never}, seed)
			a, b, _ := setups(s, 2*deg, rng)
			b = append(b[:1:1], moved(b[1:], turn)...)
			if c, ok := timeline.Compare(judged, a, b, 0, 1); ok && c.Contrast == timeline.Varies {
				varies[i]++
				if len(c.Days) != 2 {
					t.Fatalf("days: %v", c.Days)
				}
			}
		}
	}
	if varies[0] > students/10 || varies[1] < students*9/10 {
		t.Errorf("of %d, said to vary: %d that do not, %d that do", students, varies[0], varies[1])
	}
}

// What too little tells is not said; a side without a value is none.
func TestCompareTooLittle(t *testing.T) {
	day := func(i int, values ...float64) analysis.SessionValues {
		return analysis.SessionValues{Session: fmt.Sprint(i), Values: values, Ball: analysis.RangeBall}
	}
	one, two := day(1, 0, .1, .2), day(2, .3, .4, .6)
	if c, ok := timeline.Compare(judged, []analysis.SessionValues{one}, []analysis.SessionValues{two}, 0, 1); !ok || c.Contrast != timeline.TooLittle || c.Low != 0 {
		t.Errorf("two days, one a side: %+v, %v", c, ok)
	}
	same := two
	same.Session = one.Session
	if c, ok := timeline.Compare(judged, []analysis.SessionValues{one}, []analysis.SessionValues{same}, 0, 1); !ok || !c.Within || c.Paired != 1 || c.Low >= c.High {
		t.Errorf("one day, both sides: %+v, %v", c, ok)
	}
	if _, ok := timeline.Compare(judged, []analysis.SessionValues{one}, nil, 0, 1); ok {
		t.Error("compared with nothing")
	}
	// A carry with another kind of ball is none of the same.
	other := day(3, .3, .4, .5)
	other.Ball = analysis.NewBall
	more := []analysis.SessionValues{one, day(4, .1, .2, .1), day(5, .1, .1, .3)}
	if _, ok := timeline.Compare(analysis.Carry, more, []analysis.SessionValues{other}, 0, 1); ok {
		t.Error("range balls' carry was compared with new balls'")
	}
	if c, ok := timeline.Compare(judged, more, []analysis.SessionValues{other}, 0, 1); !ok || c.First.Sessions != 3 || c.Second.Balls != 3 {
		t.Errorf("the face with either kind of ball: %+v, %v", c, ok)
	}
}
