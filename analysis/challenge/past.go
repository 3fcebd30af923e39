package challenge

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Past is what a player did before the challenge opened: how far across the
// line their balls finished from the middle of their session. It is frozen with
// the entry, so nothing posted later moves it.
type Past struct {
	Balls, Sessions int
	Mean, Variance  float64 // of those distances: m, m^2
	Earlier         bool    // the balls before the newest are taken: see PastOf
}

// Window is how many balls a past has: the newest before the opening. It is
// the same for everybody, since a past of more balls is surer, and a surer
// score wins more often.
const Window = 30

// leastOfSession is how many balls of a session tell its middle.
const leastOfSession = 5

// spoiltAt is how rarely the newest balls lie, by luck alone, so much wider
// than those before them that these are taken. Each time it costs a player who
// posts much a lucky past, 3 % of their chances in all.
const spoiltAt = 0.01

// PastOf is the past in sessions posted before the opening, newest first: the
// newest balls of the club, mishits included, of the challenge's kind of ball,
// in sessions of full shots with five or more. Its error is an
// *analysis.Refusal.
//
// A past spoilt on purpose is what progress has to fear. Aiming aside spoils
// nothing, since distances are from the session's own middle; nor do short
// shots, since they count at the distance of the terms. Scattering on purpose
// does: so where the newest 30 balls lie wider than luck makes of the 30
// before, those before them count. What is left is to scatter a little
// (half as wide again passes for luck half the time), or to spoil 60 balls; and
// no gain counts for more than MostGain.
func (t Terms) PastOf(sessions []analysis.Session) (Past, error) {
	var off []float64
	var of []int // the session of each
	for i, s := range sessions {
		if s.Ball != t.Ball || len(off) >= 2*Window {
			continue
		}
		var session Stretch
		for _, shot := range s.Shots {
			if shot.Club == t.Club && counts(shot) && t.measured(shot) {
				b := Ball{N: shot.N}
				b.Carry, _ = shot.Value(analysis.Carry)
				b.Lateral, _ = shot.Value(analysis.Lateral)
				session.Balls = append(session.Balls, b)
			}
		}
		if len(session.Balls) < leastOfSession || middleCarry(session.Balls) < t.Least {
			continue
		}
		newest := t.off(session)
		slices.Reverse(newest)
		for _, v := range newest {
			off, of = append(off, v), append(of, i)
		}
	}
	if len(off) < Window {
		return Past{Balls: len(off)}, analysis.Refuse(fmt.Sprintf("It takes %d full shots, in sessions of %d or more of them; what you post now counts for the next challenge.", Window, leastOfSession),
			"Before this challenge opened you had posted %d %s balls with the %s to measure progress against.", len(off), t.Ball, t.Club)
	}
	p := pastOf(off[:Window], of[:Window])
	if len(off) >= 2*Window {
		before := pastOf(off[Window:2*Window], of[Window:2*Window])
		if test, ok := stat.Welch(p.sample(), before.sample()); ok && p.Mean > before.Mean && test.P/2 < spoiltAt {
			p, p.Earlier = before, true
		}
	}
	return p, nil
}

func pastOf(off []float64, of []int) Past {
	s := stat.SampleOf(off)
	return Past{Balls: s.N, Sessions: len(slices.Compact(slices.Clone(of))), Mean: s.Mean, Variance: s.Variance}
}

func (p Past) sample() stat.Sample {
	return stat.Sample{N: p.Balls, Mean: p.Mean, Variance: p.Variance}
}

// off is how far each ball of a stretch finished across the line from their own
// middle, m: from their mean, made up for what n balls lie nearer to their own
// mean than to the true one, sqrt(n/(n-1)). Terms of before there was a distance
// to bring them to measure from the target line.
func (t Terms) off(s Stretch) []float64 {
	off := t.sideways(s)
	middle, scale := stat.SampleOf(off).Mean, 1.0
	if n := float64(len(off)); n > 1 {
		scale = math.Sqrt(n / (n - 1))
	}
	if t.Across <= 0 {
		middle, scale = 0, 1
	}
	for i, y := range off {
		off[i] = scale * math.Abs(y-middle)
	}
	return off
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
func (t Terms) progress(s Stretch, past Past) Score {
	off := t.off(s)
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
