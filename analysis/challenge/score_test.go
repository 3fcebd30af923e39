package challenge_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/stat"
)

func pooledP(a, b stat.Sample, variance float64, df int) float64 {
	t := (a.Mean - b.Mean) / math.Sqrt(variance*(1/float64(a.N)+1/float64(b.N)))
	return 2 * distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Survival(math.Abs(t))
}

var iron = analysis.Club{Family: analysis.Iron, Number: 7}

func nearest(balls int) challenge.Terms {
	return challenge.Terms{Rule: challenge.Nearest, Club: iron, Balls: balls, Ball: analysis.RangeBall, Target: 120}
}

func session(n int, change func(i int, s analysis.Shot) analysis.Shot) analysis.Session {
	s := analysis.Session{Ball: analysis.RangeBall}
	for i := range n {
		shot := analysis.Shot{N: i + 1, Club: iron}.With(analysis.Carry, 120+float64(i%5)).With(analysis.Lateral, float64(i%7)-3)
		if change != nil {
			shot = change(i, shot)
		}
		s.Shots = append(s.Shots, shot)
	}
	return s
}

// The first N in file order count, mishits included; rows that are no ball are
// passed over.
func TestTakeTheFirstBalls(t *testing.T) {
	s := session(30, func(i int, s analysis.Shot) analysis.Shot {
		switch i {
		case 1:
			s.Aside = analysis.Mishit
		case 3:
			s.Aside = analysis.Duplicate
		case 5:
			s.Club = analysis.Club{Family: analysis.Driver}
		}
		return s
	})
	got, err := nearest(10).Take(0, s)
	if err != nil {
		t.Fatal(err)
	}
	want := []int{1, 2, 3, 5, 7, 8, 9, 10, 11, 12} // 4 is the third again, 6 another club
	for i, b := range got.Balls {
		if b.N != want[i] {
			t.Errorf("ball %d is number %d, want %d", i, b.N, want[i])
		}
	}
	if len(got.Balls) != 10 || got.Passed != 0 || got.Mishits != 1 {
		t.Errorf("%d balls, %d passed over, %d mishits; want 10, 0, 1", len(got.Balls), got.Passed, got.Mishits)
	}
}

func TestWhatCannotBeTaken(t *testing.T) {
	few := session(9, nil)
	unknown, fresh := session(20, nil), session(20, nil)
	unknown.Ball, fresh.Ball = analysis.UnknownBall, analysis.NewBall
	unmeasured := session(20, func(i int, s analysis.Shot) analysis.Shot { return s.With(analysis.Carry, math.NaN()) })
	for name, s := range map[string]analysis.Session{
		"too few": few, "unknown kind of ball": unknown, "another kind of ball": fresh,
		"no carry": unmeasured, "empty": {Ball: analysis.RangeBall},
	} {
		var e *analysis.Refusal
		if _, err := nearest(10).Take(0, s); !errors.As(err, &e) || e.What() == "" || e.Hint == "" {
			t.Errorf("%s: %v, want what is wrong and what to do", name, err)
		}
	}
}

// What the club did compares across balls; where the ball finished does not.
func TestKindOfBallMattersToTheBallAlone(t *testing.T) {
	high := 2 * analysis.Degree
	face := challenge.Terms{Rule: challenge.Brief, Club: iron, Balls: 5, Number: analysis.Face, High: &high}
	s := session(5, func(_ int, s analysis.Shot) analysis.Shot { return s.With(analysis.Face, 0.01) })
	s.Ball = analysis.NewBall
	if _, err := face.Take(0, s); err != nil {
		t.Errorf("a brief on the face: %v", err)
	}
	if face.Check() != nil {
		t.Errorf("a brief on the face asks for a kind of ball: %v", face.Check())
	}
	spin := face
	spin.Number = analysis.Spin
	if spin.Check() == nil {
		t.Error("a brief on spin asks for no kind of ball")
	}
}

