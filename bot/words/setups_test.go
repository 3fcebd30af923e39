package words

import (
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

func TestSetups(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 6, d, 10, 0, 0, 0, time.UTC) }
	point := func(session string, d int, face float64) timeline.Point {
		return timeline.Point{Session: session, At: day(d), Mean: analysis.Estimate{N: 10, OK: true, Mean: face * deg, Low: (face - .4) * deg, High: (face + .4) * deg}}
	}
	r := timeline.Result{Number: analysis.Face, Points: []timeline.Point{point("a", 1, 3), point("b", 2, 3.3)},
		Setups: []timeline.Setup{{Label: "strong grip", Points: []timeline.Point{point("b", 2, 1.1)}}, {Label: "weak\ngrip", Points: []timeline.Point{point("c", 3, 5)}}}}
	want := []string{
		`With "weak grip" the face angle was 5.0° right of target on 3 June 2026.`,
		`With "strong grip" the face angle was 1.1° right of target on 2 June 2026; with the usual setup that day 3.3° right.`,
		"The rest here is of the usual setup alone.",
	}
	if got := (Voice{Plain: true}).Setups([]timeline.Result{r}); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q, want %q", got, want)
	}
	if alt := (Voice{}).AltTimelines([]timeline.Result{r}); !strings.Contains(alt, want[1]) {
		t.Errorf("the alternative text says %q", alt)
	}
	r.Setups = nil
	if got := (Voice{}).Setups([]timeline.Result{r}); got != nil {
		t.Errorf("of one setup: %q", got)
	}
}
