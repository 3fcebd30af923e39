package words

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// The head of a trial's picture says the yards first, then what took the balls
// there: of face and path, the one that sends them that way.
func TestTrialTitle(t *testing.T) {
	row := func(set int, n analysis.Number, d float64, verdict trial.Verdict) trial.Row {
		half := d / 4
		return trial.Row{Set: set, Number: n, OK: true, Difference: d, Low: d - max(half, -half), High: d + max(half, -half), Verdict: verdict}
	}
	deg, yard := analysis.Degree, analysis.Yard
	sets := []trial.Side{{Label: "normal"}, {Label: "strong grip"}}
	for _, c := range []struct {
		want string
		sets []trial.Side
		rows []trial.Row
	}{
		{"10 yards further left: face 2.1° further left", sets, []trial.Row{
			row(1, analysis.Lateral, -10*yard, trial.Moved), row(1, analysis.Face, -2.1*deg, trial.Moved), row(1, analysis.Path, .2*deg, trial.CannotTell)}},
		{"10 yards further left: face 2.1° and path 3.1° further left", sets, []trial.Row{
			row(1, analysis.Lateral, -10*yard, trial.Moved), row(1, analysis.Face, -2.1*deg, trial.Moved), row(1, analysis.Path, -3.1*deg, trial.Moved)}},
		{"8 yards further left: path 3.1° further right", sets, []trial.Row{
			row(1, analysis.Lateral, -8*yard, trial.Moved), row(1, analysis.Face, .1*deg, trial.Held), row(1, analysis.Path, 3.1*deg, trial.Moved)}},
		{"8 yards further left, face 1.5° further right", sets, []trial.Row{ // which is not why
			row(1, analysis.Lateral, -8*yard, trial.Moved), row(1, analysis.Face, 1.5*deg, trial.Moved)}},
		{"8 yards further left: why cannot be told", sets, []trial.Row{
			row(1, analysis.Lateral, -8*yard, trial.Moved), row(1, analysis.Face, -1.5*deg, trial.CannotTell)}},
		{"Same finish: face 2.1° and path 3.1° further left", sets, []trial.Row{
			row(1, analysis.Lateral, -1*yard, trial.Held), row(1, analysis.Face, -2.1*deg, trial.Moved), row(1, analysis.Path, -3.1*deg, trial.Moved)}},
		{"Face 2.1° further left, path 3.1° further right", sets, []trial.Row{
			row(1, analysis.Lateral, -1*yard, trial.CannotTell), row(1, analysis.Face, -2.1*deg, trial.Moved), row(1, analysis.Path, 3.1*deg, trial.Moved)}},
		{"Moved: attack angle", sets, []trial.Row{
			row(1, analysis.Lateral, -1*yard, trial.CannotTell), row(1, analysis.Attack, -2.1*deg, trial.Moved)}},
		{"\"strong grip\": 8 yards further left: why cannot be told", append(sets[:2:2], trial.Side{Label: "ball back"}), []trial.Row{
			row(1, analysis.Lateral, -8*yard, trial.Moved), row(2, analysis.Lateral, 1*yard, trial.Held)}},
		{"Moved: sideways finish and face", append(sets[:2:2], trial.Side{Label: "ball back"}), []trial.Row{
			row(1, analysis.Lateral, -8*yard, trial.Moved), row(2, analysis.Face, 3*deg, trial.Moved)}},
	} {
		if got := (Voice{Plain: true}).TrialTitle(trial.Result{Sets: c.sets, Rows: c.rows}); got != c.want {
			t.Errorf("title %q, want %q", got, c.want)
		}
	}
}