// Open is open for either hand, though the face points to the other side.
func TestBriefFollowsTheHand(t *testing.T) {
	low, high := 0.0, 3*analysis.Degree // from square to 3 degrees open
	terms := challenge.Terms{Rule: challenge.Brief, Club: iron, Balls: 5, Number: analysis.FaceToPath, Low: &low, High: &high}
	for i := range 4 {
		hand := analysis.Hand(i % 2)
		terms.Number = []analysis.Number{analysis.FaceToPath, analysis.Face}[i/2]
		s := session(5, func(i int, s analysis.Shot) analysis.Shot {
			open := 2 * analysis.Degree
			if i == 0 {
				open = -open
			}
			return s.With(analysis.FaceToPath, open*hand.Mirror()).With(analysis.Face, open*hand.Mirror())
		})
		s.Hand = hand
		got, err := terms.Take(0, s)
		if err != nil {
			t.Fatal(err)
		}
		if score := terms.Score(got, challenge.Past{}); score.In != 4 {
			t.Errorf("%v: %d of 5 inside, want 4", hand, score.In)
		}
	}
}

// Balls of no club are refused for that, and not for being of another.
func TestClubIsNamed(t *testing.T) {
	nameless := session(5, func(_ int, s analysis.Shot) analysis.Shot {
		s.Club = analysis.Club{}
		return s
	})
	_, err := nearest(5).Take(0, nameless)
	if err == nil || !strings.Contains(err.Error(), "names no club") {
		t.Errorf("balls of no club: %v", err)
	}
	if _, err := nearest(5).Take(0); err == nil || strings.Contains(err.Error(), "names no club") {
		t.Errorf("no session: %v", err)
	}
}

// New balls in known air are brought to standard air: into the wind they flew
// shorter than they would have.
func TestAirIsBroughtToStandard(t *testing.T) {
	terms := nearest(5)
	terms.Ball = analysis.NewBall
	wind, from := 5.0, 0.0 // into the face
	launched := func(i int, s analysis.Shot) analysis.Shot {
		return s.With(analysis.BallSpeed, 52).With(analysis.LaunchAngle, 17*analysis.Degree).With(analysis.Direction, 0).
			With(analysis.Spin, 6500*analysis.RevPerMinute).With(analysis.SpinAxis, 0)
	}
	s := session(5, launched)
	s.Ball, s.Conditions = analysis.NewBall, analysis.Conditions{WindSpeed: &wind, WindFrom: &from}
	got, err := terms.Take(0, s)
	if err != nil {
		t.Fatal(err)
	}
	if got.Moved != 5 || got.Balls[0].Carry < 125 {
		t.Errorf("%d balls moved, the first to %.1f m from 120 m into the wind", got.Moved, got.Balls[0].Carry)
	}
	s.Ball, terms.Ball = analysis.RangeBall, analysis.RangeBall
	if got, err = terms.Take(0, s); err != nil || got.Moved != 0 || got.Balls[0].Carry != 120 {
		t.Errorf("range balls: %d moved, %v; they stay as they flew", got.Moved, err)
	}
}

// The jackknife by its definition, each ball left out in turn.
func TestNarrowByItsDefinition(t *testing.T) {
	lateral := []float64{-4, 1, 3.5, 0, -2, 9, 2, -1}
	var s challenge.Stretch
	for _, y := range lateral {
		s.Balls = append(s.Balls, challenge.Ball{Lateral: y})
	}
	got := challenge.Terms{Rule: challenge.Narrow}.Score(s, challenge.Past{})
	low, high, _ := stat.NextValue(lateral, 0.80)
	near(t, "width", got.Value, high-low, 1e-12)
	var pseudo []float64
	n := float64(len(lateral))
	for i := range lateral {
		rest := append(append([]float64{}, lateral[:i]...), lateral[i+1:]...)
		pseudo = append(pseudo, n*math.Log(stat.SampleOf(lateral).Variance)-(n-1)*math.Log(stat.SampleOf(rest).Variance))
	}
	e := stat.Mean(pseudo)
	near(t, "limits", math.Log(got.High/got.Value)*2, e.High-e.Mean, 1e-9)
	near(t, "limits", math.Log(got.Value/got.Low)*2, e.High-e.Mean, 1e-9)
}

