package plan

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
)

// A Match is what a file says of which of its balls are which of the card's.
type Match struct {
	// Placed and Reading are what is certain enough to be taken without asking;
	// they mean nothing where Likely is not empty.
	Placed  Placed
	Reading Reading

	// Likely are two to eight readings to choose from, the most likely first and
	// "none" last; see Take. Empty where there is nothing to ask.
	Likely []Reading
}

// doubted is how likely it may be that a ball is of another set than the count says,
// before that is asked: a file whose count fits is a question where its numbers speak
// against it (our choice, on seeds 2 to 9 of another hand's files: about one in seven that
// went as the card says).
const doubted = 0.0715

// Match finds the places of a session's balls on the card; before are the
// sessions that have theirs, in the order they were placed.
//
// Without a question it takes labels given by hand, balls that were posted
// before, and a file whose count is that of whole visits, or of all that was
// left of one, with the readings the device missed by the numbers of the shots;
// unless the figures make another reading with that count likely enough, the
// file was hit before one that has its places, or its labels name other things.
// All else is asked. The error is an *analysis.Refusal for a session without
// shots.
func (p Plan) Match(before []Placed, s analysis.Session) (Match, error) {
	m, err := p.match(before, s)
	if err != nil {
		return Match{}, err
	}
	if m.sure != "" {
		placed, reading := m.certain()
		return Match{Placed: placed, Reading: reading}, nil
	}
	if best, doubt := m.withoutAsking(); best != nil {
		r := m.reading(best)
		r.Doubt = doubt
		return Match{Placed: m.placed(m.turns(best)), Reading: r}, nil
	}
	return Match{Likely: m.likely()}, nil
}

// Readings are how a session's balls may be taken, to choose from as of Match's
// Likely: for whoever says that they were not hit as they were taken.
func (p Plan) Readings(before []Placed, s analysis.Session) ([]Reading, error) {
	m, err := p.match(before, s)
	switch {
	case err != nil:
		return nil, err
	case m.sure == None:
		return []Reading{none(1)}, nil
	case m.sure != "": // as the labels say, or not for this plan
		_, only := m.certain()
		return []Reading{only, none(0)}, nil
	}
	return m.likely(), nil
}

// Take places the balls by the reading that somebody chose: one of Match's
// Likely, or another whose count agrees with the file. The error is an *analysis.Refusal
// if there is no such reading (any more).
func (p Plan) Take(before []Placed, s analysis.Session, key string) (Placed, error) {
	if key == string(None) {
		return nowhere(s), nil
	}
	m, err := p.match(before, s)
	if err != nil {
		return Placed{}, err
	}
	if m.sure != "" {
		if placed, reading := m.certain(); reading.Key == key {
			return placed, nil
		}
	} else {
		for _, c := range m.found {
			if keyOf(m.parts(c), true) == key {
				return m.placed(m.turns(c)), nil
			}
		}
		for _, f := range m.families() {
			if m.key(f) == key {
				return m.placed(m.agreed(f)), nil
			}
		}
	}
	return Placed{}, analysis.Refuse("Hand the file over again, without that answer, and I ask how they may be read.", "The balls cannot be read that way, or not any more.")
}

// matching is a file beside the card.
type matching struct {
	Plan
	filed
	session analysis.Session
	next    next

	sure    What // what goes without weighing, "" if nothing does
	byLabel []int

	found []*candidate // the likeliest first
	none  float64      // chance of not being this plan
	slot  [2][]int     // of each ball its slot, without and with missed readings
	room  []stretch    // to work in
}

// A candidate is a course that fits the count.
type candidate struct {
	course
	stopped Part // where it did, if it did
	chance  float64
}

func (p Plan) match(before []Placed, s analysis.Session) (*matching, error) {
	if err := p.check(before); err != nil {
		return nil, err
	}
	if len(s.Shots) == 0 {
		return nil, analysis.Refuse("Post a file with balls in it.", "The session has no balls.")
	}
	m := &matching{Plan: p, session: s, filed: p.newFiled(before, s), next: p.next(before)}
	labelled := false
	switch m.byLabel, labelled = p.byLabelOf(m.filed, m.next.turn); {
	case len(m.at) == 0 && m.again > 0:
		m.sure = Again
	case len(m.at) == 0:
		m.sure = None
	case labelled:
		m.sure = Labels
	case m.next.turn >= len(p.Turns) && m.next.begun == 0:
		m.sure = Full
	default:
		m.weigh(before)
	}
	return m, nil
}

// check finds what only a mistake of ours can bring.
func (p Plan) check(before []Placed) error {
	if len(p.Turns) == 0 || len(p.Labels) < 2 || len(p.Labels) > mostGroups-1 {
		return errors.New("plan: a plan has turns of two or three sets")
	}
	for _, t := range p.Turns {
		if t.Set < 0 || t.Set >= len(p.Labels) || t.Balls < 1 {
			return fmt.Errorf("plan: no such turn: %+v", t)
		}
	}
	for _, b := range before {
		if len(b.Turn) != len(b.Session.Shots) {
			return errors.New("plan: a placed session has a place for every ball")
		}
		for _, t := range b.Turn {
			if t < Nowhere || t >= len(p.Turns) {
				return fmt.Errorf("plan: no turn %d", t)
			}
		}
	}
	return nil
}

