package sessionfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

// orient turns each cluster the right way round, or asks. An answer speaks of
// the first column of its cluster: "signs" of the first in the file whose sign
// is open, "signs:path" of path. Where a cluster has no answer of its own, that
// of the first is taken for the whole file, since devices count one way: so only
// the first is asked about, unless the file disagrees with itself or the golfer
// is left-handed. Some devices turn a left-hander's club round and leave the
// ball: of these an answer about the one is none about the other.
func (s *settle) orient(clusters []cluster, best pose, o Options) (decisions []string, questions []analysis.Question) {
	if s.disagrees(best) {
		decisions = append(decisions, "the sideways numbers of this file disagree with each other by more than their noise")
	}
	open := 0
	for _, c := range clusters {
		if !c.grounded {
			open++
		}
	}
	alike := o.Hand != analysis.LeftHanded && !s.disagrees(best)
	first, asks, told := true, false, ""
	var club bool // the first is of the club
	var waiting []*column
	for _, c := range clusters {
		if c.grounded {
			decisions = append(decisions, s.ground(c, best)...)
			continue
		}
		own := "signs:" + c.columns[0].field.key()
		key, later := own, !first
		if first {
			key = "signs"
			club = c.columns[0].field.ofClub()
		}
		first = false
		answer, answered := o.Answers[own]
		if !answered && (o.Hand != analysis.LeftHanded || c.columns[0].field.ofClub() == club) {
			answer = cmp.Or(o.Answers["signs"], told)
		}
		anchor, turn := c.columns[0], 1.0
		if most, odd := s.oddOneOut(c, best); odd && answer != "" && !answered {
			// What was answered was about a column that now counts against all
			// the others: in this file it may be that one that is turned.
			if answer, answered = o.Answers["signs:"+most.field.key()]; !answered {
				why := fmt.Sprintf("Column '%s' counts the other way than all others", anchor.text)
				questions = append(questions, signsQuestion("signs:"+most.field.key(), why, cluster{columns: []*column{most}}))
				continue
			}
			anchor = most
			rest := slices.DeleteFunc(slices.Clone(c.columns), func(col *column) bool { return col == most })
			c.columns = append([]*column{most}, rest...)
		}
		switch answer {
		case signTarget:
		case signTargetLeft:
			turn = -1
		case signGolfer:
			turn = o.Hand.Mirror()
		default:
			if later && asks && alike {
				continue // that answer is taken for it too
			}
			if s.waits && (later || o.Hand != analysis.LeftHanded) {
				waiting = append(waiting, c.columns...)
				continue
			}
			asks = true
			most, sure := s.majority(c, best)
			if open > 1 || !sure || len(s.unheard) > 0 || o.Hand == analysis.LeftHanded || len(clusters) > open {
				questions = append(questions, signsQuestion(key, s.why(sure, open, best), c))
				continue
			}
			anchor = most
			q := signsQuestion(key, "Nothing but custom says which side is plus", c)
			s.customary = &Customary{Question: q}
		}
		switch {
		case answer != "" && later && alike && (s.customary == nil || s.customary.Answered && !answered):
			q := signsQuestion(own, "Nothing but custom says that it counts like the others", c)
			s.customary = &Customary{taken(q, turn), answered, c.columns[0].field.name()}
		case open == 1 && len(clusters) == 1 && (answer == signTarget || answer == signTargetLeft):
			q := signsQuestion(key, "That was answered before", c)
			if answered { // by its own name, which counts more
				q.Key = own
			}
			s.customary = &Customary{Question: taken(q, turn), Answered: true}
		}
		if alike {
			told = cmp.Or(told, answer)
		}
		for _, col := range c.columns {
			col.settled, col.orient = true, turn*best.sign[col.field]*best.sign[anchor.field]
		}
		decisions = append(decisions, s.signLine(c))
	}
	if len(waiting) > 0 {
		decisions = append(decisions, "which way "+headings(waiting)+" count waits for the answer about a column")
	}
	return decisions, questions
}

