package cause

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"rangepost/analysis"
	"rangepost/analysis/ball"
)

// A Goal is the flight that is wanted; NaN is a number that may be what it
// comes to. Lateral follows from the others and is not asked for.
type Goal = ball.Flight

// A Need is the delivery that gives a flight, as a change of the usual one.
type Need struct {
	OK     bool // found within what a golfer can do
	Move   Move
	Others []Move // the same in each model that may be true as well

	// By is the change of each number of the club's that has to move, and To
	// what it has to come to, with 95 % limits; N is 0 for one that stays.
	By, To [analysis.NumNumbers]analysis.Estimate

	Flight ball.Flight // what it gives
}

// The most that a delivery may be asked to move (our choice): beyond it the
// model means little and no golfer follows.
const (
	mostTurn   = 25 * analysis.Degree
	mostLoft   = 25 * analysis.Degree
	mostSpeed  = 0.5 // of the usual one
	mostFaster = 0.12
)

// knob is a number of the delivery that a goal is met with.
type knob struct {
	n    analysis.Number
	of   func(m *Move) *float64
	step float64
	most float64
}

// MoveDoubt is how far off what a change of a number brings about may be beyond
// what the sources leave open, as a fraction of the change: what our model misses
// by in worlds of other physics (testdata/asked-study.md says which were looked at).
func MoveDoubt(n analysis.Number) float64 {
	switch n {
	case analysis.ClubSpeed, analysis.DynamicLoft:
		return 0.12
	}
	return 0.05
}

// knobs are what moves and which numbers of the flight it has to bring about:
// face and path together for start and curve, loft for height, speed for carry. A
// wedge flies as high with less loft, farther; then it is speed for height too.
func (s *Swing) knobs(g Goal, bySpeed bool) (ks []knob, asked []int) {
	const step = 0.5 * analysis.Degree
	if !math.IsNaN(g.Start) || !math.IsNaN(g.Curve) {
		ks = append(ks,
			knob{analysis.Face, func(m *Move) *float64 { return &m.Face }, step, mostTurn},
			knob{analysis.Path, func(m *Move) *float64 { return &m.Path }, step, mostTurn})
		asked = append(asked, 0, 1)
	}
	if !math.IsNaN(g.Apex) && bySpeed && math.IsNaN(g.Carry) {
		ks = append(ks, s.speedKnob())
		asked = append(asked, 2)
	} else if !math.IsNaN(g.Apex) {
		ks = append(ks, knob{analysis.DynamicLoft, func(m *Move) *float64 { return &m.DynamicLoft }, step, mostLoft})
		asked = append(asked, 2)
	}
	if !math.IsNaN(g.Carry) {
		ks = append(ks, s.speedKnob())
		asked = append(asked, 3)
	}
	return ks, asked
}

func (s *Swing) speedKnob() knob {
	return knob{analysis.ClubSpeed, func(m *Move) *float64 { return &m.ClubSpeed }, 0.01 * s.Usual.ClubSpeed, mostSpeed * s.Usual.ClubSpeed}
}

// answer is the move that gives a goal in the standard model, the knobs it was
// found with and the slopes there.
func (s *Swing) answer(g Goal) (move Move, jacobian *mat.Dense, ks []knob, asked []int, ok bool) {
	g = s.whole(g)
	standard := possible{s.standard, s.own}
	for _, bySpeed := range []bool{false, true} {
		if ks, asked = s.knobs(g, bySpeed); !s.OK || len(ks) == 0 {
			return move, nil, ks, asked, false
		}
		move, jacobian, ok = s.solve(&standard, g, Move{}, ks, asked, solveSteps)
		if wrongWay := move.DynamicLoft*(g.Apex-s.Flight.Apex) < 0; ok && !wrongWay || math.IsNaN(g.Apex) || !math.IsNaN(g.Carry) {
			break
		}
	}
	return move, jacobian, ks, asked, ok && move.ClubSpeed <= mostFaster*s.Usual.ClubSpeed
}

