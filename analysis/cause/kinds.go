package cause

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// kinds are two kinds of swing by one of their numbers: how far the mean of the
// other and the mean of all are from the better one, which is taken for the usual,
// and how likely it is that one of those is the usual instead.
type kinds struct{ other, all, ofOther, ofAll float64 }

// draw draws how far the usual is from the better kind.
func (k kinds) draw(rng *rand.Rand) float64 {
	switch {
	case rng.Float64() < k.ofAll:
		return k.all
	case rng.Float64() < k.ofOther:
		return k.other
	}
	return 0
}

// otherMeant is how likely the kind that carries further from the target is the one
// that was meant: what a club's distance and a day's carry differ by from the
// usual leaves open.
func otherMeant(better, other, target float64) float64 {
	sd := math.Hypot(usualClub, usualCarry) * target
	this, that := usual((better-target)/sd), usual((other-target)/sd)
	return that / (this + that)
}

// golfersDiffer is by how much golfers differ in how widely one of them strikes it,
// a standard deviation of its logarithm (our choice).
const golfersDiffer = 0.15

// oneKind is how likely strikes that vary so many times as widely as one golfer's
// mostly do are of one kind all the same. Off the middle of the face a ball only
// loses speed, so that one golfer's strikes are a lot of good ones and a few weak
// ones, which looks like two kinds; and how widely few balls vary is told roughly.
func oneKind(wide float64, balls int) float64 {
	told := 1 / math.Sqrt(2*float64(balls-1)) // of the logarithm of a standard deviation [M]
	return distuv.UnitNormal.Survival(math.Log(wide) / math.Hypot(golfersDiffer, told))
}

// better splits balls in two by one of their numbers, where the two groups
// differ most from each other (Fisher 1958, J. Am. Stat. Assoc. 53:789 [M]), and
// returns the mean of the group that carries nearer the target, and the other's.
func better(fliers []flier, of func(flier) float64, target float64) (this, that flier) {
	sorted := slices.Clone(fliers)
	slices.SortStableFunc(sorted, func(a, b flier) int {
		switch x, y := of(a), of(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	best, at := math.Inf(-1), 1
	for i := 2; i <= len(sorted)-2; i++ {
		low, high := meanOf(sorted[:i]), meanOf(sorted[i:])
		apart := of(high) - of(low)
		if between := float64(i*(len(sorted)-i)) * apart * apart; between > best {
			best, at = between, i
		}
	}
	low, high := meanOf(sorted[:at]), meanOf(sorted[at:])
	if math.Abs(low.carry-target) < math.Abs(high.carry-target) {
		return low, high
	}
	return high, low
}