// taken is a question about signs with what was taken first among its choices.
func taken(q analysis.Question, turn float64) analysis.Question {
	if turn < 0 {
		q.Choices[0], q.Choices[1] = q.Choices[1], q.Choices[0]
	}
	return q
}

// ground settles a cluster in which sides are given in words.
func (s *settle) ground(c cluster, best pose) (decisions []string) {
	for _, col := range c.columns {
		col.settled, col.orient = true, best.sign[col.field]
		if col.plus != noSide {
			col.orient = col.sign(cell{side: col.plus})
		}
	}
	if left := s.leftward(c); len(left) > 0 {
		decisions = append(decisions, "+ read as left of target in "+strings.Join(left, ", ")+", as the sides given in words require")
	}
	return decisions
}

// majority is a column that counts as most of its cluster do, and whether the
// file leaves no doubt that a plus there is right of target unless the whole
// file is a mirror image: all columns must say so, or all but one of five, or of
// fewer if where the ball started and finished are among them.
func (s *settle) majority(c cluster, best pose) (most *column, sure bool) {
	votes := map[float64][]*column{}
	for _, col := range c.columns {
		f := col.field
		if f == faceToPath && s.values.has(face) || f == lateralTotal && s.values.has(lateral) {
			continue
		}
		votes[best.sign[f]] = append(votes[best.sign[f]], col)
	}
	many, few := votes[1], votes[-1]
	if len(few) > len(many) {
		many, few = few, many
	}
	if len(many) == 0 {
		return c.columns[0], true
	}
	ends := 0
	for _, col := range many {
		if col.field == direction || col.field == lateral || col.field == lateralTotal {
			ends++
		}
	}
	n := len(many) + len(few)
	return many[0], len(few) == 0 || len(few) == 1 && n > 2 && (n >= 5 || ends == 2)
}

// oddOneOut reports whether the first column of a cluster counts against all the
// others, three or more, and names one of those.
func (s *settle) oddOneOut(c cluster, best pose) (most *column, odd bool) {
	others := 0
	for _, col := range c.columns[1:] {
		f := col.field
		if f == faceToPath && s.values.has(face) || f == lateralTotal && s.values.has(lateral) {
			continue
		}
		if best.sign[f] == best.sign[c.columns[0].field] {
			return nil, false
		}
		if most == nil {
			most = col
		}
		others++
	}
	return most, others >= 3
}

// leftward names the columns of a cluster whose plus is left of target.
func (s *settle) leftward(c cluster) (names []string) {
	for _, col := range c.columns {
		if col.orient < 0 && !col.sided() {
			names = append(names, "'"+col.text+"'")
		}
	}
	slices.Sort(names)
	return names
}

// signLine says what was decided, and how many curves bear it out.
func (s *settle) signLine(c cluster) string {
	left := s.leftward(c)
	line := "+ read as right of target"
	switch {
	case len(left) == len(c.columns):
		line = "+ read as left of target"
	case len(left) > 0:
		line += ", but as left in " + strings.Join(left, ", ")
	}
	if good, of := s.curvesAgree(c); of > 0 {
		line += fmt.Sprintf("; path checked against %d of %d curves", good, of)
	}
	return line
}

// curvesAgree counts the shots whose axis leans the way face-to-path says, of
// those that lean at all.
func (s *settle) curvesAgree(c cluster) (good, of int) {
	orient := map[field]float64{}
	for _, col := range c.columns {
		orient[col.field] = col.orient
	}
	if orient[face] == 0 || orient[path] == 0 || orient[spinAxis] == 0 {
		return 0, 0
	}
	for i := range s.shots {
		twist := orient[face]*s.values.at(face, i) - orient[path]*s.values.at(path, i)
		axis := orient[spinAxis] * s.values.at(spinAxis, i)
		if math.Abs(twist) > 0.5*degree && math.Abs(axis) > degree {
			of++
			if twist*axis > 0 {
				good++
			}
		}
	}
	return good, of
}
