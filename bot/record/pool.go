package record

import (
	"context"
	"errors"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/store"
)

// What a tool does to a coach's students is told of all of them together, and
// nobody who reads it before and after somebody comes, goes or practises may find
// out what that one did. So:
//
//   - figures are of trial.FewestGolfers students at least, and those that leave a
//     student out, to be gone by for that very student, of as many others;
//   - what is made stands as it was made (store.Pool), with the students and the
//     sessions it rests on, and is made again only when it would differ by as many
//     students from every one that was ever made before, not the last alone: else
//     students who leave and come back would give one away who came meanwhile;
//   - when somebody it rests on is gone, in whatever way, it is told no more (the
//     store sees to that at every reading) until so many have changed;
//   - a student counts for face and path or for neither, and a number is told when
//     all have it (trial.Pool): numbers cannot be played off against each other;
//   - it is told in coarse steps, and kept in no finer ones.
//
// Whoever knows all but one of the five students that changed, from elsewhere, can
// still reckon with what they know.

// A Pooling is how far a coach's students are toward figures about a tool with a
// club that cannot be told.
type Pooling struct {
	Club    analysis.Club
	Tool    analysis.Tool
	Tried   int  // students who have
	Held    bool // figures there were rest on somebody who is gone
	Missing int  // students who have to try it, or to change, before there are figures
}

// Pool makes what is due of figures over a coach's students, and tells those that
// may be told, and how far the others are.
func (rs *Records) Pool(ctx context.Context, server, coach string) (told []analysis.Pooled, short []Pooling, err error) {
	trials, err := rs.db.PooledTrials(ctx, server, coach)
	if err != nil {
		return nil, nil, err
	}
	made, err := rs.db.Pools(ctx, server, coach)
	if err != nil {
		return nil, nil, err
	}
	var open []Pooling
	for _, of := range poolsOf(trials) {
		earlier := slices.DeleteFunc(slices.Clone(made), func(p store.Pool) bool { return p.Club != of.club || p.Tool != of.tool })
		missing := of.missing(earlier)
		open = append(open, Pooling{of.club, of.tool, len(of.students), len(earlier) > 0, missing})
		if missing > 0 {
			continue
		}
		after := ""
		if n := len(earlier); n > 0 {
			after = earlier[n-1].ID
		}
		p := of.pool()
		p.Server, p.Coach = server, coach
		if err := rs.db.KeepPool(ctx, p, after); err != nil && !errors.Is(err, store.ErrTaken) {
			return nil, nil, err
		}
	}
	if told, err = rs.db.Pooled(ctx, server, coach, ""); err != nil {
		return nil, nil, err
	}
	for _, o := range open {
		if !slices.ContainsFunc(told, func(p analysis.Pooled) bool { return p.Club == o.Club && p.Tool == o.Tool }) {
			short = append(short, o)
		}
	}
	return told, short, nil
}

// poolable is what the students of a coach who tried a tool with a club say of it.
type poolable struct {
	club     analysis.Club
	tool     analysis.Tool
	students []pooledStudent
}

type pooledStudent struct {
	id       string
	golfer   trial.Golfer
	sessions []string
}

// poolsOf are the tools with the clubs they were tried with, in the order of Tools.
func poolsOf(trials []store.PooledTrial) (all []poolable) {
	for _, tool := range analysis.Tools() {
		first := len(all)
		for _, t := range trials {
			if t.Tool != tool {
				continue
			}
			at := slices.IndexFunc(all[first:], func(p poolable) bool { return p.club == t.Club }) + first
			if at < first {
				at = len(all)
				all = append(all, poolable{club: t.Club, tool: tool})
			}
			p := &all[at]
			if n := len(p.students); n == 0 || p.students[n-1].id != t.Student { // they come by student
				p.students = append(p.students, pooledStudent{id: t.Student, golfer: trial.Golfer{Hand: t.Hand}})
			}
			s := &p.students[len(p.students)-1]
			s.golfer.Taught = append(s.golfer.Taught, t.Observation)
			if !slices.Contains(s.sessions, t.Session) {
				s.sessions = append(s.sessions, t.Session)
			}
		}
	}
	for i := range all {
		all[i].students = slices.DeleteFunc(all[i].students, func(s pooledStudent) bool { return s.golfer.Of(all[i].tool) == nil })
	}
	return all
}

// missing is how many students more have to try it or to change before figures may
// be made that were not made before: 0 for none.
func (p poolable) missing(earlier []store.Pool) int {
	most := max(0, trial.FewestGolfers-len(p.students))
	for _, e := range earlier {
		most = max(most, trial.FewestGolfers-p.changed(e))
	}
	return most
}

// changed is how many students at least differ from those that earlier figures rest
// on: somebody who forgets everything and comes back is one, not two.
func (p poolable) changed(e store.Pool) int {
	come, stay, other := 0, 0, 0
	for _, s := range p.students {
		was, there := e.Sessions[s.id]
		switch {
		case !there:
			come++
		case !slices.Equal(was, slices.Sorted(slices.Values(s.sessions))):
			other++
		default:
			stay++
		}
	}
	gone := e.Students - stay - other
	return other + max(come, gone)
}

// pool makes the figures: over all, and without each student.
func (p poolable) pool() store.Pool {
	made := store.Pool{Club: p.club, Tool: p.tool, Sessions: map[string][]string{}, Without: map[string][]analysis.Pooled{}}
	var all []trial.Golfer
	for _, s := range p.students {
		all = append(all, s.golfer)
		made.Sessions[s.id] = s.sessions
	}
	made.Figures = coarse(trial.Pool(p.tool, all))
	for i, s := range p.students {
		made.Without[s.id] = coarse(trial.Pool(p.tool, slices.Delete(slices.Clone(all), i, i+1)))
	}
	return made
}

func coarse(figures []analysis.Pooled) []analysis.Pooled {
	for i, p := range figures {
		figures[i] = p.Coarse()
	}
	return figures
}

// Pooled are the figures over the other students of a student's coach.
func (rs *Records) Pooled(ctx context.Context, server, student string) ([]analysis.Pooled, error) {
	binding, err := rs.db.StudentBinding(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return rs.db.Pooled(ctx, server, binding.Coach, student)
}
