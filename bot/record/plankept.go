package record

import (
	"context"
	"math"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
	"rangepost/store"
)

// Brief is the brief that keeps what a plan moved: its number about where the set
// that moved it most has it. ok is false where nothing moved.
func (p Plan) Brief() (b analysis.Brief, ok bool) {
	set := 0
	var best trial.Row
	for i := 1; i < len(p.Card.Labels); i++ {
		if row, found := p.row(i); found && row.Verdict == trial.Moved && (set == 0 || abs(row.Difference) > abs(best.Difference)) {
			set, best = i, row
		}
	}
	if set == 0 {
		return b, false
	}
	var values []float64
	for _, placed := range p.Placed {
		for i, turn := range placed.Turn {
			shot := placed.Session.Shots[i]
			if x, has := shot.Value(p.Card.Number); has && turn != plan.Nowhere && p.Card.Turns[turn].Set == set && shot.Aside == analysis.Used {
				values = append(values, x)
			}
		}
	}
	e := stat.Mean(values)
	if !e.OK {
		return b, false
	}
	// To halves of what a golfer would care about, so that it can be said.
	step := trial.PracticalZero(p.Card.Number, e.Mean, 0) / 2
	low, high := step*math.Floor((e.Mean-e.SD)/step), step*math.Ceil((e.Mean+e.SD)/step)
	return analysis.Brief{Number: p.Card.Number, Low: &low, High: &high, Club: p.Card.Club, Label: p.Card.Labels[set], Balls: analysis.UsualBalls}, true
}

func abs(x float64) float64 { return max(x, -x) }

// KeepPlan marks on a student's timeline that what a plan moved is kept.
func (rs *Records) KeepPlan(ctx context.Context, p Plan, by, note string) error {
	_, err := rs.db.AddLesson(ctx, store.Lesson{Server: p.Server, Student: p.Student, Coach: by, Lesson: analysis.Lesson{Note: note}})
	return err
}
