package integrity

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// free are the numbers of a swing and of a launch that do not follow from others,
// and where the ball finished, which follows from them in part and is what contests
// are about.
var free = []analysis.Number{
	analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft,
	analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis, analysis.Lateral,
}

const (
	leastFree = 4   // numbers that show whether balls are alike
	leastOf   = 8   // balls whose pairs tell what is usual
	mostOf    = 120 // balls that are looked at: their pairs are 7140
)

// twinsAt is how many pairs of a file may be as alike by chance as the third pair is
// for three to be in doubt, the fourth for four, and the fifth for more; one or two
// are chance. Of 1200 honest files of another hand's 3 are in doubt with these, and
// 17 were while the numbers of ball and club counted together [C].
var twinsAt = []float64{0, 0, 0.4, 1.1, 3}

// Twins are the positions of balls that are others of their club over again: hit
// once and written twice, a little changed. Nobody swings the same in every number:
// balls that are alike in one are so in another little more than any two. So of each
// number it is taken what share of all pairs of the file is as near, and the product
// of the shares (Fisher's; the numbers hang together some, so its scale is the
// file's own). Positions are given of pairs none of which are in two.
//
// Rows that are the same in all they hold are set aside as the file is read.
func Twins(s analysis.Session) (at []int) {
	of := map[analysis.Club][]int{}
	for i, shot := range s.Shots {
		if counts := shot.Aside == analysis.Used || shot.Aside == analysis.Mishit; counts && len(of[shot.Club]) < mostOf {
			of[shot.Club] = append(of[shot.Club], i)
		}
	}
	for _, which := range of {
		at = append(at, twins(s.Shots, which)...)
	}
	slices.Sort(at)
	return at
}

type pair struct {
	i, j   int
	far    float64
	unlike float64 // the logarithms of the shares, added up
}

func twins(shots []analysis.Shot, which []int) (at []int) {
	if len(which) < leastOf {
		return nil
	}
	var pairs []pair
	for b, j := range which {
		for _, i := range which[:b] {
			pairs = append(pairs, pair{i: i, j: j})
		}
	}
	k := 0
	for _, n := range free {
		if k >= leastFree && n == analysis.BallSpeed {
			break // the ball follows from the club: balls alike in one are in the other
		}
		if slices.ContainsFunc(which, func(i int) bool { return !shots[i].Measured(n) }) {
			continue
		}
		k++
		share(pairs, func(i int) float64 { v, _ := shots[i].Value(n); return v })
	}
	if k < leastFree {
		return nil
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.unlike, b.unlike) })
	gamma, taken := spread(pairs, k), map[int]bool{}
	var sure int
	for _, p := range pairs {
		chance := gamma.Survival(-p.unlike) * float64(len(pairs))
		if chance > twinsAt[len(twinsAt)-1] {
			break
		}
		if taken[p.i] || taken[p.j] {
			continue
		}
		taken[p.i], taken[p.j] = true, true
		at = append(at, p.j)
		if n := len(at); chance <= twinsAt[min(n, len(twinsAt))-1] {
			sure = n
		}
	}
	return at[:sure]
}

// spread is how minus the logarithm of the product is distributed over pairs, the
// most alike first: of k independent shares a gamma variable of k, and of others one
// of the same mean and wider (Brown 1975, Biometrics 31:987 [M]), by the tenth of
// the pairs that is most alike, of which a few twins are little.
func spread(pairs []pair, k int) distuv.Gamma {
	mean, tenth := float64(k), -pairs[len(pairs)/10].unlike
	low, high := mean/8, mean // of the shape
	for range 40 {
		if mid := (low + high) / 2; (distuv.Gamma{Alpha: mid, Beta: mid / mean}).Quantile(0.9) > tenth {
			low = mid
		} else {
			high = mid
		}
	}
	return distuv.Gamma{Alpha: high, Beta: high / mean}
}

// share adds to each pair the logarithm of the share of all pairs that are as near
// in a number.
func share(pairs []pair, value func(i int) float64) {
	for k := range pairs {
		pairs[k].far = math.Abs(value(pairs[k].i) - value(pairs[k].j))
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.far, b.far) })
	for from := 0; from < len(pairs); {
		to := from
		for to < len(pairs) && pairs[to].far-pairs[from].far < 1e-9 {
			to++
		}
		for k := from; k < to; k++ {
			pairs[k].unlike += math.Log(float64(to) / float64(len(pairs)))
		}
		from = to
	}
}
