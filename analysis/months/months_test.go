package months

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// What the description says of the spread is what the students have.
func TestSpread(t *testing.T) {
	for _, w := range Worlds() {
		var days, balls, steps, now, next []float64
		for seed := range uint64(400) {
			s := w.Student(Course{Before: 20}, seed)
			for i, x := range s.Sessions {
				if len(x.Values) < 10 || len(x.Values) > 40 {
					t.Fatalf("%s: a session of %d balls", w.Name, len(x.Values))
				}
				days = append(days, x.Mean-s.Level[i])
				for j := range x.Values[1:] {
					now = append(now, x.Values[j]-s.Level[i])
					next = append(next, x.Values[j+1]-s.Level[i])
				}
				for _, v := range x.Values {
					balls = append(balls, v-s.Level[i])
				}
				if i > 0 {
					steps = append(steps, s.Level[i]-s.Level[i-1])
				}
			}
		}
		// Balls about the level: the day's variance and the ball's.
		want := math.Hypot(0.8, 2.5) * math.Pi / 180
		if sd := stat.StdDev(balls, nil); math.Abs(sd/want-1) > 0.03 {
			t.Errorf("%s: balls spread %.2f deg about the level, want %.2f", w.Name, sd*180/math.Pi, want*180/math.Pi)
		}
		if sd := stat.StdDev(steps, nil); math.Abs(sd-w.Walk) > 0.02*w.Walk {
			t.Errorf("%s: the level walks %.3f deg a session", w.Name, sd*180/math.Pi)
		}
		// The correlation of neighbours about the level has the day in it.
		day, ball := 0.8*0.8, 2.5*2.5
		if r, want := stat.Correlation(now, next, nil), (day+w.Serial*ball)/(day+ball); math.Abs(r-want) > 0.02 {
			t.Errorf("%s: neighbours correlate %.3f, want %.3f", w.Name, r, want)
		}
		// Excess kurtosis of a normal is none.
		if k := stat.ExKurtosis(days, nil); (k > 0.5) != w.Tails {
			t.Errorf("%s: days have an excess kurtosis of %.2f", w.Name, k)
		}
	}
}

func TestCourses(t *testing.T) {
	const deg = math.Pi / 180
	w := Worlds()[0]
	for _, c := range []struct {
		form Form
		want []float64 // deg, from the session before the lesson on
	}{
		{Nothing, []float64{0, 0, 0, 0, 0, 0, 0, 0, 0}},
		{Sudden, []float64{0, -4, -4, -4, -4, -4, -4, -4, -4}},
		{Gradual, []float64{0, -1, -2, -3, -4, -4, -4, -4, -4}},
		{Fading, []float64{0, -4, -4 * 5 / 6., -4 * 4 / 6., -2, -4 * 2 / 6., -4 / 6., 0, 0}},
	} {
		s := w.Student(Course{Before: 6, After: 8, When: Booked, Form: c.form, Size: -4 * deg}, 1)
		if len(s.Sessions) != 14 || len(s.Lessons) != 1 {
			t.Fatalf("%d sessions, %d lessons", len(s.Sessions), len(s.Lessons))
		}
		if at := s.Lessons[0].At; !at.After(s.Sessions[5].At) || !at.Before(s.Sessions[6].At) {
			t.Errorf("the lesson is at %v", at)
		}
		for i, want := range c.want {
			if math.Abs(s.Effect[5+i]-want*deg) > 1e-12 {
				t.Errorf("form %d, session %d: %.2f deg, want %.2f", c.form, i, s.Effect[5+i]/deg, want)
			}
		}
	}
	up, plain := w.Student(Course{Before: 10, Shift: 3 * deg, ShiftAt: 5}, 2), w.Student(Course{Before: 10}, 2)
	for i := range up.Sessions {
		want := 0.0
		if i >= 5 {
			want = 3
		}
		if d := (up.Sessions[i].Mean - plain.Sessions[i].Mean) / deg; math.Abs(d-want) > 1e-9 {
			t.Errorf("session %d is shifted by %.2f deg, want %.0f", i, d, want)
		}
	}
}

// Lessons after bad runs follow sessions worse than the level was, weekly ones
// are a week apart, and each is before the session it says.
func TestLessons(t *testing.T) {
	before := 0.0
	for seed := range uint64(200) {
		for _, w := range Worlds() {
			s := w.Student(Course{Before: 8, After: 6, When: AfterBadRun}, seed)
			gap := s.After[0]
			if len(s.Sessions)-gap != 6 || gap < 8 || gap > 8+mostWaiting {
				t.Fatalf("the lesson is before session %d of %d", gap, len(s.Sessions))
			}
			before += (s.Sessions[gap-1].Mean - s.Level[gap-1]) / 1200
		}
	}
	if before < DaySD/3 {
		t.Errorf("sessions before a lesson after a bad run are %.2f deg worse than the level", before*180/math.Pi)
	}
	s := Worlds()[0].Student(Course{Before: 30, When: Weekly}, 3)
	if n := len(s.Lessons); n < 10 || n > 20 { // 29 gaps of 3.5 days are 14 or 15 weeks
		t.Errorf("%d weekly lessons in 30 sessions", n)
	}
	for i, l := range s.Lessons {
		if s.Sessions[s.After[i]-1].At.After(l.At) || !s.Sessions[s.After[i]].At.After(l.At) {
			t.Errorf("lesson %d is not before session %d", i, s.After[i])
		}
	}
}

func TestBriefsHaveTheirShare(t *testing.T) {
	for _, share := range []float64{0.4, 0.5, 0.6, 0.75} {
		for _, serial := range []float64{0, 0.35, 0.6} {
			inside, of := 0, 0
			for seed := range uint64(600) {
				s := Brief(share, serial, Asks(seed%NumAsks), seed)
				for _, p := range s.Posts {
					for _, v := range p.Values {
						of++
						if s.Brief.Holds(v) {
							inside++
						}
					}
				}
				if !s.Brief.Until.IsZero() && !s.Posts[len(s.Posts)-2].At.After(s.Brief.Until) {
					t.Fatalf("seed %d: posts end with the brief", seed)
				}
			}
			if got := float64(inside) / float64(of); math.Abs(got-share) > 0.01 {
				t.Errorf("share %.2f, correlation %.2f: %.3f inside", share, serial, got)
			}
		}
	}
}