// certain is what goes without weighing.
func (m *matching) certain() (Placed, Reading) {
	turns := m.byLabel
	part := Part{What: m.sure}
	switch m.sure {
	case Again:
		part.Balls = m.again
	case Full:
		part.Balls = len(m.at)
	}
	if m.sure != Labels {
		turns = make([]int, len(m.at))
		for i := range turns {
			turns[i] = Nowhere
		}
	}
	r := Reading{Key: string(m.sure), Parts: []Part{part}, Chance: 1}
	if m.sure != Again && m.again > 0 {
		r.Parts = append([]Part{{What: Again, Balls: m.again}}, r.Parts...)
	}
	return m.placed(turns), count(r, turns)
}

// weigh finds the courses that fit the count, each with its chance.
func (m *matching) weigh(before []Placed) {
	m.slot[0], m.slot[1] = make([]int, len(m.at)), make([]int, len(m.at))
	shots := make([]analysis.Shot, len(m.at))
	for i, at := range m.at {
		shots[i] = m.shots[at]
		m.slot[0][i] = i
		m.slot[1][i] = m.gaps[i]
		if i > 0 {
			m.slot[1][i] += m.slot[1][i-1] + 1
		}
	}
	var agree [2]*agreement
	var paused [2]*pauses
	for with, slot := range m.slot {
		if with == 1 && m.missed == 0 {
			continue
		}
		slots := len(m.at) + with*m.missed
		agree[with] = newAgreement(m.newFigures(before, shots, slot, slots))
		if p, ok := newPauses(shots, slot, slots); ok {
			paused[with] = &p
		}
	}
	// Not of the plan: no set moves anything.
	logs := []float64{math.Log(oftenNone / oftenWhole * ofSomeCount)}
	var stretches []stretch
	courses := m.courses(m.filed, m.next)
	all := make([]candidate, 0, len(courses)) // never grows: found points into it
	for _, c := range courses {
		with := 0
		if c.missed {
			with = 1
		}
		var stopped Part
		var ok bool
		stretches, stopped, ok = m.run(c, m.slots(c), stretches[:0])
		if !ok {
			continue
		}
		all = append(all, candidate{course: c, stopped: stopped})
		m.found = append(m.found, &all[len(all)-1])
		logs = append(logs, c.prior+agree[with].of(m.Plan, stretches)+paused[with].of(stretches))
	}
	most := slices.Max(logs)
	sum := 0.0
	for i := range logs {
		logs[i] = math.Exp(logs[i] - most)
		sum += logs[i]
	}
	m.none = logs[0] / sum
	for i := range m.found {
		m.found[i].chance = logs[i+1] / sum
	}
	slices.SortStableFunc(m.found, func(a, b *candidate) int { return cmp.Compare(b.chance, a.chance) })
}

// whole reports whether whole visits, or what was left of one, are all there is.
func (c *candidate) whole() bool {
	return c.warm == 0 && c.after == 0 && c.change[0].what == "" && c.stopped.What == ""
}

// parts say a candidate.
func (m *matching) parts(c *candidate) []Part { return c.course.parts(m.filed.missed, c.stopped) }

func (m *matching) slots(c course) int {
	if c.missed {
		return len(m.at) + m.filed.missed
	}
	return len(m.at)
}

// turns are the places of the balls under a candidate.
func (m *matching) turns(c *candidate) []int { return m.lay(c, make([]int, 0, len(m.at))) }

// lay appends them.
func (m *matching) lay(c *candidate, turns []int) []int {
	slot := m.slot[0]
	if c.missed {
		slot = m.slot[1]
	}
	m.room, _, _ = m.run(c.course, m.slots(c.course), m.room[:0])
	end := 0
	for _, s := range m.room {
		end += s.slots
		for len(turns) < len(slot) && slot[len(turns)] < end {
			turns = append(turns, s.turn)
		}
	}
	return turns
}

// placed is the session with places for the balls that may be the card's.
func (m *matching) placed(turns []int) Placed {
	out := nowhere(m.session)
	for i, at := range m.at {
		out.Turn[at] = turns[i]
	}
	return out
}

// setOf is the set of a turn, Nowhere for none.
func (p Plan) setOf(turn int) int {
	if turn == Nowhere {
		return Nowhere
	}
	return p.Turns[turn].Set
}

// withoutAsking is the candidate that is certain enough, and how likely it is that a
// ball is of another set than it says; nil if none is. Its count fits.
func (m *matching) withoutAsking() (*candidate, float64) {
	if len(m.found) == 0 || m.doubt {
		return nil, 0
	}
	best := m.found[0]
	if !best.whole() || best.later {
		return nil, 0
	}
	if wrong := m.wrong(best); wrong < doubted {
		return best, wrong
	}
	return nil, 0
}

// wrong is how likely it is that a ball is of another set than a candidate says.
func (m *matching) wrong(best *candidate) float64 {
	turns, wrong := m.turns(best), m.none
	var room []int
	for _, c := range m.found {
		if c.chance < 1e-5 {
			break
		}
		room = m.lay(c, room[:0])
		for k, t := range room {
			if m.setOf(t) != m.setOf(turns[k]) {
				wrong += c.chance
				break
			}
		}
	}
	return wrong
}
