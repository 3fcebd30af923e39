package words

import (
	"time"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
)

// PlanFound says what a plan that is over is worth besides its number of interest:
// what else moved, what the path did about the face or the face about the path,
// and what to do next. misses are where the middle of each set finished, m.
func (v Voice) PlanFound(p plan.Plan, status plan.Status, r trial.Result, misses []float64) (lines []string) {
	for set := 1; set < len(r.Sets); set++ {
		var also []string
		for _, row := range r.Rows {
			if row.Set == set && row.Verdict == trial.Moved && row.Number != p.Number && row.Number != analysis.FaceToPath && len(also) < 3 {
				also = append(also, v.row(row))
			}
		}
		if len(also) > 0 {
			lines = append(lines, "With it moved in "+v.planLabel(p, set)+": "+list(also, "and")+".")
		}
		if undone := v.Cancelled(r, set); undone != "" {
			lines = append(lines, "In "+v.planLabel(p, set)+" "+undone+".")
		}
	}
	return append(lines, v.planKeep(p, status, r, misses))
}

// planKeep says what to do with what a plan found of its first set.
func (v Voice) planKeep(p plan.Plan, status plan.Status, r trial.Result, misses []float64) string {
	lateral, _ := find(r, 1, analysis.Lateral)
	switch {
	case status == plan.Held:
		return "Next: try something else; this does not change the " + p.Number.Short() + "."
	case status == plan.Futile:
		return "Next: try something that changes more; this may be too little for anybody to see."
	case lateral.Verdict == trial.Moved && len(misses) > 1:
		return v.nextTrial(r, misses)
	}
	return "Next: keep it for a few sessions and see where the balls go. Looked at after every visit, a plan asks more than a comparison before it says that they finish elsewhere."
}

// PlanSettled says in a few words how a plan ended: "plan settled: the stronger
// grip closed the face 2.2°".
func (v Voice) PlanSettled(status plan.Status, found *analysis.TrialGist) string {
	text := map[plan.Status]string{
		plan.Moved: "plan settled", plan.Held: "plan settled, nothing that matters", plan.Futile: "plan over, no answer in its balls",
	}[status]
	if found == nil || status == plan.Held {
		return text
	}
	return text + ": " + v.TrialFound(*found)
}

// PlanStuck says that nothing was hit for a plan for a while: "plan of 9 June not
// begun", "nothing hit for the plan since 9 June".
func PlanStuck(begun bool, since time.Time) string {
	if !begun {
		return "plan of " + shortDate(since) + " not begun"
	}
	return "nothing hit for the plan since " + shortDate(since)
}
