package challenge

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/stat"
)

// A Score is what an entry is worth under the terms, with 95 % limits. Its
// Value and limits are metres for nearest and narrow, a share of 0 to 1 for
// zone and brief, and the share of one's own past by which the balls finish
// nearer the target line for progress.
type Score struct {
	Value, Low, High float64
	OK               bool // whether Low and High could be told

	In, Of int // balls inside and balls in all, for shares

	// Of progress: the gain as seen, and the weight it was given.
	Seen, Weight float64

	marks stat.Sample

	// series are the marks in the order the balls were hit, which show whether
	// each resembles the one before.
	series []float64
}

// Score scores a stretch. past is needed for progress alone.
func (t Terms) Score(s Stretch, past Past) Score {
	switch t.Rule {
	case Nearest:
		return t.nearest(s)
	case Narrow:
		return t.narrow(s)
	case Progress:
		return t.progress(s, past)
	}
	return t.share(s)
}

func (t Terms) nearest(s Stretch) Score {
	marks := make([]float64, len(s.Balls))
	worst, bare := 0.0, 0
	for i, b := range s.Balls {
		if b.Unmeasured {
			bare++
			continue
		}
		marks[i] = math.Hypot(b.Carry-t.Target, b.Lateral)
		worst = max(worst, marks[i])
	}
	for i, b := range s.Balls {
		if b.Unmeasured {
			marks[i] = beyondWorst(bare, len(marks)) * worst
		}
	}
	e := stat.StreakOf(marks).Mean(marks)
	return Score{Value: e.Mean, Low: max(0, e.Low), High: e.High, OK: e.OK, marks: stat.SampleOf(marks), series: marks}
}

// narrow is the width of the interval, centred on the balls' own mean, that the
// next ball falls in with 80 %, all balls counted:
//
//	2 t(0.9; n-1) s sqrt(1 + 1/n)
//
// Its marks are the distances from the balls' own median (Brown & Forsythe
// 1974, J. Am. Stat. Assoc. 69:364).
func (t Terms) narrow(s Stretch) Score {
	lateral := t.sideways(s)
	low, high, ok := stat.NextValue(lateral, 0.80)
	if !ok {
		return Score{}
	}
	score := Score{Value: high - low, Low: high - low, High: high - low}
	pseudo, ok := logVariances(lateral)
	if !ok {
		return score
	}
	// The limits of log s2, put round the width itself: the jackknife's centre
	// corrects a bias that is the same for all entries of a challenge.
	e := told(stat.StreakOf(pseudo), len(pseudo)).Mean(pseudo)
	half := math.Exp((e.High - e.Mean) / 2)
	score.Low, score.High, score.OK = score.Value/half, score.Value*half, true
	middle, _ := stat.Median(lateral)
	for i, y := range lateral {
		lateral[i] = math.Abs(y - middle)
	}
	score.marks, score.series = stat.SampleOf(lateral), lateral
	return score
}

// logVariances are the jackknife's pseudo-values of log s2 (Miller 1968, Ann.
// Math. Stat. 39:567): n log s2 - (n-1) log s2(without i). ok is false when
// the balls, or all but one of them, lie on one spot.
func logVariances(x []float64) (pseudo []float64, ok bool) {
	n := float64(len(x))
	all := stat.SampleOf(x)
	if len(x) < 3 || !(all.Variance > 0) {
		return nil, false
	}
	for i := range x {
		d := x[i] - all.Mean
		// Leaving ball i out takes d^2 n/(n-1) off the sum of squares.
		rest := ((n-1)*all.Variance - d*d*n/(n-1)) / (n - 2)
		if !(rest > 1e-12*all.Variance) {
			return nil, false
		}
		pseudo = append(pseudo, n*math.Log(all.Variance)-(n-1)*math.Log(rest))
	}
	return pseudo, true
}

