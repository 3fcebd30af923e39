package words

import (
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
)

// PlanAbout says what a plan compares: "7-iron, as usual against "stronger grip":
// the face".
func (v Voice) PlanAbout(p plan.Plan) string {
	return p.Club.String() + ", " + v.planSets(p) + ": the " + p.Number.Short()
}

func (v Voice) planSets(p plan.Plan) string {
	var others []string
	for _, l := range p.Labels[1:] {
		others = append(others, v.Quote(l))
	}
	return p.Labels[0] + " against " + list(others, "and")
}

// PlanShows says what a card's balls will show, and what that is reckoned from.
func (v Voice) PlanShows(p plan.Plan) string {
	rests := "That is reckoned from what is usual for golfers; earlier sessions would tell it better."
	if p.Own > 0 {
		rests = "That is reckoned from " + Count(p.Own, "ball") + " of earlier sessions."
	}
	return fmt.Sprintf("At most %s of each, fewer if it settles before: if it changes the %s by %s, that shows in about %s. %s",
		Count(p.BallsASet, "ball"), p.Number.Short(), v.planChange(p), inTen(p.Power), rests)
}

// planChange says the change a plan is after: "2.0°".
func (v Voice) planChange(p plan.Plan) string {
	return v.amount(p.Number.Info().Kind, p.Change, alone)
}

// inTen says a chance as a share of ten: "8 of 10 trials".
func inTen(chance float64) string {
	n := int(chance*10 + 0.5)
	return fmt.Sprintf("%d of 10 trials", min(9, max(1, n)))
}

// PlanTurns says whose turn each ball is from a turn on, a line a visit, counted
// from the visit's first ball: "Visit 1: balls 1-6 as usual, 7-12 "stronger
// grip"".
func (v Voice) PlanTurns(p plan.Plan, from int) (lines []string) {
	for first := from; first < len(p.Turns); {
		visit := p.Turns[first].Visit
		var pieces []string
		ball, i := 0, first
		for ; i < len(p.Turns) && p.Turns[i].Visit == visit; i++ {
			pieces = append(pieces, fmt.Sprintf("%d-%d %s", ball+1, ball+p.Turns[i].Balls, v.planLabel(p, p.Turns[i].Set)))
			ball += p.Turns[i].Balls
		}
		head := "Balls "
		if p.Turns[len(p.Turns)-1].Visit > 0 {
			head = fmt.Sprintf("Visit %d: balls ", visit+1)
		}
		lines = append(lines, head+strings.Join(pieces, ", ")+".")
		first = i
	}
	return lines
}

// planLabel echoes the label of a set: the usual one as we call it, others in
// quotation marks.
func (v Voice) planLabel(p plan.Plan, set int) string {
	if set == 0 {
		return p.Labels[0]
	}
	return v.Quote(p.Labels[set])
}

// PlanRules says how a card is hit.
func PlanRules() string {
	return "Warm up first, then hit each visit as one file. A mishit counts as a ball of its turn and is not hit again. Stop when you like: I ask where you stopped."
}

// PlanCautions is what to know before a card of many balls is hit.
func (v Voice) PlanCautions(p plan.Plan) []string {
	lines := v.Caveats(slices.DeleteFunc(p.Warnings(), func(w analysis.Warning) bool { return w.Code == plan.UsualScatter })) // PlanShows says that
	if p.Balls() > fullSwings {
		lines = append(lines, "Warm up before each visit, rest between turns, and leave days between the visits.", Aid)
	}
	return lines
}

// PlanStands says how a plan stands: what moved and what is known of the rest,
// and while it goes on how far it is and what comes next.
func (v Voice) PlanStands(p plan.Plan, r plan.Result, next int) (lines []string) {
	head := map[plan.Status]string{
		plan.Moved:  "The plan is settled",
		plan.Held:   "The plan is settled",
		plan.Futile: "The plan is over: its other balls would hardly tell",
		plan.Going:  fmt.Sprintf("Turn %d of %d is hit", next, len(p.Turns)),
	}[r.Status]
	if next == 0 {
		head = "Nothing of the plan is hit yet"
	}
	var says []string
	for set := 1; set < len(p.Labels); set++ {
		if text := v.planSet(p, r, set); text != "" {
			says = append(says, text)
		}
	}
	if len(says) > 0 {
		head += ": " + strings.Join(says, "; ")
	}
	lines = append(lines, head+".")
	if r.Status == plan.Going {
		lines = append(lines, v.planNext(p, r, next)...)
	}
	return lines
}

// planSet says what is known of one set's number of interest.
func (v Voice) planSet(p plan.Plan, r plan.Result, set int) string {
	row, ok := planRow(r, set, p.Number)
	if !ok {
		return ""
	}
	half := v.half(p.Number.Info().Kind, row.Low, row.High, row.OK)
	with := "with " + v.planLabel(p, set) + " the " + p.Number.Short() + " "
	switch {
	case row.Verdict == trial.Moved || row.Verdict == trial.MovedLittle:
		return with + "went " + v.change(p.Number, row.Difference, half) + v.changeBracket(p.Number, row.Low, row.High)
	case row.Verdict == trial.Held:
		return with + "does not change by " + v.planChange(p) + " or more"
	case !row.OK:
		return "too little to say anything yet"
	}
	return with + "may have changed or not: " + v.ChangeLimits(p.Number, row.Low, row.High)
}

func planRow(r plan.Result, set int, n analysis.Number) (trial.Row, bool) {
	for _, row := range r.Rows {
		if row.Set == set && row.Number == n {
			return row, true
		}
	}
	return trial.Row{}, false
}

// planNext says what is to be hit next, and how many balls more are likely.
func (v Voice) planNext(p plan.Plan, r plan.Result, next int) (lines []string) {
	if next >= len(p.Turns) {
		return []string{"Every turn of the card is hit, and its balls do not settle it."}
	}
	if r.MoreBalls > 0 && next > 0 {
		lines = append(lines, "About "+Count(r.MoreBalls, "more ball")+" of each are likely to settle it.")
	}
	t := p.Turns[next]
	return append(lines, fmt.Sprintf("Next: turn %d, %s %s.", next+1, Count(t.Balls, "ball"), v.planLabel(p, t.Set)))
}

// PlanTitle is how a plan stands, for the head of its picture.
func (v Voice) PlanTitle(p plan.Plan, r plan.Result, next int) string {
	switch {
	case r.Status == plan.Futile:
		return "The plan is over"
	case r.Status != plan.Going:
		return "The plan is settled"
	case next == 0:
		return "The plan, turn by turn"
	}
	return fmt.Sprintf("Turn %d of %d is hit", next, len(p.Turns))
}
