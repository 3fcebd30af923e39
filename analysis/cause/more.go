package cause

import "gonum.org/v1/gonum/stat/distuv"

// mostBalls is the largest session worth asking for.
const mostBalls = 120

// moreBalls is how many more balls like these would settle the verdict, if
// their means and spread stayed what they are. 0 when even a long session
// would not: the model's own doubt is then what is too wide, or the miss lies
// on the border between two verdicts.
func (e evidence) moreBalls() int {
	settled := func(balls int) bool {
		_, _, _, enough := e.verdict(e.draws(balls))
		return enough
	}
	if e.means.n >= mostBalls || !settled(mostBalls) {
		return 0
	}
	low, high := e.means.n, mostBalls
	for high-low > 1 {
		if mid := (low + high) / 2; settled(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high - e.means.n
}

// studentBetween is the probability that a mean with standard error se, as far
// as its balls tell, lies between two values given relative to it.
func studentBetween(low, high, se float64, df int) float64 {
	t := distuv.StudentsT{Sigma: se, Nu: float64(df)}
	return t.CDF(high) - t.CDF(low)
}
