package plan

import (
	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Balls is how many the card asks for, of all sets.
func (p Plan) Balls() int {
	sum := 0
	for _, t := range p.Turns {
		sum += t.Balls
	}
	return sum
}

// Blocks is how many blocks the card has.
func (p Plan) Blocks() int {
	most := 0
	for _, t := range p.Turns {
		most = max(most, t.Block+1)
	}
	return most
}

// Visits is how many visits the card is laid out for.
func (p Plan) Visits() int {
	most := 0
	for _, t := range p.Turns {
		most = max(most, t.Visit+1)
	}
	return most
}

// turn is how many balls a turn of the card usually has.
func (p Plan) turn() int {
	if len(p.Turns) == 0 {
		return leastTurn
	}
	return max(1, (2*p.Balls()+len(p.Turns))/(2*len(p.Turns)))
}

// rowsASet is how many numbers are compared for each set that is tried.
func rowsASet() int { return len(trial.DefaultNumbers()) }

// The codes of a plan's warnings.
const (
	ManyBalls    = "plan_many_balls"    // Count balls in all are a lot to hit for one answer
	WeakPlan     = "plan_weak"          // the card shows the change that matters in fewer than half of such plans
	UsualScatter = "plan_usual_scatter" // worked out with what is usual for golfers: this golfer's own balls may ask for more or fewer
)

// manyBalls is what a golfer is warned of: three visits (common practice, no
// source).
const manyBalls = 3 * mostAVisit

// Warnings are what whoever sets the plan should know beforehand.
func (p Plan) Warnings() []analysis.Warning {
	var all []analysis.Warning
	if balls := p.Balls(); balls > manyBalls {
		all = append(all, analysis.Warning{Code: ManyBalls, Count: balls, Number: p.Number})
	}
	if p.Power < 0.5 {
		all = append(all, analysis.Warning{Code: WeakPlan, Number: p.Number})
	}
	if p.Own == 0 {
		all = append(all, analysis.Warning{Code: UsualScatter, Number: p.Number})
	}
	return all
}

// FixedASet is how many balls a set a labelled trial of one look would have
// wanted for the same change.
func (p Plan) FixedASet() int { return fixedASet(p.Change/p.SD, len(p.Labels)) }
