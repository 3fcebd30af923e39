package cause

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"rangepost/analysis/ball"
)

const solveSteps = 12

// solve is the move that brings the mean flight to the goal in a model, by
// Newton's method from a first guess, and the slopes there: what a unit of each
// knob moves of each number asked for. The mean flight itself is as it was seen;
// the model says only what a move changes of it. ok is false where nothing within
// reach does.
func (s *Swing) solve(p *possible, g Goal, from Move, ks []knob, asked []int, steps int) (move Move, jacobian *mat.Dense, ok bool) {
	move = from
	n := len(ks)
	left, step := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	jacobian = mat.NewDense(n, n, nil)
	usual := p.model.Fly(s.Usual, p.own)
	at := func(by Move) ball.Flight { return p.model.Fly(s.moved(by), p.own) }
	for range steps {
		here := at(move)
		f := s.Flight.Plus(here.Minus(usual))
		for k, knob := range ks {
			more, less := move, move
			*knob.of(&more) += knob.step / 2
			*knob.of(&less) -= knob.step / 2
			slope := at(more).Minus(at(less)).Each() // central, so that a mirror image has mirrored slopes
			for j, number := range asked {
				jacobian.Set(j, k, slope[number]/knob.step)
			}
		}
		for j, number := range asked {
			left.SetVec(j, g.Each()[number]-f.Each()[number])
		}
		if step.SolveVec(jacobian, left) != nil {
			return move, jacobian, false
		}
		done := true
		for k, knob := range ks {
			by := max(-knob.most/3, min(knob.most/3, step.AtVec(k)))
			if math.IsNaN(by) {
				return move, jacobian, false
			}
			done = done && math.Abs(by) < knob.step/50
			*knob.of(&move) += by
			if math.Abs(*knob.of(&move)) > knob.most {
				return move, jacobian, false
			}
		}
		if done {
			return move, jacobian, true
		}
	}
	return move, jacobian, steps == 1
}
