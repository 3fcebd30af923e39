package words

import (
	"fmt"
	"strings"
	"time"

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
	rests := "That is reckoned from what is usual for golfers; this golfer's own balls will tell it better."
	if p.Own > 0 {
		rests = "That is reckoned from " + Count(p.Own, "ball") + " of this golfer's own."
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

// PlanReading says one way to take the balls of a file: "6 warm-up balls first,
// stopped after turn 10".
func PlanReading(r plan.Reading) string {
	var parts []string
	for _, p := range r.Parts {
		parts = append(parts, planPart(p))
	}
	return strings.Join(parts, ", ")
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
	return "Next: keep it for a few sessions and see where the balls go; that they finish elsewhere is not known yet."
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

// ClaimAsked asks what a claim means for the club.
func (v Voice) ClaimAsked(p plan.Plan, claim string) string {
	return "The claim: " + v.Note(claim) + ". If it is so, which way does the " + p.Number.Short() + " go with " + v.planLabel(p, 1) + "?"
}

// ClaimMeans says a claim as what the club has to do if it is so.
func (v Voice) ClaimMeans(p plan.Plan, claim string, way int) string {
	return "The claim: " + v.Note(claim) + ". If it is so, with " + v.planLabel(p, 1) + " the " + p.Number.Short() + " goes " + v.way(p.Number, way) + "."
}

// ClaimAnswered answers a claim in its own words.
func (v Voice) ClaimAnswered(p plan.Plan, claim string, way int, held, told bool) string {
	says := "These balls cannot tell whether the " + p.Number.Short() + " goes " + v.way(p.Number, way)
	switch {
	case told && held:
		says = "What it asks of the club happens: the " + p.Number.Short() + " goes " + v.way(p.Number, way) + "; why, the club does not tell"
	case told:
		says = "What it asks of the club does not happen: the " + p.Number.Short() + " does not go " + v.way(p.Number, way)
	}
	return "The claim: " + v.Note(claim) + ". " + says + "."
}

// way is the word for a change up or down.
func (v Voice) way(n analysis.Number, way int) string {
	lower, higher := n.Changes(v.Hand)
	if way < 0 {
		return lower
	}
	return higher
}

// Forecasts says how good somebody's forecasts were: Brier's score (1950, Monthly
// Weather Review 78:1), a mean squared error.
func Forecasts(n int, score float64) string {
	return fmt.Sprintf("Of your %s so far the score is %.2f: 0 is perfect, 0.25 is saying 50 %% each time.", Count(n, "forecast"), score)
}
