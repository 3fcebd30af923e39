package words_test

import (
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
)

var sunday = time.Date(2026, time.June, 14, 23, 59, 59, 0, time.UTC)

func asked(balls int, until time.Time) analysis.Brief {
	low, high := -2*analysis.Degree, 2*analysis.Degree
	return analysis.Brief{Number: analysis.Face, Low: &low, High: &high, Balls: balls, Until: until}
}

func TestBriefLines(t *testing.T) {
	var v words.Voice
	for _, tt := range []struct {
		brief             analysis.Brief
		inside, of, in    int
		over              bool
		wanted, far, says string
	}{
		{asked(40, sunday), 0, 0, 0, false, "face angle between 2° left and 2° right of target, 40 balls by 14 June", "", "brief not begun"},
		{
			asked(40, sunday), 17, 24, 1, false, "", "So far 24 of 40 balls, 17 of them inside; 16 more balls to go, until 14 June.",
			"brief under way: 24 of 40 balls hit",
		},
		{asked(40, time.Time{}), 30, 39, 2, false, ", 40 balls", "So far 39 of 40 balls, 30 of them inside; 1 more ball to go.", "brief under way: 39 of 40 balls hit"},
		{asked(40, sunday), 31, 40, 1, false, "", "That makes the 40 balls of the brief.", "brief kept: 31 of 40 balls inside"},
		{
			asked(40, sunday), 38, 50, 3, false, "", "The 40 balls of the brief are hit: since it was set 38 of 50 balls inside (between 62 and 86 %). They do not settle it, so it goes on.",
			"brief under way: 38 of 50 balls inside",
		},
		{
			asked(40, time.Time{}), 24, 40, 1, false, "", "That makes the 40 balls of the brief. They do not settle it, so it goes on.",
			"brief under way: 24 of 40 balls inside",
		},
		{asked(40, time.Time{}), 80, 160, 5, false, "", "The 40 balls of the brief are hit: since it was set 80 of 160 balls inside (between 42 and 58 %).", "brief over, about half kept: 80 of 160 balls inside"},
		{asked(40, sunday), 12, 24, 1, true, "", "", "brief missed: 24 of 40 balls hit"},
		{asked(0, sunday), 0, 0, 0, true, ", until 14 June", "", "brief missed: no ball hit for it"},
		{asked(40, sunday), 4, 40, 1, true, "", "", "brief missed: 4 of 40 balls inside"},
		{asked(40, sunday), 20, 40, 1, true, "", "", "brief over, about half kept: 20 of 40 balls inside"},
		{asked(0, time.Time{}), 5, 10, 2, false, "right of target", "Since the brief was set: 5 of 10 balls inside (between 23 and 77 %).", "brief under way: 5 of 10 balls inside"},
	} {
		k := timeline.Shared(tt.brief, tt.inside, tt.of, float64(tt.of))
		if got := v.Wanted(tt.brief); !strings.HasSuffix(got, tt.wanted) {
			t.Errorf("wanted: %q, want %q", got, tt.wanted)
		}
		if got := v.SoFar(k, k.Standing(tt.over), tt.in); !tt.over && got != tt.far {
			t.Errorf("%d of %d: %q, want %q", tt.inside, tt.of, got, tt.far)
		}
		if got := v.Stands(k, k.Standing(tt.over)); got != tt.says {
			t.Errorf("%d of %d, over %v: %q, want %q", tt.inside, tt.of, tt.over, got, tt.says)
		}
	}
}

func sessionsOf(n analysis.Number, means ...float64) timeline.Result {
	var all []analysis.SessionValues
	for i, m := range means {
		s := analysis.SessionValues{At: time.Date(2026, time.June, 1+i, 0, 0, 0, 0, time.UTC)}
		for _, off := range []float64{-1, -0.5, 0, 0.5, 1} {
			s.Values = append(s.Values, (m+off)*analysis.Degree)
		}
		all = append(all, s)
	}
	return timeline.Of(n, analysis.Club{}, all, nil)
}

func TestSinceLast(t *testing.T) {
	var v words.Voice
	for _, tt := range []struct {
		means []float64
		want  string
	}{
		{[]float64{1}, ""},
		{[]float64{1, 3}, "Since the session before (1 June) the face angle went 2.0° further right, to 3.0° right of target; too few sessions to say whether that is more than one day differs from the next."},
		{[]float64{1, 1}, "Since the session before (1 June) the face angle stayed the same, 1.0° right of target."},
		{[]float64{1, 1.2, 0.9, 1.1, 1, 5}, "Since the session before (5 June) the face angle went 4.0° further right, to 5.0° right of target. That is more than one day usually differs from the next (about 1.4°)."},
		{[]float64{-2, 2, -1, 3, 0, 1.5}, "Since the session before (5 June) the face angle went 1.5° further right, to 1.5° right of target. One day differs from the next by as much as"},
	} {
		if got := v.SinceLast(sessionsOf(analysis.Face, tt.means...)); !strings.HasPrefix(got, tt.want) || got != "" && tt.want == "" {
			t.Errorf("%v: %q, want %q", tt.means, got, tt.want)
		}
	}
}

