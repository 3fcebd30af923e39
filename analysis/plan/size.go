package plan

import (
	"math"

	"rangepost/analysis/stat"
)

const (
	// alpha is the chance of any false "moved" in a plan, all its numbers and
	// sets together, and of a false "held" in the number of interest.
	alpha = 0.05

	// wanted is the chance a plan asks for of showing the change that matters.
	wanted = 0.8

	// A turn of fewer than three balls says little for the walk between the
	// setups; after six the setup is no longer made anew often enough to tell
	// it from the day. Fewer than eight blocks settle nothing but the very
	// large. Common practice, no source.
	leastTurn, mostTurn = 3, 6
	leastBlocks         = 8
	usualBlocks         = 25

	// mostAVisit is how many balls are hit for a plan in one visit; mostVisits
	// how often a golfer comes back for it (common practice, no source).
	mostAVisit = 60
	mostVisits = 5
)

// mostASet is the most balls a set that a plan asks for.
func mostASet(sets int) int { return mostAVisit * mostVisits / sets }

// fixedASet is how many balls a set a trial of one look, at the level of one of
// its rows, needs to show a true change of d standard deviations four times in
// five: the same reckoning as a labelled trial's.
func fixedASet(d float64, sets int) int {
	level := alpha / float64((sets-1)*rowsASet())
	low, high := 2, mostASet(sets)
	for low < high {
		mid := (low + high) / 2
		if stat.NewBehrensFisherPower(mid, mid, level).Of(d) >= wanted {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

// size is how many blocks of how many balls a turn show a true change of d
// standard deviations of a ball four times in five when they are looked at after
// every block, and how often they do. One that may be looked at at any time wants
// about two thirds more balls than the trial of one look, of which it spends
// fewer the larger the change is.
func size(d float64, sets int) (blocks, turn int, power float64) {
	most := mostASet(sets)
	for balls := fixedASet(d, sets); ; balls = min(most, balls+1+balls/20) {
		blocks, turn = shape(balls, sets)
		power = chanceToShow(d*math.Sqrt(float64(turn)/2), blocks, sets-1)
		if power >= wanted || balls == most {
			return blocks, turn, power
		}
	}
}

// shape is how many blocks of how many balls a turn hold so many balls a set: as
// many blocks as are not tiresome, since what tells is how often the setup was
// made anew and not only how many balls were hit.
func shape(balls, sets int) (blocks, turn int) {
	turn = min(mostTurn, max(leastTurn, ceil(balls, usualBlocks)))
	return max(leastBlocks, min(ceil(balls, turn), mostASet(sets)/turn)), turn
}

func ceil(a, b int) int { return (a + b - 1) / b }
