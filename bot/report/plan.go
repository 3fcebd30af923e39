package report

import (
	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// JudgeSchema names the JSON document of a judged plan; its number changes only
// if a key changes meaning or goes.
const JudgeSchema = "rangepost.judge/1"

// A Judged plan is a card with files that were hit for it.
type Judged struct {
	Card   plan.Plan
	Files  []JudgedFile
	Visits []plan.Placed // those that found their places, in the order they were hit
	Result plan.Result
	Trial  *trial.Result // the sets compared, with the plan's own limits; nil while there is nothing to compare
	Voice  words.Voice
}

// A JudgedFile is one file: the set of each ball, or what has to be asked first.
type JudgedFile struct {
	Name     string
	Reading  plan.Reading // how its balls were taken; of one that was answered the key alone
	Sets     []string     // of each ball, "" for none of the card's
	Question *analysis.Question
}

// Judge judges a card by the files that found their places on it.
func (j *Judged) Judge(w plan.Worths) (err error) {
	if j.Result, err = j.Card.Judge(j.Visits, w); err != nil {
		return err
	}
	compared, ok, err := j.Card.Trial(j.Visits, w)
	if ok {
		compared.Rows = j.Result.Rows
		j.Trial = &compared
	}
	return err
}

// Misses are where the middle of each set's balls finished sideways, m, by its
// index in the card's labels; nil while a set has none.
func Misses(card plan.Plan, visits []plan.Placed) []float64 {
	sums, n := make([]float64, len(card.Labels)), make([]float64, len(card.Labels))
	for _, placed := range visits {
		for i, turn := range placed.Turn {
			shot := placed.Session.Shots[i]
			if x, ok := shot.Value(analysis.Lateral); ok && turn != plan.Nowhere && shot.Aside == analysis.Used {
				set := card.Turns[turn].Set
				sums[set], n[set] = sums[set]+x, n[set]+1
			}
		}
	}
	for set := range sums {
		if n[set] == 0 {
			return nil
		}
		sums[set] /= n[set]
	}
	return sums
}

// Next is the first turn of a card nothing was hit of, how many there are where
// all were.
func Next(visits []plan.Placed) (next int) {
	for _, placed := range visits {
		for _, turn := range placed.Turn {
			next = max(next, turn+1)
		}
	}
	return next
}

// Sentences are what a plan says, free of markup.
func (j Judged) Sentences() []string {
	v := j.Voice
	v.Plain = true
	lines := v.PlanStands(j.Card, j.Result, Next(j.Visits))
	if j.Result.Status != plan.Going && j.Trial != nil {
		lines = append(lines, v.PlanFound(j.Card, j.Result.Status, *j.Trial, Misses(j.Card, j.Visits))...)
	}
	return lines
}

// JSON is the judged plan as one object, in the units of Report.JSON.
func (j Judged) JSON() ([]byte, error) {
	assigned := make([]object, 0, len(j.Files))
	for _, f := range j.Files {
		sets := make([]any, 0, len(f.Sets))
		for _, label := range f.Sets {
			if label == "" {
				sets = append(sets, nil)
				continue
			}
			sets = append(sets, label)
		}
		var question any
		if q := f.Question; q != nil {
			var choices []object
			for _, c := range q.Choices {
				choices = append(choices, object{{"value", c.Value}, {"text", c.Text}})
			}
			question = object{{"key", q.Key}, {"text", q.Text}, {"choices", choices}}
		}
		assigned = append(assigned, object{{"file", f.Name}, {"reading", f.Reading.Key}, {"on_trust", f.Reading.OnTrust()}, {"sets", sets}, {"question", question}})
	}
	rows, compensation := []object{}, []object{}
	if j.Trial != nil {
		v := j.Voice
		v.Plain = true
		rows, compensation = rowObjects(*j.Trial), compensationObjects(v, *j.Trial)
	}
	return indent(object{
		{"schema", JudgeSchema},
		{"status", string(j.Result.Status)},
		{"turns_hit", Next(j.Visits)},
		{"blocks", j.Result.Blocks},
		{"ended_with_block", j.Result.Ended},
		{"more_balls", j.Result.MoreBalls},
		{"chance_of_an_answer", figure(j.Result.Chance, 1)},
		{"assigned", assigned},
		{"rows", rows},
		{"compensation", compensation},
		{"sentences", orEmpty(j.Sentences())},
	})
}
