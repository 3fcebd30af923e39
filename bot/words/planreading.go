package words

import (
	"fmt"
	"strings"

	"rangepost/analysis/plan"
)

// PlanReading says one way to take the balls of a file: "6 warm-up balls first,
// stopped after turn 10".
func PlanReading(r plan.Reading) string {
	var parts []string
	for _, p := range r.Parts {
		parts = append(parts, planPart(p))
	}
	return strings.Join(parts, ", ")
}

// PlanTaken says how a file's balls were taken without asking, and where it was
// their count that decided.
func PlanTaken(r plan.Reading) string {
	taken := "Taken as: " + PlanReading(r)
	if r.OnTrust() {
		return taken + "; the figures alone do not show it, so say if a turn was left out or hit twice."
	}
	return taken + "."
}

func planPart(p plan.Part) string {
	turn := "a turn"
	if p.Turn > 0 {
		turn = fmt.Sprintf("turn %d", p.Turn)
	}
	balls := "some balls"
	if p.Balls > 0 || p.What == plan.Short || p.What == plan.More {
		balls = Count(max(1, p.Balls), "ball")
	}
	switch p.What {
	case plan.Whole:
		return "all of the visit, as the card says"
	case plan.Labels:
		return "as labelled by hand"
	case plan.Again:
		return balls + " posted before"
	case plan.Full:
		return "nothing of the card is left to hit"
	case plan.Missed:
		return "the device missed " + balls
	case plan.Later:
		return "begun with " + turn
	case plan.Finish:
		return balls + " first that finish " + turn
	case plan.Warm:
		return strings.Replace(balls, "ball", "warm-up ball", 1) + " first"
	case plan.Skipped:
		return turn + " skipped"
	case plan.Twice:
		return turn + " hit twice"
	case plan.More:
		return balls + " too many in " + turn
	case plan.Short:
		return balls + " too few in " + turn
	case plan.After:
		return balls + " after the end"
	case plan.Stopped:
		switch {
		case p.Turn == 0 && p.Balls == 0:
			return "stopped early"
		case p.Balls > 0:
			return fmt.Sprintf("stopped after %s of turn %d", balls, p.Turn+1)
		}
		return fmt.Sprintf("stopped after turn %d", p.Turn)
	}
	return "not this plan"
}

// PlanAsks asks which balls of a file are which of the card's.
func (v Voice) PlanAsks(p plan.Plan, balls int) string {
	return fmt.Sprintf("A plan is under way (%s), and %s do not settle by themselves which turns they are. What happened?", v.PlanAbout(p), Count(balls, "ball"))
}