func TestNoSpreadHasNoLimits(t *testing.T) {
	s := challenge.Stretch{Balls: make([]challenge.Ball, 6)}
	for _, terms := range []challenge.Terms{{Rule: challenge.Narrow}, nearest(6), {Rule: challenge.Progress}} {
		got := terms.Score(s, challenge.Past{})
		for _, v := range []float64{got.Value, got.Low, got.High} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: %+v", terms.Rule, got)
			}
		}
		both := terms.Stand([]challenge.Score{got, got})
		if both.Rows[0].Place != 1 || both.Rows[1].Place != 1 || both.Rows[1].Tie == 0 {
			t.Errorf("%s: two of the same are %+v", terms.Rule, both.Rows)
		}
	}
}

// Progress by hand: off 10 m on average before, 8 m now.
func TestProgressIsDrawnIn(t *testing.T) {
	past := challenge.Past{Balls: 40, Mean: 10, Variance: 36}
	var s challenge.Stretch // of terms of before there was a distance to bring them to
	for i := range 10 {
		y := 6.0
		if i%2 == 1 {
			y = -10
		}
		s.Balls = append(s.Balls, challenge.Ball{Lateral: y})
	}
	got := challenge.Terms{Rule: challenge.Progress}.Score(s, past)
	near(t, "gain", got.Seen, 0.2, 1e-12)
	// s2 of ten values of 6 and 10 is 40/9.
	cv2 := (40.0/64 + 39*36.0/100) / 48
	v := cv2 * (1.0/10 + 1.0/40)
	w := 0.0225 / (0.0225 + v)
	near(t, "weight", got.Weight, w, 1e-12)
	near(t, "score", got.Value, 1-math.Pow(0.8, w), 1e-12)
	if !(got.Low < got.Value && got.Value < got.High) {
		t.Errorf("limits %v to %v about %v", got.Low, got.High, got.Value)
	}
}

func TestPastIsAWindow(t *testing.T) {
	terms := challenge.Terms{Rule: challenge.Progress, Club: iron, Balls: 10, Ball: analysis.RangeBall}
	others := session(40, nil)
	others.Ball = analysis.NewBall
	var sessions []analysis.Session
	for range 4 {
		sessions = append(sessions, others, session(10, nil))
	}
	p, err := terms.PastOf(sessions)
	if err != nil || p.Sessions != 3 || p.Balls != challenge.Window {
		t.Errorf("%+v, %v; want the newest 30 of this kind of ball, from three sessions", p, err)
	}
	var e *analysis.Refusal
	if _, err := terms.PastOf(sessions[:3]); !errors.As(err, &e) {
		t.Errorf("with ten balls: %v", err)
	}
}

// The tea tasting of Fisher, The Design of Experiments (1935), section 5: three
// of four right is p = .4857 both ways, all four .0286 [M].
func TestSharesAreToldApartExactly(t *testing.T) {
	zone := challenge.Terms{Rule: challenge.Zone, Target: 100, Wide: 10, Deep: 10}
	share := func(in, of int) challenge.Score {
		s := challenge.Stretch{Balls: make([]challenge.Ball, of)}
		for i := range of {
			if i*in/of != (i+1)*in/of { // in no streaks
				s.Balls[i].Carry = 100
			}
		}
		return zone.Score(s, challenge.Past{})
	}
	for _, c := range []struct {
		a, b  challenge.Score
		apart bool
	}{
		{share(4, 4), share(0, 4), true}, // p = .0286
		{share(3, 4), share(1, 4), false},
		{share(10, 10), share(5, 10), true},  // p = .0325
		{share(10, 10), share(6, 10), false}, // p = .0867
	} {
		rows := zone.Stand([]challenge.Score{c.a, c.b}).Rows
		if got := rows[0].RankHigh == 1; got != c.apart {
			t.Errorf("%d of %d and %d of %d: apart is %v, want %v", c.a.In, c.a.Of, c.b.In, c.b.Of, got, c.apart)
		}
	}
}