// Reach is the delivery that gives a flight: with the usual attack and strike,
// and every number that nothing is asked of as it is. Start or curve alone leave
// the other as it is.
func (s *Swing) Reach(g Goal) (need Need) {
	move, jacobian, ks, asked, ok := s.answer(g)
	if !ok {
		return need
	}
	g = s.whole(g)
	need.OK, need.Move = true, move
	need.Flight = s.Flight.Plus(s.gives(&s.standard, s.own, move))

	// What another model that may be true would have asked for.
	models := make([]spread, len(ks))
	turn := spread{}
	for i := range s.models {
		other, _, ok := s.solve(&s.models[i], g, move, ks, asked, 1)
		if !ok {
			other = move
		}
		need.Others = append(need.Others, other)
		for k, knob := range ks {
			models[k].add(*knob.of(&other) - *knob.of(&move))
		}
		turn.add(other.Face - other.Path - move.Face + move.Path)
	}

	// And what the balls leave open of where it starts from: each ball is moved
	// by what it itself is off.
	by, to := s.rows(jacobian, ks, asked)
	for k, knob := range ks {
		at := *knob.of(&move)
		off := math.Hypot(models[k].root(), s.flownOff(jacobian, k, asked))
		off = math.Hypot(off, MoveDoubt(knob.n)*at)
		need.By[knob.n] = s.estimate(by[k], at, off)
		common := 0.0
		if k < len(s.inferred) && knob.n == [...]analysis.Number{analysis.Face, analysis.Path}[k] {
			common = s.inferred[k]
		}
		if !s.measured[knob.n] {
			common = math.Hypot(common, presumedOff(knob.n)*s.value(knob.n))
		}
		need.To[knob.n] = s.estimate(to[k], s.value(knob.n)+at, math.Hypot(off, common))
	}
	if ks[0].n == analysis.Face {
		less := func(rows [][]float64) []float64 {
			v := make([]float64, len(rows[0]))
			for i := range v {
				v[i] = rows[0][i] - rows[1][i]
			}
			return v
		}
		off := math.Hypot(turn.root(), math.Hypot(s.flownOff(jacobian, 0, asked), s.flownOff(jacobian, 1, asked)))
		need.By[analysis.FaceToPath] = s.estimate(less(by), move.Face-move.Path, off)
		need.To[analysis.FaceToPath] = s.estimate(less(to), s.Usual.Face-s.Usual.Path+move.Face-move.Path, off)
	}
	return need
}

// Toward is the move of Reach alone, without what is left open of it.
func (s *Swing) Toward(g Goal) (Move, bool) {
	move, _, _, _, ok := s.answer(g)
	return move, ok
}

// whole is a goal of which start and curve are both asked for, or neither.
func (s *Swing) whole(g Goal) Goal {
	switch {
	case math.IsNaN(g.Start) == math.IsNaN(g.Curve):
	case math.IsNaN(g.Start):
		g.Start = s.Flight.Start
	default:
		g.Curve = s.Flight.Curve
	}
	return g
}

// presumedOff is how far off a speed or a loft may be that was not measured, a
// fraction of it (our choice); faces and paths have limits of their own.
func presumedOff(n analysis.Number) float64 {
	switch n {
	case analysis.ClubSpeed:
		return 0.03
	case analysis.DynamicLoft:
		return 0.08
	}
	return 0
}

// Stay is the need of a golfer who is asked for nothing.
func (s *Swing) Stay() Need {
	return Need{OK: s.OK, Others: make([]Move, len(s.models)), Flight: s.Flight}
}

// value is a number of the usual delivery.
func (s *Swing) value(n analysis.Number) float64 {
	switch n {
	case analysis.Face:
		return s.Usual.Face
	case analysis.Path:
		return s.Usual.Path
	case analysis.DynamicLoft:
		return s.Usual.DynamicLoft
	case analysis.ClubSpeed:
		return s.Usual.ClubSpeed
	}
	return s.Usual.Attack
}

// estimate is a mean with limits that hold what the balls and the model leave
// open of it.
func (s *Swing) estimate(rows []float64, mean, off float64) analysis.Estimate {
	e := s.streak.Mean(rows)
	half := math.Hypot((e.High-e.Low)/2, normal95*off)
	e.Mean = mean
	if e.Low, e.High = 0, 0; e.OK {
		e.Low, e.High = mean-half, mean+half
	}
	return e
}

// rows are, for each knob, what each ball's own flight would have changed of the
// answer: of how far it has to move, and of where to.
func (s *Swing) rows(jacobian *mat.Dense, ks []knob, asked []int) (by, to [][]float64) {
	by, to = make([][]float64, len(ks)), make([][]float64, len(ks))
	left, step := mat.NewVecDense(len(asked), nil), mat.NewVecDense(len(ks), nil)
	for i, b := range s.struck {
		off := s.flights[i].Minus(s.Flight)
		for j, number := range asked {
			left.SetVec(j, -off.Each()[number])
		}
		if step.SolveVec(jacobian, left) != nil {
			step.Zero()
		}
		from := Move{Face: b.delivery.Face - s.Usual.Face, Path: b.delivery.Path - s.Usual.Path, DynamicLoft: b.delivery.DynamicLoft - s.Usual.DynamicLoft, ClubSpeed: b.delivery.ClubSpeed - s.Usual.ClubSpeed}
		for k, knob := range ks {
			by[k] = append(by[k], step.AtVec(k))
			to[k] = append(to[k], step.AtVec(k)+*knob.of(&from))
		}
	}
	return by, to
}

// flownOff is what a mean flight that was not measured leaves open of a knob.
func (s *Swing) flownOff(jacobian *mat.Dense, k int, asked []int) float64 {
	var inverse mat.Dense
	if inverse.Inverse(jacobian) != nil {
		return 0
	}
	sum := 0.0
	for j, number := range asked {
		sum = math.Hypot(sum, inverse.At(k, j)*s.FlightOff.Each()[number])
	}
	return sum
}
