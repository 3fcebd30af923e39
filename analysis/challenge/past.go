package challenge

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Past is what a player did before the challenge opened: how far from the
// target line their balls finished. It is frozen with the entry, so nothing
// posted later moves it.
type Past struct {
	Balls, Sessions int
	Mean, Variance  float64 // of |lateral|: m, m^2
}

// Window is how many balls a past has: the newest before the opening. It is
// the same for everybody, since a past of more balls is surer, and a surer
// score wins more often.
const Window = 30

// PastOf is the past in sessions posted before the opening, newest first: the
// newest struck balls of the club, mishits included, of the challenge's kind of
// ball. Its error is an *analysis.Refusal.
//
// Hitting badly on purpose beforehand is dear: the window is not of the
// player's choosing, everything posted in it counts, and no gain counts for
// more than MostGain.
func (t Terms) PastOf(sessions []analysis.Session) (Past, error) {
	var p Past
	var off []float64
	for _, s := range sessions {
		if s.Ball != t.Ball {
			continue
		}
		before := len(off)
		for _, shot := range slices.Backward(s.Shots) {
			if v, ok := shot.Value(analysis.Lateral); ok && shot.Club == t.Club && counts(shot) && len(off) < Window {
				off = append(off, math.Abs(v))
			}
		}
		if len(off) > before {
			p.Sessions++
		}
	}
	if len(off) < Window {
		return p, analysis.Refuse(fmt.Sprintf("It takes %d; what you post now counts for the next challenge.", Window),
			"Before this challenge opened you had posted %d %s balls with the %s to measure progress against.", len(off), t.Ball, t.Club)
	}
	s := stat.SampleOf(off)
	p.Balls, p.Mean, p.Variance = s.N, s.Mean, s.Variance
	return p, nil
}

// Progress is scored as a share of one's own past, so that a beginner's yard
// and a champion's inch count alike.
const (
	// GainDeviation is how much true gains are presumed to differ among
	// members, as a share of their past (common practice, no source). It is
	// fixed beforehand, so no one's entry moves another's score.
	GainDeviation = 0.15

	// MostGain is the largest gain that counts.
	MostGain = 0.5
)

// progress is the gain 1 - new/past, drawn in for few balls on the log scale:
//
//	g = -log(new/past),  v = cv2 (1/n + 1/m),  w = t2/(t2 + v),  score = 1 - exp(-w g)
//
// where t is GainDeviation, n and m the balls now and before, and cv2 the
// squared coefficient of variation of all of them, each about its own mean.
// The limits are those of w g +- z t sqrt(1 - w), with v for as many balls as
// these count for where they came in streaks. On the log scale the error of
// a gain does not depend on the gain, so luck does not look certain.
func progress(s Stretch, past Past) Score {
	off := make([]float64, 0, len(s.Balls))
	for _, b := range s.Balls {
		off = append(off, math.Abs(b.Lateral))
	}
	now := stat.SampleOf(off)
	if now.N < 2 || past.Balls < 2 || !(past.Mean > 0) || !(now.Mean > 0) {
		return Score{}
	}
	n, m := float64(now.N), float64(past.Balls)
	gain := min(math.Log(past.Mean/now.Mean), -math.Log(1-MostGain))
	cv2 := ((n-1)*now.Variance/(now.Mean*now.Mean) + (m-1)*past.Variance/(past.Mean*past.Mean)) / (n + m - 2)
	v := cv2 * (1/n + 1/m)
	t2 := GainDeviation * GainDeviation
	w := t2 / (t2 + v)
	counted := t2 / (t2 + v*n/stat.StreakOf(off).Effective())
	half := normal975 * GainDeviation * math.Sqrt(1-counted)
	share := func(log float64) float64 { return 1 - math.Exp(-log) }
	drawn := stat.Shrink(gain, v, 0, t2)
	return Score{
		Value: share(drawn), Low: share(drawn - half), High: share(drawn + half), OK: true,
		Seen: share(gain), Weight: w,
		marks:  stat.Sample{N: now.N + past.Balls - 1, Mean: gain, Variance: v * (n + m - 1)},
		series: off,
	}
}
