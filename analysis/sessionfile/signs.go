package sessionfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

// The values of a question about signs.
const (
	signTarget     = "target"
	signTargetLeft = "target-left"
	signGolfer     = "golfer"
)

const (
	// clearOdds is by how much one reading of the signs must fit better than
	// the next, in units of log likelihood: odds of 400 to 1. Few shots must be
	// clearer, since they cannot show how noisy they are, and many too, since
	// the relations are not exact. That two columns count opposite ways is
	// rarer than that they count alike, and takes more to be believed.
	clearOdds        = 6.0
	clearFew         = 6.0 // over the number of shots
	clearFewOpposite = 24.0
	clearPerShot     = 0.05
	// usual is the odds, likewise, that a column saying merely "face" is given
	// against the target.
	usual = 3.0
	// worst is the mean misfit of a relation, where noise alone gives a half,
	// above which the file is said to disagree with itself.
	worst = 2.2
)

// settle is the work of finding the signs of one file.
type settle struct {
	columns   []*column // sideways, readable, in the order of sideways
	values    series
	relations []relation
	shots     int
	hand      analysis.Hand
	grounded  map[field]bool // sides given in words: no sign to find
	meanings  []bool         // whether the face may be face-to-path: one, or both where that is open
	clubs     []analysis.Club
	far       []float64
	cache     map[costKey]float64
	waits     bool      // a column is asked about whose answer may tie others
	gaps      []float64 // what misfit works with
	noises    []float64
	unheard   []string
	customary *Customary // what custom decided
}

// settleSigns finds what a plus means in every sideways column. What the
// physics of the shots cannot tell is asked; a file mirrored as a whole agrees
// with itself, so that is read as + right of target, and said, and asked when
// a left-hander hands in a new header.
//
// unheard names columns that count to two sides and were left out: as they
// might have told, what custom decides is asked instead. waits says that a
// column is asked about that may be one of these: what its answer may settle is
// not asked before it.
func settleSigns(cs []column, clubs []analysis.Club, sky *sky, unheard []string, waits bool, o Options) (decisions []string, questions []analysis.Question, customary *Customary) {
	for i := range cs {
		c := &cs[i]
		c.hand, c.orient = o.Hand, 1
		c.settled = readable(*c) && !c.field.sideways()
		if (c.field == attack || c.field == strikeUp || c.field == strikeToe) && (c.plus == downward) {
			c.orient = -1
		}
	}
	s := newSettle(cs, clubs, sky, o)
	s.unheard, s.waits = unheard, waits
	if len(s.columns) == 0 {
		return nil, nil, nil
	}
	best, costs := s.search()
	if len(s.meanings) > 1 {
		line, q := s.faceMeaning(costs)
		if q != nil {
			s.drop(face)
			s.waits = true
			questions = append(questions, *q)
		} else if line != "" {
			decisions = append(decisions, line)
		}
		best, costs = s.search()
	}
	if !o.HandSet && slices.ContainsFunc(s.columns, (*column).golfersWords) {
		decisions = append(decisions, "open and closed, in and out read for a right-hander: nobody said which hand")
	}
	clusters := s.clusters(costs, best)
	lines, qs := s.orient(clusters, best, o)
	decisions, questions = append(decisions, lines...), append(questions, qs...)
	if best.relative {
		for _, c := range s.columns {
			if c.field == face {
				c.field = faceToPath
			}
		}
	}
	return decisions, questions, s.customary
}

func newSettle(cs []column, clubs []analysis.Club, sky *sky, o Options) *settle {
	s := &settle{values: newSeries(), shots: len(clubs), hand: o.Hand, grounded: map[field]bool{}, cache: map[costKey]float64{}, meanings: []bool{false}, clubs: clubs}
	for i := range cs {
		c := cs[i]
		if !readable(c) { // it is asked about; which side is which hangs on it no more than that
			c.unit = c.likely
		}
		if readable(c) && c.field.dimension() != noDimension && c.count() > 0 {
			s.values[c.field] = c.rightward()
		}
	}
	for _, f := range sideways {
		i := slices.IndexFunc(cs, func(c column) bool { return c.field == f })
		if i < 0 || s.values[f] == nil {
			continue
		}
		c := &cs[i]
		s.columns = append(s.columns, c)
		s.grounded[f] = c.sided() || c.plus != noSide
		if f == face && !c.meaning.definite && s.values.has(path) && !s.values.has(faceToPath) {
			s.meanings = []bool{false, true}
		}
	}
	s.far = s.values.far(clubs, sky)
	s.relations = relations(s.values, clubs, sky)
	return s
}