// What looks the same shares a place, the better one first; what does not,
// does not.
func TestPlacesAreOfWhatIsShown(t *testing.T) {
	terms := nearest(5)
	terms.Step = 0.1 * analysis.Yard
	at := func(yards float64) challenge.Score {
		var s challenge.Stretch
		for i := range 5 {
			s.Balls = append(s.Balls, challenge.Ball{Carry: 120, Lateral: analysis.Yard * (yards + float64(i-2))})
		}
		return terms.Score(s, challenge.Past{})
	}
	var got []int
	var order []int
	for _, r := range terms.Stand([]challenge.Score{at(9.04), at(8.96), at(9.06), at(8.94)}).Rows {
		got, order = append(got, r.Place), append(order, r.Entry)
	}
	if want := []int{1, 2, 2, 4}; !slices.Equal(got, want) {
		t.Errorf("places %v, want %v", got, want)
	}
	if want := []int{3, 1, 0, 2}; !slices.Equal(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
}

func TestTermsAreChecked(t *testing.T) {
	if err := nearest(10).Check(); err != nil {
		t.Fatal(err)
	}
	limit := 0.1
	for name, change := range map[string]func(*challenge.Terms){
		"no rule":       func(t *challenge.Terms) { t.Rule = "best" },
		"no club":       func(t *challenge.Terms) { t.Club = analysis.Club{} },
		"one ball":      func(t *challenge.Terms) { t.Balls = 1 },
		"too many":      func(t *challenge.Terms) { t.Balls = 1000 },
		"no target":     func(t *challenge.Terms) { t.Target = 0 },
		"no zone":       func(t *challenge.Terms) { t.Rule = challenge.Zone },
		"no limits":     func(t *challenge.Terms) { t.Rule = challenge.Brief },
		"limits turned": func(t *challenge.Terms) { t.Rule, t.Low, t.High = challenge.Brief, &limit, &limit },
		"any ball":      func(t *challenge.Terms) { t.Ball = analysis.UnknownBall },
	} {
		terms := nearest(10)
		change(&terms)
		var e *analysis.Refusal
		if err := terms.Check(); !errors.As(err, &e) || e.Hint == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Whoever calls their worst balls another club's leaves them one by one among those that
// count; a tee shot in between, a change of clubs and turns leave no such trail.
func TestStrayBallsWait(t *testing.T) {
	terms := challenge.Terms{Rule: challenge.Nearest, Club: iron, Balls: 10, Ball: analysis.NewBall, Target: 130}
	other := analysis.Club{Family: analysis.Iron, Number: 8}
	for _, c := range []struct {
		name  string
		other []int // shot numbers
		waits bool
	}{
		{"none", nil, false},
		{"one", []int{5}, false},
		{"two", []int{3, 8}, true},
		{"five of sixteen", []int{2, 4, 7, 9, 12}, true},
		{"two before, three after", []int{1, 2, 13, 14, 15}, false},
		{"another club for a while", []int{5, 6, 7}, false},
		{"two beyond those that count", []int{13, 15}, false},
		{"turns", []int{2, 4, 6, 8, 10, 12, 14, 16, 18, 20}, false},
	} {
		s := analysis.Session{Ball: analysis.NewBall}
		for n := 1; n <= 20; n++ {
			shot := analysis.Shot{N: n, Club: iron}.With(analysis.Carry, 125+float64(n*7%11)).With(analysis.Lateral, float64(n*5%13)-6)
			if slices.Contains(c.other, n) {
				shot.Club = other
			}
			s.Shots = append(s.Shots, shot)
		}
		st, err := terms.Take(0, s)
		if err != nil {
			t.Fatal(err)
		}
		waits := slices.ContainsFunc(st.Doubts(), func(w analysis.Warning) bool { return w.Code == challenge.StrayBalls })
		if waits != c.waits {
			t.Errorf("%s: waits %v, %d of them", c.name, waits, st.Strays)
		}
	}
}
