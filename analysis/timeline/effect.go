package timeline

import (
	"math"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// side is the fewest sessions before and after a lesson that say anything, and
// between two lessons that tell them apart.
const side = 3

// looks are the sessions after a lesson at which its effect is judged, and how
// many times likelier they have to be with an effect than without at each. A
// test repeated at one level finds something sooner or later (Armitage,
// McPherson & Rowe 1969, J. R. Stat. Soc. A 132:235); these spend it where it
// is of use, at six sessions (after Lan & DeMets 1983, Biometrika 70:659 [M]).
// They are set so that a player who walks by 0.2 degrees a session, whose
// session means wander by 0.8, is falsely found to have changed at any look in
// under 5 % [C] (TestSimulatedLessonThatDidNothing); one who does not walk in
// fewer.
var looks = []struct {
	after int
	odds  float64
}{{3, 7}, {6, 2.25}, {12, 4.5}, {24, 7}, {48, 7}}

// factors are what those are multiplied by, by whether there are sessions enough
// before the lesson to chart: found where a level may have walked far in them,
// credited where the change is put down to the lesson, held against a level that
// most likely was moving anyway. With that a lesson that did nothing for a
// player who gets better by 0.1 to 0.5 degrees a session is credited in 5 % [C]
// (TestSimulatedLessonOfOneWhoImproves).
func factors(before int) (found, credited float64) {
	if before < charted {
		return 1, 2
	}
	return 1.25, 1.5
}

// Look reports whether the effect of a lesson is judged with so many sessions
// after it, so that another one settles nothing in between.
func Look(sessions int) bool {
	for _, l := range looks {
		if l.after == sessions {
			return true
		}
	}
	return false
}

// A stretch is the sessions around lessons that share their effect: before
// from, between the lessons from there to at, and after them up to end.
type stretch struct {
	lessons       []analysis.Lesson
	from, at, end int
}

// stretches are the lessons that have a session before them, those with fewer
// than side sessions between them together.
func (m *model) stretches(lessons []analysis.Lesson) (all []stretch) {
	for _, l := range lessons {
		at := m.firstAt(l.At)
		if at == 0 {
			continue
		}
		if n := len(all) - 1; n >= 0 && at-all[n].at < side {
			all[n].lessons, all[n].at = append(all[n].lessons, l), at
			continue
		}
		all = append(all, stretch{[]analysis.Lesson{l}, at, at, 0})
	}
	for i := range all {
		all[i].end = len(m.sessions)
		if i+1 < len(all) {
			all[i].end = all[i+1].from
		}
	}
	return all
}

// effects are what every stretch's lessons did.
func (m *model) effects(lessons []analysis.Lesson) (all []Effect) {
	stretches := m.stretches(lessons)
	for i := range stretches {
		all = append(all, m.effect(stretches, i))
	}
	return all
}

func (m *model) effect(all []stretch, which int) Effect {
	s := all[which]
	begun := 0
	if which > 0 {
		begun = all[which-1].at
	}
	e := Effect{
		Change: TooEarly, Lesson: s.lessons[len(s.lessons)-1], Together: len(s.lessons),
		Before: s.from - begun, After: s.end - s.at, P: 1,
	}
	before, _ := m.means(begun, s.from)
	e.MeanBefore = stat.SampleOf(before).Mean
	if e.After > 0 {
		after, _ := m.means(s.at, s.end)
		e.MeanAfter = stat.SampleOf(after).Mean
		e.Difference = e.MeanAfter - e.MeanBefore
	}
	over := which+1 < len(all)
	for _, look := range looks {
		if look.after > e.After && !over && e.Before >= side {
			e.Next = look.after
			break
		}
	}
	if e.Before < side || e.After < side {
		return e
	}
	e.Change = NotYet
	latest, ok := m.judge(all, which, s.end)
	if !ok { // not one session differs from another
		e.Low, e.High = e.Difference, e.Difference
		return e
	}
	toFind, toCredit := factors(e.Before)
	for _, look := range looks {
		if look.after > e.After {
			break
		}
		v := latest
		if look.after < e.After {
			if v, ok = m.judge(all, which, s.at+look.after); !ok {
				continue
			}
		}
		// One over a Bayes factor bounds a p as the p of a likelihood ratio does
		// (Ville's inequality): past the odds that find something at 5 % it falls
		// at least as fast.
		p := min(1, level*look.odds*toFind/math.Exp(v.odds))
		e.P = min(e.P, p)
		if p < level && e.Found == 0 {
			e.Change, e.Found = Changed, look.after
			e.FoundAt = m.sessions[s.at+look.after-1].At
		}
		e.Credited = e.Credited || p < level && math.Exp(v.moved) > look.odds*toCredit
	}
	limits := latest.level(e.Before, e.After)
	e.Difference, e.Low, e.High = latest.middle(), latest.Quantile((1-limits)/2), latest.Quantile((1+limits)/2)
	e.Shape = latest.shape()
	left := latest.now(e.After - 1)
	e.Left, e.LeftLow, e.LeftHigh = left.middle(), left.Quantile((1-limits)/2), left.Quantile((1+limits)/2)
	e.Improving = latest.improving(e.Difference) > 0.3 // twice what is thought of it beforehand
	e.WorstBefore = worstLast(before, e.Difference)
	if e.Change == Changed {
		e.Lasts = e.lasts()
	}
	return e
}

// Keep makes of an effect one that was found before, at so many sessions after
// the lesson: it was told so, with that difference in those limits, and what
// some of the sessions say now does not take it back.
func (e *Effect) Keep(sessions int, at time.Time, difference, low, high float64) {
	if e.Change == TooEarly {
		e.Difference, e.Low, e.High = difference, low, high
		e.Left, e.LeftLow, e.LeftHigh = difference, low, high
	}
	e.Change, e.Found, e.FoundAt = Changed, sessions, at
	e.Lasts = e.lasts()
}

// level is the chance of finding a change that is none.
const level = 0.05

// lasts says what is left of an effect that was found.
func (e Effect) lasts() Lasting {
	switch {
	case e.Shape != Fading:
		return Stays
	case e.LeftLow <= 0 && 0 <= e.LeftHigh || e.Left/e.Difference < 0.25:
		return Gone
	}
	return Fades
}

// Together weighs results asked for at one time: what of them is said to have
// changed is so in the face of all of them (Holm 1979). Effects of lessons
// that are over were told when they were found, and stay.
func Together(results []Result) {
	var p []float64
	var of []*Result
	for i := range results {
		if e := results[i].Effect; e.Change == Changed || e.Change == NotYet {
			p, of = append(p, e.P), append(of, &results[i])
		}
	}
	for i, p := range stat.Holm(p) {
		e := &of[i].Effects[len(of[i].Effects)-1]
		if e.P = p; p >= level && e.Change == Changed {
			e.Change, e.Found, e.FoundAt, e.Lasts, e.Credited = NotYet, 0, time.Time{}, "", false
		}
		of[i].Effect = *e
	}
}

// worstLast reports whether the last of the sessions before was the one
// farthest from where the number went.
func worstLast(before []float64, difference float64) bool {
	last := before[len(before)-1]
	for _, y := range before[:len(before)-1] {
		if (y-last)*difference <= 0 {
			return false
		}
	}
	return true
}
