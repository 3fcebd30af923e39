package analysis

import "math"

// Pooled is what a setup tool does to one number over several golfers, in a
// right-hander's hands (Tool.Mirror).
type Pooled struct {
	Club      Club
	Tool      Tool
	Number    Number
	Golfers   int
	Trials    int     // of theirs, in all
	Mean      float64 // of the golfers' effects, SI
	Low, High float64 // 95 % limits of that mean
	Between   float64 // how far golfers differ: the standard deviation of their effects, as expected
	Within    float64 // how far an effect differs from trial to trial of one golfer, likewise
	NewLow    float64 // 95 % prediction limits of the effect on a golfer who is not among them
	NewHigh   float64
}

// Grounds are what an expectation of a tool rests on.
type Grounds string

// The grounds, the weakest first.
const (
	CommonPractice Grounds = "common_practice" // what the trade expects (Tool.Usual)
	CoachStudents  Grounds = "coach_students"  // what it does to the golfer's coach's students
	OwnTrials      Grounds = "own_trials"      // what it did in the golfer's own trials
)

// Coarse are the figures as they may be told of people: in steps of half a degree,
// half a metre a second or two millimetres, limits to the wider side.
func (p Pooled) Coarse() Pooled {
	step := 0.5 * Degree
	switch p.Number.Info().Kind {
	case Angle:
	case Speed:
		step = 0.5
	case Small:
		step = 2 * Millimetre
	default:
		step = (p.Number.Info().Most - p.Number.Info().Least) / 100
	}
	for _, x := range []*float64{&p.Mean, &p.Between, &p.Within} {
		*x = step * math.Round(*x/step)
	}
	for _, x := range []*float64{&p.Low, &p.NewLow} {
		*x = step * math.Floor(*x/step)
	}
	for _, x := range []*float64{&p.High, &p.NewHigh} {
		*x = step * math.Ceil(*x/step)
	}
	return p
}
