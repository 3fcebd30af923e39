package months

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// mostWaiting is for how many sessions a golfer waits for a run bad enough.
const mostWaiting = 12

// A Student is a simulated golfer with the truth.
type Student struct {
	Sessions []analysis.SessionValues // by time
	Lessons  []analysis.Lesson        // by time
	After    []int                    // of each lesson, the index of the first session after it
	Level    []float64                // at each session, the day left out, rad
	Effect   []float64                // of the first lesson at each session, part of Level, rad
}

// Largest is the effect of the first lesson at its largest in the first n
// sessions, rad, signed.
func (s Student) Largest(n int) (largest float64) {
	for _, e := range s.Effect[:n] {
		if math.Abs(e) > math.Abs(largest) {
			largest = e
		}
	}
	return largest
}

// Student simulates one course in a world. The same seed gives the same student.
func (w World) Student(c Course, seed uint64) Student {
	rng := rand.New(rand.NewPCG(seed, 17))
	n := c.Before + c.After
	if c.When == AfterBadRun {
		n += mostWaiting
	}
	s := Student{Level: make([]float64, n), Effect: make([]float64, n)}
	at := time.Date(2031, time.March, 3, 17, 0, 0, 0, time.UTC)
	walked := 0.0
	for i := range n {
		if i > 0 {
			at = at.AddDate(0, 0, 2+rng.IntN(4)) // 3.5 days apart, 2 to 5
			walked += w.Walk * rng.NormFloat64()
		}
		s.Level[i] = walked + c.Improving*float64(i)
		if c.Shift != 0 && i >= c.ShiftAt {
			s.Level[i] += c.Shift
		}
		v := w.balls(s.Level[i]+w.day(rng), 10+rng.IntN(31), rng)
		s.Sessions = append(s.Sessions, analysis.SessionValues{
			Session: fmt.Sprintf("%d-%d", seed, i), At: at,
			Club: analysis.Club{Family: analysis.Iron, Number: 7}, Values: v,
		})
	}
	s.sum()
	s.teach(c)
	s.sum()
	return s
}

// day is how far a day is from the level, rad.
func (w World) day(rng *rand.Rand) float64 {
	z := rng.NormFloat64()
	if !w.Tails {
		return DaySD * z
	}
	chi := 0.0
	for range 3 {
		x := rng.NormFloat64()
		chi += x * x
	}
	// Student's t of 3 degrees of freedom has a variance of 3 [C].
	return DaySD * z / math.Sqrt(chi/3) / math.Sqrt(3)
}

// balls are n balls about a mean, in the order they are hit, rad.
func (w World) balls(mean float64, n int, rng *rand.Rand) []float64 {
	v := series(n, w.Serial, rng)
	for i := range v {
		v[i] = mean + BallSD*v[i]
	}
	return v
}

// series is a stationary first-order autoregression of unit variance.
func series(n int, serial float64, rng *rand.Rand) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = rng.NormFloat64()
		if i > 0 {
			v[i] = serial*v[i-1] + math.Sqrt(1-serial*serial)*v[i]
		}
	}
	return v
}

// teach gives the lessons of a course and adds what they did.
func (s *Student) teach(c Course) {
	switch c.When {
	case Never:
		return
	case Weekly:
		first, last := s.Sessions[0].At, s.Sessions[len(s.Sessions)-1].At
		// An hour off any session's, so that none is at the same time.
		for at := first.AddDate(0, 0, 7).Add(-6 * time.Hour); at.Before(last); at = at.AddDate(0, 0, 7) {
			s.Lessons = append(s.Lessons, analysis.Lesson{At: at})
			s.After = append(s.After, s.first(at))
		}
		return
	}
	gap := c.Before
	if c.When == AfterBadRun {
		gap = s.badRun(c.Before)
	}
	n := gap + c.After
	s.Sessions, s.Level, s.Effect = s.Sessions[:n], s.Level[:n], s.Effect[:n]
	s.lesson(gap)
	if c.Second > 0 {
		s.lesson(gap + c.Second)
	}
	for i := range s.Sessions {
		s.Effect[i] = c.Size * c.Form.Share(i-gap)
		s.Level[i] += s.Effect[i]
		for j := range s.Sessions[i].Values {
			s.Sessions[i].Values[j] += s.Effect[i]
		}
	}
}

// first is the first session after a time.
func (s *Student) first(at time.Time) int {
	for i, x := range s.Sessions {
		if x.At.After(at) {
			return i
		}
	}
	return len(s.Sessions)
}

// lesson is one the day after session gap-1, hence before session gap.
func (s *Student) lesson(gap int) {
	s.Lessons = append(s.Lessons, analysis.Lesson{At: s.Sessions[gap-1].At.AddDate(0, 0, 1)})
	s.After = append(s.After, gap)
}

// badRun is the first gap, from after session "from" on, whose two sessions
// before are both half a degree worse than all before those; else the one whose
// two are worst.
func (s *Student) badRun(from int) int {
	worst, at := math.Inf(-1), from
	for gap := from; gap <= from+mostWaiting; gap++ {
		usual := 0.0
		for _, x := range s.Sessions[:gap-2] {
			usual += x.Mean / float64(gap-2)
		}
		better := min(s.Sessions[gap-2].Mean, s.Sessions[gap-1].Mean) - usual
		if better >= 0.5*analysis.Degree {
			return gap
		}
		if better > worst {
			worst, at = better, gap
		}
	}
	return at
}

// sum works out the mean and the spread of every session.
func (s *Student) sum() {
	for i := range s.Sessions {
		x := &s.Sessions[i]
		x.Mean, x.SD = stat.MeanStdDev(x.Values, nil)
	}
}