// drop takes a column out of the search.
func (s *settle) drop(f field) {
	s.columns = slices.DeleteFunc(s.columns, func(c *column) bool { return c.field == f })
	s.values[f] = nil
	s.relations = slices.DeleteFunc(s.relations, func(r relation) bool { return slices.Contains(r.fields, f) })
	s.meanings = []bool{false}
	clear(s.cache)
}

// rightward lists the column's values by shot in SI, NaN where missing, with
// sides given in words or in the header already applied.
func (c *column) rightward() []float64 {
	orient := 1.0
	if c.field.sideways() && c.plus != noSide {
		orient = c.sign(cell{side: c.plus})
	}
	vs := make([]float64, len(c.cells))
	for i, v := range c.cells {
		switch {
		case !v.ok:
			vs[i] = math.NaN()
			continue
		case v.si:
			vs[i] = v.v
		default:
			vs[i] = c.unit.si(v.v)
		}
		if v.side != noSide {
			vs[i] *= c.sign(v)
		} else {
			vs[i] *= orient
		}
	}
	return vs
}

// margin is by how much a reading must fit better than its rival: more where
// the best reading's mean misfit is above the half that noise leaves, because
// gaps of a worse device say less.
func (s *settle) margin(best *pose, few float64) float64 {
	sum, n := 0.0, 0
	for ri := range s.relations {
		cost, shots := s.misfit(ri, best)
		sum, n = sum+cost, n+shots
	}
	noise := 0.5
	if n > 0 {
		noise = max(noise, sum/float64(n))
	}
	return (clearOdds + few/float64(s.shots) + clearPerShot*float64(s.shots)) * noise / 0.5
}

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
	n := float64(s.shots)
	gap := relative.cost - target.cost
	least := 0.0 // of evidence, to believe what the relations say
	if !s.values.has(direction) {
		least = usual // where a ball comes down says little by itself of where it started
	}
	switch evidence, clear := s.faceEvidence(&target.pose, &relative.pose), clearOdds+clearFewOpposite/n+clearPerShot*n; {
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

// A cluster is columns whose signs are known relative to each other.
type cluster struct {
	columns  []*column
	grounded bool
}

// clusters groups the columns whose relative signs are clear.
func (s *settle) clusters(all []scored, best pose) []cluster {
	n := len(s.columns)
	margin := map[float64]float64{1: s.margin(&best, clearFew), -1: s.margin(&best, clearFewOpposite)}
	group := make([]int, n)
	for i := range group {
		group[i] = i
	}
	join := func(a, b int) {
		from, to := group[b], group[a]
		for i, g := range group {
			if g == from {
				group[i] = to
			}
		}
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			fa, fb := s.columns[a].field, s.columns[b].field
			if s.grounded[fa] && s.grounded[fb] {
				join(a, b)
				continue
			}
			same := best.sign[fa] * best.sign[fb]
			for _, p := range all {
				if p.relative == best.relative && p.sign[fa]*p.sign[fb] != same {
					if p.cost-all[0].cost >= margin[same] {
						join(a, b)
					}
					break
				}
			}
		}
	}
	if s.disagrees(best) {
		for i := range group {
			group[i] = i
			if s.grounded[s.columns[i].field] {
				group[i] = -1
			}
		}
		for a := range n {
			for b := a + 1; b < n; b++ {
				if s.pair(a, b, best) {
					join(a, b)
				}
			}
		}
	}
	var out []cluster
	for g := -1; g < n; g++ {
		var c cluster
		for i, col := range s.columns {
			if group[i] == g {
				c.columns = append(c.columns, col)
				c.grounded = c.grounded || s.grounded[col.field]
			}
		}
		if len(c.columns) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// pair reports whether two columns go together by a relation of their own,
// whatever others say of either: where a ball came down and where it came to
// rest.
func (s *settle) pair(a, b int, best pose) bool {
	fa, fb := s.columns[a].field, s.columns[b].field
	if s.grounded[fa] || s.grounded[fb] {
		return false
	}
	for ri, r := range s.relations {
		if len(r.fields) != 2 || !slices.Contains(r.fields, fa) || !slices.Contains(r.fields, fb) {
			continue
		}
		turned := best
		turned.sign[fb] *= -1
		is, n := s.misfit(ri, &best)
		would, _ := s.misfit(ri, &turned)
		return n > 0 && is/float64(n) <= worst && would-is >= clearOdds+clearFewOpposite/float64(n)+clearPerShot*float64(n)
	}
	return false
}

// disagrees reports whether even the best pose misses some relation by more
// than noise explains.
func (s *settle) disagrees(best pose) bool {
	for ri := range s.relations {
		if cost, n := s.misfit(ri, &best); n > 0 && cost/float64(n) > worst {
			return true
		}
	}
	return false
}

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

// why is the reason for asking about signs, as the start of a sentence.
func (s *settle) why(sure bool, open int, best pose) string {
	switch {
	case s.disagrees(best):
		return "The sideways numbers of this file disagree with each other"
	case open > 1 && s.hand != analysis.LeftHanded:
		return "These shots cannot tell which way each column counts, so that the answer is taken for all"
	case open > 1:
		return "These shots cannot tell which way each column counts"
	case len(s.unheard) > 0 && sure && s.hand != analysis.LeftHanded:
		return "I do not know what " + strings.Join(s.unheard, ", ") + " holds, which might have told"
	case !sure:
		return "Some columns of this file count the other way round than others"
	case s.hand == analysis.LeftHanded:
		return "Nothing in a left-hander's file can tell whether it is mirrored"
	}
	return "These shots cannot tell which way this column counts"
}

// wentTo asks, by what a golfer saw of a ball, to which side a number of it is.
var wentTo = map[field]struct{ ask, right, left string }{
	lateral:      {"did it finish left or right of the target?", "right of the target", "left of the target"},
	lateralTotal: {"did it finish left or right of the target?", "right of the target", "left of the target"},
	direction:    {"did it start left or right of the target?", "right of the target", "left of the target"},
	face:         {"did the face point left or right of the target?", "right of the target", "left of the target"},
	path:         {"did the club go to the left or to the right?", "to the right", "to the left"},
	faceToPath:   {"did the face point left or right of the path?", "right of the path", "left of the path"},
	spinAxis:     {"did it curve to the left or to the right?", "to the right", "to the left"},
}

// signsQuestion asks what a plus means in the first column of a cluster, by the
// ball that tells it best: the one that lies furthest to a side.
func signsQuestion(key, why string, c cluster) analysis.Question {
	column := c.columns[0]
	says := wentTo[column.field]
	most := 0
	for i, cell := range column.cells {
		if cell.ok && math.Abs(cell.v) > math.Abs(column.cells[most].v) {
			most = i
		}
	}
	shown := column.cells[most].v
	text := fmt.Sprintf("Ball %d of the file shows %+.4g in '%s': %s %s.", most+1, shown, column.text, says.ask, why)
	if len(c.columns) > 1 {
		text += " The other columns follow from it."
	}
	same, other := says.right, says.left
	if shown < 0 {
		same, other = other, same
	}
	return analysis.Question{Key: key, Text: text, Choices: []analysis.Choice{
		{Value: signTarget, Text: sentenceCase(same)},
		{Value: signTargetLeft, Text: sentenceCase(other)},
		{Value: signGolfer, Text: "That goes by the hand: the device mirrors it for left-handers"},
	}}
}

func sentenceCase(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
