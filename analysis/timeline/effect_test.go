package timeline_test

import (
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// flat are sessions a week apart whose means are given; two balls a session, a
// unit to either side.
func flat(means ...float64) []analysis.SessionValues {
	var all []analysis.SessionValues
	for i, m := range means {
		all = append(all, analysis.SessionValues{Session: string(rune('a' + i)), At: day(7 * i), Values: []float64{m - 1, m + 1}})
	}
	return all
}

func TestLessonSides(t *testing.T) {
	seven := flat(5, 5.2, 4.9, 5.1, 1, 1.2, 0.9)
	for _, c := range []struct {
		name          string
		sessions      []analysis.SessionValues
		lessons       []int // days
		change        timeline.Change
		before, after int
		together      int
		next          int
	}{
		{"none", seven, nil, timeline.NoLesson, 0, 0, 0, 0},
		{"before the first session", seven, []int{-3}, timeline.NoLesson, 0, 0, 0, 0},
		{"after the last", seven, []int{60}, timeline.TooEarly, 7, 0, 1, 3},
		{"two since", seven, []int{30}, timeline.TooEarly, 5, 2, 1, 3},
		{"two before", seven, []int{10}, timeline.TooEarly, 2, 5, 1, 0},
		{"three and four", seven, []int{25}, timeline.Changed, 4, 3, 1, 6},
		{"at the moment of a session", seven, []int{28}, timeline.Changed, 4, 3, 1, 6},
		{"six since", flat(5, 5.2, 4.9, 5.1, 5, -9, -9.2, -8.9, -9.1, -9, -9.1), []int{30}, timeline.Changed, 5, 6, 1, 12},
		{"nothing moved", flat(5, 4, 6, 5, 4, 6, 5), []int{25}, timeline.NotYet, 4, 3, 1, 6},
		{"three between two", flat(9, 9, 9, 5, 5.2, 4.9, 1, 1.2, 0.9), []int{20, 38}, timeline.NotYet, 3, 3, 1, 6},
		{"two between two", flat(5, 5.2, 4.9, 5.1, 3, 3.1, 1, 1.2, 0.9), []int{25, 38}, timeline.Changed, 4, 3, 2, 6},
		{"two lessons in one gap", seven, []int{23, 25}, timeline.Changed, 4, 3, 2, 6},
	} {
		var lessons []analysis.Lesson
		for _, d := range c.lessons {
			lessons = append(lessons, analysis.Lesson{At: day(d)})
		}
		slices.Reverse(lessons)
		r := timeline.Of(analysis.Face, iron, c.sessions, lessons)
		if e := r.Effect; e.Change != c.change || e.Before != c.before || e.After != c.after || e.Together != c.together || e.Next != c.next {
			t.Errorf("%s: %q with %d before and %d after, of %d lessons, next at %d; want %q, %d, %d, %d, %d",
				c.name, e.Change, e.Before, e.After, e.Together, e.Next, c.change, c.before, c.after, c.together, c.next)
		}
	}
}

// A lesson after the session farthest from where the number went: some of the
// change would have come anyway.
func TestLessonAfterTheWorstSession(t *testing.T) {
	for _, c := range []struct {
		means []float64
		want  bool
	}{
		{[]float64{4, 5, 4.5, 7, 1, 1.2, 0.9}, true},
		{[]float64{4, 7, 4.5, 5, 1, 1.2, 0.9}, false},
		{[]float64{-4, -5, -4.5, -7, -1, -1.2, -0.9}, true},
		{[]float64{4, 5, 4.5, 3, 9, 9.2, 9.3}, true},
		{[]float64{4, 5, 4.5, 7, 9, 9.2, 9.3}, false},
	} {
		r := timeline.Of(analysis.Face, iron, flat(c.means...), []analysis.Lesson{{At: day(25)}})
		if r.Effect.WorstBefore != c.want {
			t.Errorf("%v: WorstBefore = %v, want %v", c.means, r.Effect.WorstBefore, c.want)
		}
	}
}

// Sessions in any order, empty ones among them, give the same result; inputs
// stay as they were.
func TestOrderDoesNotMatter(t *testing.T) {
	sessions := flat(5, 5.2, 4.9, 5.1, 1, 1.2, 0.9, 1.1, 1.3)
	lessons := []analysis.Lesson{{At: day(25)}, {At: day(3)}}
	want := timeline.Of(analysis.Face, iron, sessions, lessons)
	shuffled := slices.Clone(sessions)
	slices.Reverse(shuffled)
	shuffled = append(shuffled, analysis.SessionValues{Session: "empty", At: day(2)})
	before := slices.Clone(shuffled)
	got := timeline.Of(analysis.Face, iron, shuffled, lessons)
	if len(got.Points) != 9 || got.Effect != want.Effect || got.Mean != want.Mean || got.Trend != want.Trend || got.Drift.Out != want.Drift.Out {
		t.Errorf("reversed: %+v\nwant %+v", got, want)
	}
	for i := range before {
		if before[i].Session != shuffled[i].Session {
			t.Fatal("Of reordered its input")
		}
	}
	if lessons[0].At != day(25) {
		t.Error("Of reordered the lessons")
	}
}

// What little there is gives no limits and no nonsense.
func TestLittle(t *testing.T) {
	for name, sessions := range map[string][]analysis.SessionValues{
		"none":        nil,
		"one ball":    {{At: day(0), Values: []float64{3}}},
		"single each": {{At: day(0), Values: []float64{3}}, {At: day(1), Values: []float64{4}}, {At: day(2), Values: []float64{5}}},
		"all alike":   {{At: day(0), Values: []float64{3, 3}}, {At: day(1), Values: []float64{3, 3}}, {At: day(2), Values: []float64{3, 3}}},
		"one day":     flatOneDay(12),
	} {
		r := timeline.Of(analysis.Face, iron, sessions, []analysis.Lesson{{At: day(1)}})
		for _, v := range []float64{r.Mean.Mean, r.Mean.Low, r.Mean.High, r.Between, r.Within, r.Effect.Difference, r.Effect.Low, r.Effect.High, r.Trend.PerDay} {
			if v != v || v > 1e9 || v < -1e9 {
				t.Errorf("%s: a figure is %v: %+v", name, v, r)
			}
		}
		if len(sessions) < 8 && (r.Drift.OK || r.Trend.OK) {
			t.Errorf("%s: drift or trend of %d sessions", name, len(sessions))
		}
	}
}

func flatOneDay(n int) []analysis.SessionValues {
	var all []analysis.SessionValues
	for i := range n {
		all = append(all, analysis.SessionValues{At: day(1), Values: []float64{float64(i), 1}})
	}
	return all
}

// What was found before stays found, with its date, when fewer sessions are
// asked for and these alone say nothing.
func TestFoundBeforeStays(t *testing.T) {
	sessions := flat(5, 5.2, 4.9, 5.1, 5, -9, -9.2, -8.9, -9.1, -9, -9.1)
	lesson := []analysis.Lesson{{At: day(30)}}
	all := timeline.Of(analysis.Face, iron, sessions, lesson).Effect
	if all.Change != timeline.Changed || !all.FoundAt.Equal(sessions[4+all.Found].At) {
		t.Fatalf("all sessions: %+v", all)
	}
	few := timeline.Of(analysis.Face, iron, sessions[3:7], lesson).Effect
	if few.Change != timeline.TooEarly {
		t.Fatalf("four of them: %+v", few)
	}
	few.Keep(all.Found, all.FoundAt, all.Difference, all.Low, all.High)
	if few.Change != timeline.Changed || few.Found != all.Found || few.FoundAt != all.FoundAt || few.Difference != all.Difference || few.Lasts != timeline.Stays {
		t.Errorf("four of them, and what was found before: %+v", few)
	}
}