// share is the share of balls inside, with Wilson's limits for as many as the
// balls count for.
func (t Terms) share(s Stretch) Score {
	score := Score{Of: len(s.Balls), series: make([]float64, len(s.Balls))}
	if score.Of == 0 {
		return score
	}
	for i, b := range s.Balls {
		if t.inside(i, b) {
			score.In++
			score.series[i] = 1
		}
	}
	score.Value, score.OK = float64(score.In)/float64(score.Of), true
	counts := float64(score.Of)
	if streak := told(stat.StreakOf(score.series), score.Of); streak.R > 0 {
		counts = streak.Effective()
	}
	score.Low, score.High = stat.WilsonCounted(score.Value, counts, 0.95)
	return score
}

// inside reports whether ball i of an entry is one that counts.
func (t Terms) inside(i int, b Ball) bool {
	if b.Unmeasured {
		return false
	}
	if t.Rule == OnRequest {
		return int(b.Number)>>t.shotOf(i)&1 == 1
	}
	if t.Rule == Zone {
		return math.Abs(b.Lateral) <= t.Wide/2 && math.Abs(b.Carry-t.Target) <= t.Deep/2
	}
	return (t.Low == nil || b.Number >= *t.Low) && (t.High == nil || b.Number <= *t.High)
}

// compare is the p of two entries differing by luck alone; ok is false when
// the balls do not say.
func (t Terms) compare(a, b Score, streak stat.Streak) (p float64, ok bool) {
	if t.Shares() {
		x, n := counted(a, streak)
		y, m := counted(b, streak)
		return fisher(x, n, y, m), a.Of > 0 && b.Of > 0
	}
	test, ok := stat.Welch(streaky(a, streak), streaky(b, streak))
	return test.P, ok
}

// streakOf is how far balls resemble the ones before in the entries of a
// challenge, all together: one of ten balls says little of its own, and a few of
// them too little to take a fair win for luck.
func streakOf(scores []Score) stat.Streak {
	var all [][]float64
	balls, most := 0, 0
	for _, s := range scores {
		all = append(all, s.series)
		balls, most = balls+len(s.series), max(most, len(s.series))
	}
	if balls < enoughForStreaks {
		return stat.StreakOf()
	}
	return told(stat.StreakAcross(all), most)
}

// enoughForStreaks is the number of balls from which a serial correlation of a
// quarter is twice its standard error, 1/sqrt(n) (Bartlett 1946, J. R. Stat. Soc.
// Suppl. 8:27).
const enoughForStreaks = 64

// told is a streak of n balls that costs them a third or more, and none
// otherwise: less is not told from luck, and a contest should not turn on it.
func told(streak stat.Streak, n int) stat.Streak {
	if streak = streak.For(n); streak.Effective() > 2.0/3*float64(n) {
		return stat.StreakOf()
	}
	return streak
}

// streaky are an entry's marks as what they count for.
func streaky(s Score, streak stat.Streak) stat.Sample {
	if streak.R == 0 {
		return s.marks
	}
	return s.marks.Streaky(streak.For(len(s.series)))
}

// counted are an entry's balls inside and in all as what they count for, to the
// ball.
func counted(s Score, streak stat.Streak) (in, of int) {
	if streak.R == 0 || s.Of == 0 {
		return s.In, s.Of
	}
	n := streak.For(s.Of).Effective()
	return int(math.Round(n * float64(s.In) / float64(s.Of))), int(math.Round(n))
}

// fisher is the two-sided exact p of x of n against y of m (Fisher 1922, J. R.
// Stat. Soc. 85:87): the chance, with both totals given, of a table no likelier
// than the one seen.
func fisher(x, n, y, m int) float64 {
	if n < 1 || m < 1 {
		return 1
	}
	in := x + y
	choose := func(n, k int) float64 {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(k + 1))
		c, _ := math.Lgamma(float64(n - k + 1))
		return a - b - c
	}
	chance := func(k int) float64 { return math.Exp(choose(n, k) + choose(m, in-k) - choose(n+m, in)) }
	seen, p := chance(x), 0.0
	for k := max(0, in-m); k <= min(n, in); k++ {
		if c := chance(k); c <= seen*(1+1e-7) {
			p += c
		}
	}
	return min(1, p)
}

// normal975 is the 97.5 % point of the unit normal.
var normal975 = distuv.UnitNormal.Quantile(0.975)
