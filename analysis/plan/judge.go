package plan

import (
	"fmt"
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/trial"
)

// Judge says how the plan stands after the visits, in the order they were hit. It
// is the same however the balls were posted and however often one looked: the
// plan is judged after every block in turn, and the first that ended it counts.
// An error is the caller's: places that do not fit the balls or the card.
func (p Plan) Judge(visits []Placed, w Worths) (Result, error) {
	others := len(p.Labels) - 1
	if others < 1 || !(p.Change > 0) || !(p.SD > 0) || len(p.Turns) == 0 {
		return Result{}, fmt.Errorf("plan: %d sets, %d turns, a change of %v and a scatter of %v make no plan", others+1, len(p.Turns), p.Change, p.SD)
	}
	f, err := p.lay(visits, p.numbers())
	if err != nil {
		return Result{}, err
	}
	r := Result{Status: Going, Incomplete: f.incomplete(), Late: f.late}
	p.stand(f.all, &r)
	r.Rows = p.rows(f)
	if w.Face != 0 && w.Path != 0 {
		t, ok, err := p.Trial(visits, w)
		if err != nil {
			return Result{}, err
		}
		if ok {
			r.Compensations = t.Compensations
		}
	}
	return r, nil
}

// numbers are what is compared, the number of interest first.
func (p Plan) numbers() []analysis.Number {
	all := []analysis.Number{p.Number}
	for _, n := range trial.DefaultNumbers() {
		if n != p.Number {
			all = append(all, n)
		}
	}
	return all
}

// blockSD is the standard deviation of a block's difference where a ball's is sd.
func (p Plan) blockSD(sd float64) float64 { return sd * math.Sqrt(2/float64(p.turn())) }

// standing is what is known of the number of interest of one set.
type standing struct {
	seen               stat.Sequence
	last               int // block
	moved, below, over bool
	chance, more       float64 // of an answer still, and blocks to it
}

func (s standing) held() bool     { return s.below && s.over }
func (s standing) answered() bool { return s.moved || s.held() }

// futile is the chance under which an answer is not worth more balls (common
// practice, no source).
const futile = 0.05

// stand goes through the differences in order and fills in how it ends.
func (p Plan) stand(all []difference, r *Result) {
	others, blocks := len(p.Labels)-1, p.Blocks()
	b := newBounds(p.Change/p.blockSD(p.SD), blocks, others)
	sets := make([]standing, others)
	for i := range sets {
		sets[i].last = -1
		sets[i].chance, sets[i].more = p.ahead(b, sets[i].seen, blocks)
	}
	compared := map[int]bool{}
	for _, d := range all {
		compared[d.block] = true
		s := &sets[d.set-1]
		s.last = max(s.last, d.block)
		if v := d.of[0]; !math.IsNaN(v) { // the number of interest
			s.seen = s.seen.And(v)
			s.moved = s.moved || b.moved.Evidence(s.seen, 0) >= 1/b.alphaMoved
			s.below = s.below || b.held.Below(s.seen, p.Change) >= 1/b.alphaIn
			s.over = s.over || b.held.Above(s.seen, -p.Change) >= 1/b.alphaIn
		}
		s.chance, s.more = p.ahead(b, s.seen, blocks-1-s.last)
		if status := ended(sets); r.Status == Going && status != Going {
			r.Status, r.Ended, r.Visit = status, len(compared), d.visit
		}
	}
	r.Blocks = len(compared)
	if r.Status != Going {
		return
	}
	r.Chance = 1
	for _, s := range sets {
		if !s.answered() {
			r.Chance = min(r.Chance, s.chance)
			r.MoreBalls = max(r.MoreBalls, max(1, int(s.more+0.5))*p.turn())
		}
	}
}

func ended(sets []standing) Status {
	moved, held := false, true
	for _, s := range sets {
		if !s.answered() && s.chance >= futile {
			return Going
		}
		moved = moved || s.moved
		held = held && s.held()
	}
	switch {
	case moved:
		return Moved
	case held:
		return Held
	}
	return Futile
}
