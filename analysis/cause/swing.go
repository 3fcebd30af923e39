package cause

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/pattern"
	"rangepost/analysis/stat"
)

// A Swing is how a golfer delivered a club over the balls of a set, and what
// they would get of any other delivery: the middle ball, in the model its own
// flights point to, and in others that may be true as well.
type Swing struct {
	Club analysis.Club
	Hand analysis.Hand

	// Balls are the flights that are known of the balls that were struck.
	Balls []Seen

	// OK says whether deliveries are known as well; without them the rest is empty.
	OK        bool
	Delivery  [analysis.NumNumbers]analysis.Estimate // of the balls in use
	Usual     analysis.Delivery                      // the middle ball's
	Flight    ball.Flight                            // the mean of the balls in use
	FlightOff ball.Flight                            // what the model may have it off by, where it was not measured

	measured [analysis.NumNumbers]bool // of any ball in use
	struck   []struck
	flights  []ball.Flight // of struck
	streak   stat.Streak
	own      ball.Departure
	standard ball.Model
	models   []possible
	inferred [2]float64 // what inferred faces and paths have wrong in common, rad
}

// SwingOf is the swing of a set that was judged (Judge).
func SwingOf(set analysis.Set, c Config) Swing {
	set, worked := fill(set, c)
	p := pattern.Of(set)
	s := Swing{Club: set.Club, Hand: c.Hand, streak: p.Streak}
	used := set.Used()
	for _, n := range analysis.Numbers() {
		values, _ := analysis.Values(used, n)
		s.Delivery[n] = p.Streak.Mean(values)
		s.measured[n] = slices.ContainsFunc(used, func(shot analysis.Shot) bool { return shot.Measured(n) })
	}
	seen := seenOf(s.Delivery)
	published := ModelOf(set.Club, c)
	first := ready(set.Shots, worked, &published)
	known := tellOf(first, &published, seen, used)
	s.standard = published.Off(known.off)
	s.struck = ready(set.Shots, worked, &s.standard)
	s.Balls = seeAll(set.Shots, s.struck, &s.standard)
	if len(s.struck) == 0 {
		return s
	}
	s.OK = true
	s.Usual, s.own = middle(s.struck, &s.standard)
	s.models = possibilities(published, known, s.standard.Launch(s.Usual, s.own), s.Usual, s.own, seen, c.Seed)

	at := map[int]Seen{}
	for _, b := range s.Balls {
		at[b.N] = b
	}
	n := float64(len(s.struck))
	for _, b := range s.struck {
		f := at[b.n].Flight
		s.flights = append(s.flights, f)
		s.Flight = s.Flight.Plus(f.Times(1 / n))
	}
	m := meansOf(make([]Split, len(s.struck)), s.struck)
	for i := range m.faceBy {
		s.inferred[0] = math.Hypot(s.inferred[0], m.faceBy[i])
		s.inferred[1] = math.Hypot(s.inferred[1], m.pathBy[i])
	}
	s.FlightOff = s.off()
	return s
}

// Mean is the mean flight of the balls in use, whether their deliveries are known
// or not; ok is false where a height or a carry is known of none.
func (s *Swing) Mean() (f ball.Flight, ok bool) {
	if s.OK {
		return s.Flight, true
	}
	n := 0.0
	for _, b := range s.Balls {
		if b.Used && !math.IsNaN(b.Apex) && !math.IsNaN(b.Carry) {
			n++
			f = f.Plus(b.Flight)
		}
	}
	return f.Times(1 / max(n, 1)), n > 0
}

// Measured reports whether a number was measured of any ball in use.
func (s *Swing) Measured(n analysis.Number) bool { return s.measured[n] }

// off is what the mean flight may be off where the model has it.
func (s *Swing) off() (off ball.Flight) {
	flown := func(n analysis.Number) bool { return !s.measured[n] }
	if flown(analysis.Direction) {
		off.Start = startFlown
	}
	if flown(analysis.Apex) {
		off.Apex = apexFlown * s.Flight.Apex
	}
	if flown(analysis.Carry) {
		off.Carry = carryFlown * s.Flight.Carry
	}
	if flown(analysis.Lateral) || flown(analysis.Direction) {
		off.Curve = math.Hypot(curveFlown*s.Flight.Curve, driftFlown*s.Flight.Carry)
	}
	if flown(analysis.Lateral) {
		off.Lateral = off.Curve
	}
	return off
}

// moved is a delivery that differs from the usual one.
func (s *Swing) moved(by Move) analysis.Delivery {
	d := s.Usual
	d.Face += by.Face
	d.Path += by.Path
	d.DynamicLoft += by.DynamicLoft
	d.ClubSpeed += by.ClubSpeed
	d.Attack += by.Attack
	return d
}

// A Move is a change of a delivery: rad, positive as the number is, and m/s.
type Move struct{ Face, Path, DynamicLoft, ClubSpeed, Attack float64 }

// Of is what a move changes of one number.
func (m Move) Of(n analysis.Number) float64 {
	switch n {
	case analysis.Face:
		return m.Face
	case analysis.Path:
		return m.Path
	case analysis.FaceToPath:
		return m.Face - m.Path
	case analysis.DynamicLoft:
		return m.DynamicLoft
	case analysis.ClubSpeed:
		return m.ClubSpeed
	case analysis.Attack:
		return m.Attack
	}
	return 0
}

// gives is what a move changes of the flight, in a model.
func (s *Swing) gives(m *ball.Model, own ball.Departure, by Move) ball.Flight {
	return m.Fly(s.moved(by), own).Minus(m.Fly(s.Usual, own))
}

// Follows is the ball that follows from a move: the mean of as many as one
// likes, with 95 % limits from the balls it is reckoned from and from what the
// model leaves open. The fields are in the order of ball.Flight; limits are not
// OK with one ball.
func (s *Swing) Follows(by Move) (f [5]analysis.Estimate) {
	change := s.gives(&s.standard, s.own, by)
	var models [5]spread
	for i := range s.models {
		p := &s.models[i]
		other := s.gives(&p.model, p.own, by)
		for k, v := range other.Each() {
			models[k].add(v - change.Each()[k])
		}
	}
	for k := range f {
		values := make([]float64, len(s.flights))
		for i, flight := range s.flights {
			values[i] = flight.Each()[k]
		}
		e := s.streak.Mean(values)
		e.Mean += change.Each()[k]
		off := math.Hypot(models[k].root(), s.FlightOff.Each()[k])
		off = math.Hypot(off, changeDoubt*change.Each()[k])
		if k == 3 { // of the carry: how far a loft flies is what sources differ in most
			off = math.Hypot(off, loftDoubt*s.Flight.Carry*by.DynamicLoft)
		}
		half := math.Hypot((e.High-e.Low)/2, normal95*off)
		if e.Low, e.High = 0, 0; e.OK {
			e.Low, e.High = e.Mean-half, e.Mean+half
		}
		f[k] = e
	}
	return f
}

const normal95 = 1.96

// changeDoubt is what the change of a flight may be off beyond that, a fraction
// (likewise).
const changeDoubt = 0.1

// loftDoubt is a fraction of the carry a rad of loft (likewise).
const loftDoubt = 0.25

// spread is a root mean square.
type spread struct{ n, squares float64 }

func (s *spread) add(v float64) { s.n, s.squares = s.n+1, s.squares+v*v }

func (s *spread) root() float64 {
	if s.n == 0 {
		return 0
	}
	return math.Sqrt(s.squares / s.n)
}

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
// by in the panel's worlds (package asked has the test; none held out was looked
// at).
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