func TestRosterWords(t *testing.T) {
	var v words.Voice
	june := time.Date(2026, time.June, 3, 12, 0, 0, 0, time.UTC)
	for _, tt := range [][2]string{
		{words.Posts(1, june), "1 post"},
		{words.Posts(4, june), "4 posts since 3 June"},
		{v.Silent(8*24*time.Hour+time.Hour, true), "silent for 8 days, since the lesson"},
		{v.Silent(24*time.Hour, false), "silent for 1 day"},
		{v.Drifted(sessionsOf(analysis.Face, 1, 2)), ""},
		{v.Drifted(sessionsOf(analysis.Face, 0, .1, -.1, 0, .1, 0, -.1, 0, .1, 0, 0, 6, 6)), "face drifting since 12 June, now 6.0° further right (to watch)"},
	} {
		if tt[0] != tt[1] {
			t.Errorf("%q, want %q", tt[0], tt[1])
		}
	}
}

// Several timelines say of each what it is of; distances brought to one air
// say so.
func TestTimelines(t *testing.T) {
	var v words.Voice
	face, path := sessionsOf(analysis.Face, 1, 1), sessionsOf(analysis.Path, 2, 2)
	if got := strings.Join(v.Timelines([]timeline.Result{face, path}), "\n"); strings.Count(got, "No lesson is marked") != 1 || !strings.Contains(got, "the face angle was 1.0°") || !strings.Contains(got, "the club path was 2.0°") {
		t.Errorf("two numbers: %q", got)
	}
	if got := v.TimelinesTitle([]timeline.Result{face, path}); got != "Face and path over the sessions" {
		t.Errorf("title %q", got)
	}
	iron, driver := face, face
	iron.Club, driver.Club = analysis.Club{Family: analysis.Iron, Number: 7}, analysis.Club{Family: analysis.Driver}
	if got := v.Timelines([]timeline.Result{iron, driver}); !strings.HasPrefix(got[0], "7-iron: ") || !strings.HasPrefix(got[1], "Driver: ") {
		t.Errorf("two clubs: %q", got)
	}
	if got := v.TimelinesTitle([]timeline.Result{iron, driver}); got != "Face, 7-iron and driver over the sessions" {
		t.Errorf("title %q", got)
	}
	if got := v.AltTimelines([]timeline.Result{iron, driver}); !strings.Contains(got, "2 panels") || !strings.Contains(got, "Face angle, driver: 2 sessions, last 1.0° right of target") {
		t.Errorf("alt %q", got)
	}
	face.Points[0].Normalised = true
	if got := strings.Join(v.Timelines([]timeline.Result{face}), "\n"); !strings.Contains(got, "not the measured ones") {
		t.Errorf("brought to one air: %q", got)
	}
	changed := face
	changed.Effect = timeline.Effect{Change: timeline.Changed, Credited: true}
	if got := v.TimelinesTitle([]timeline.Result{changed, path}); got != "Changed since the lesson: face" {
		t.Errorf("title %q", got)
	}
	// What is not credited to the lesson is said so plainly, wherever it is said.
	for what, lasts := range map[string]timeline.Lasting{"stays": timeline.Stays, "fades": timeline.Fades, "gone": timeline.Gone} {
		changed.Effect = timeline.Effect{Change: timeline.Changed, Lasts: lasts, Lesson: analysis.Lesson{At: changed.Points[0].At}, Together: 1}
		if got := v.TimelinesTitle([]timeline.Result{changed, path}); got != "Changed, or moving already: face" {
			t.Errorf("%s, title %q", what, got)
		}
		if got := v.TimelineTitle(changed); got != "Face angle: changed, or was moving that way already" {
			t.Errorf("%s, title %q", what, got)
		}
		if got := strings.Join(v.Timeline(changed), "\n"); !strings.Contains(got, "or was moving that way already: these sessions cannot tell which, so it is not put down to the lesson.") {
			t.Errorf("%s: %q", what, got)
		}
		if got := v.State(changed); strings.Contains(got, "with the lesson") || !strings.Contains(got, "or was moving that way already") {
			t.Errorf("%s, on a sheet: %q", what, got)
		}
		if got := v.Taught(changed); strings.Contains(got, "the lesson of 1 June changed") || lasts != timeline.Gone && !strings.Contains(got, "or was moving that way already") {
			t.Errorf("%s, for the coach: %q", what, got)
		}
	}
	changed.Effect = timeline.Effect{}
	changed.Lessons = []analysis.Lesson{{At: changed.Points[0].At.AddDate(0, 0, -1)}}
	changed.Effect.Change = timeline.NoLesson
	if got := v.Timelines([]timeline.Result{changed})[0]; !strings.HasPrefix(got, "Over 2 sessions") {
		t.Errorf("since the lesson: %q", got)
	}
}
