package report_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/shotmaker"
	"rangepost/bot/report"
)

var (
	saysCount = regexp.MustCompile(`(\d+) of (\d+) did it`)
	saysCurve = regexp.MustCompile(`curved (\d+) yards? (left|right)`)
	saysStart = regexp.MustCompile(`started (\d+(?:\.\d)?)° (left|right)`)
)

// TestAskedIsTrue reads what is said of asked shots back and holds it against what
// another hand's golfers really did: how many, and where the balls started and
// curved in the mean.
func TestAskedIsTrue(t *testing.T) {
	signed := func(m []string) float64 {
		v, _ := strconv.ParseFloat(m[1], 64)
		if m[2] == "left" {
			v = -v
		}
		return v
	}
	sets, far, off, said := 0, 0, 0, 0
	for _, c := range shotmaker.Cases(31, 40) {
		session, truth := c.Play()
		r, err := report.Of(t.Context(), sessionfile.Reading{Session: session}, report.Options{Plain: true})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range r.Sets {
			if s.Asked == nil || s.Asked.Of == 0 {
				continue
			}
			text := r.Text(i, 4000) // what is of this set stands first
			if _, rest, ok := strings.Cut(text, "\n"); ok && len(r.Sets) > 1 {
				if at := strings.Index(rest, "Counted as done"); at >= 0 {
					text = text[:len(text)-len(rest)+at]
				}
			}
			var balls []int
			for _, shot := range s.Shots {
				balls = append(balls, shot.N-1)
			}
			var start, curve float64
			for _, k := range balls {
				start += truth.Balls[k].Launch.Direction / float64(len(balls))
				curve += truth.Balls[k].Curve() / float64(len(balls))
			}
			m := saysCount.FindStringSubmatch(text)
			if m == nil && s.Asked.Of > 1 {
				t.Fatalf("%v: how many did it is not said: %s", c, text)
			}
			sets++
			if m := saysCurve.FindStringSubmatch(text); m != nil {
				said++
				if d := math.Abs(signed(m) - curve/analysis.Yard); d > 4 {
					far++
					t.Logf("%v: %q, and it was %.1f yards: %s", c, m[0], curve/analysis.Yard, text)
				}
			}
			if m := saysStart.FindStringSubmatch(text); m != nil {
				said++
				if d := math.Abs(signed(m) - start/analysis.Degree); d > 1.5 {
					off++
					t.Logf("%v: %q, and it was %.1f°: %s", c, m[0], start/analysis.Degree, text)
				}
			}
		}
	}
	t.Logf("%d sets; %d figures said of start and curve, %d curves and %d starts far from what was", sets, said, far, off)
	if sets < 100 || said < 25 || far+off > said/20 {
		t.Errorf("%d sets, %d figures, %d and %d far off", sets, said, far, off)
	}
}
