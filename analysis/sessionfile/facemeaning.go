package sessionfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
)

// faceMeaning decides whether a column that merely says "face" is face against
// target or against path.
func (s *settle) faceMeaning(all []scored) (line string, q *analysis.Question) {
	column := s.columns[slices.IndexFunc(s.columns, func(c *column) bool { return c.field == face })]
	if !slices.ContainsFunc(s.relations, func(r relation) bool { return slices.Contains(r.fields, face) }) {
		s.meanings = []bool{false}
		return "", nil
	}
	first := func(relative bool) *scored {
		return &all[slices.IndexFunc(all, func(p scored) bool { return p.relative == relative })]
	}
	target, relative := first(false), first(true)
	gap := relative.cost - target.cost
	least := 0.0 // of evidence, to believe what the relations say
	if !s.values.has(direction) {
		least = usual // where a ball comes down says little by itself of where it started
	}
	switch evidence, clear := s.faceEvidence(&target.pose, &relative.pose), clearly(clearFewOpposite, s.shots); {
	case evidence <= -clear, evidence < -least && -gap >= s.margin(&relative.pose, clearFewOpposite):
		s.meanings = []bool{true}
		return fmt.Sprintf("column '%s' read as face against path: the balls went only so", column.text), nil
	case evidence >= clear-usual, evidence > least && gap >= 2*usual:
		s.meanings = []bool{false}
		return "", nil
	}
	return "", &analysis.Question{
		Key:  "column:" + column.key(),
		Text: fmt.Sprintf("Is column '%s' the face against the target, or against the path?", column.text),
		Choices: []analysis.Choice{
			{Value: face.key(), Text: "against the target"},
			{Value: faceToPath.key(), Text: "against the path"},
			{Value: ignored.key(), Text: "neither, leave it out"},
		},
	}
}

// What tells a face against the target from one against the path is a turn of the
// whole swing: it takes the ball along, whatever the shares of face and path are. With
// the face against the target, what face and path weigh in the start line or the
// finish adds up to one, and in the tilt of the axis to nothing; with the face against
// the path, the path weighs one, or nothing, by itself:
//
//	start, finish   y - P = a (F - P) + c   or   y - P = a F + c
//	axis                y = a (F - P) + c   or       y = a F + c
//
// Which fits better is told by what each leaves over, so that neither noise nor shares
// need be known: a comes from the balls, and c takes up a device that stands askew.

// faceEvidence is how much better a face against the target explains the other
// numbers than one against the path, in units of log likelihood, with the best signs
// of each.
func (s *settle) faceEvidence(target, relative *pose) (evidence float64) {
	for _, f := range []field{direction, spinAxis, lateral} {
		if !s.values.has(f, face, path) {
			continue
		}
		// lines are y and x of every ball.
		lines := func(p *pose) (y, x []float64) {
			y, x = make([]float64, s.shots), make([]float64, s.shots)
			for i := range y {
				turned := p.sign[path] * s.values.at(path, i)
				y[i], x[i] = p.sign[f]*s.values.at(f, i), p.sign[face]*s.values.at(face, i)
				if f == lateral {
					y[i] = math.Atan(y[i] / s.far[i])
				}
				if f != spinAxis {
					y[i] -= turned
				}
				if !p.relative {
					x[i] -= turned
				}
			}
			return y, x
		}
		evidence += s.weigh(lines, target, relative)
	}
	return evidence
}

// weigh is the evidence of one number. The balls that speak most against the worse
// way are left out, one in ten, since a wild reading does too.
func (s *settle) weigh(lines func(*pose) (y, x []float64), target, relative *pose) float64 {
	poses, sides := [2]*pose{target, relative}, [2][]float64{}
	use := make([]bool, s.shots)
	for i := range use {
		use[i] = true
	}
	for _, p := range poses {
		y, x := lines(p)
		for _, vs := range [][]float64{y, x} {
			inReach(vs, use)
		}
	}
	weight := func() float64 {
		var rests [2]float64
		free := 0
		for k, p := range poses {
			y, x := lines(p)
			sides[k], rests[k], free = leftOver(y, x, s.clubs, use)
		}
		if free < 2 || !(rests[0] > 0 && rests[1] > 0) {
			return 0
		}
		return float64(free) / 2 * math.Log(rests[1]/rests[0])
	}
	all := weight()
	worse := 1
	if all < 0 {
		worse = 0
	}
	by := make([]int, 0, s.shots)
	for i, r := range sides[worse] {
		if !math.IsNaN(r) {
			by = append(by, i)
		}
	}
	against := sides[worse]
	slices.SortStableFunc(by, func(a, b int) int { return cmp.Compare(math.Abs(against[b]), math.Abs(against[a])) })
	for _, i := range by[:min(len(by), 1+s.shots/10)] {
		use[i] = false
	}
	if without := weight(); without*all > 0 {
		return math.Copysign(min(math.Abs(all), math.Abs(without)), all)
	}
	return 0
}

// inReach takes out the balls whose value is so far from the middle of all that it was
// misread, or is a swing that no line would hold.
func inReach(vs []float64, use []bool) {
	known := slices.DeleteFunc(slices.Clone(vs), math.IsNaN)
	if len(known) == 0 {
		return
	}
	middle := median(known)
	for i := range known {
		known[i] = math.Abs(known[i] - middle)
	}
	reach := 10 * max(median(known), 0.5*degree)
	for i, v := range vs {
		use[i] = use[i] && math.Abs(v-middle) <= reach
	}
}

// leftOver is by how much each y misses a line in x, each about the middle of its
// club, NaN where one is missing; the sum of squares, and its degrees of freedom. The
// line rises: the ball goes where the face points.
func leftOver(y, x []float64, clubs []analysis.Club, use []bool) (misses []float64, rest float64, free int) {
	type middle struct{ n, x, y float64 }
	by := map[analysis.Club]middle{}
	is := func(i int) bool { return use[i] && !math.IsNaN(y[i]) && !math.IsNaN(x[i]) }
	for i := range y {
		if is(i) {
			m := by[clubs[i]]
			by[clubs[i]] = middle{m.n + 1, m.x + x[i], m.y + y[i]}
			free++
		}
	}
	misses = make([]float64, len(y))
	across, along := 0.0, 0.0
	about := func(i int) (dx, dy float64) {
		m := by[clubs[i]]
		return x[i] - m.x/m.n, y[i] - m.y/m.n
	}
	for i := range y {
		if is(i) {
			dx, dy := about(i)
			across, along = across+dx*dx, along+dx*dy
		}
	}
	slope := 0.0
	if across > 0 {
		slope = max(0, along/across)
	}
	for i := range y {
		misses[i] = math.NaN()
		if is(i) {
			dx, dy := about(i)
			misses[i] = dy - slope*dx
			rest += misses[i] * misses[i]
		}
	}
	return misses, rest, free - len(by) - 1
}
