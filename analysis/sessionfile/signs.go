package sessionfile

import (
	"math"
	"slices"

	"rangepost/analysis"
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
	return clearly(few, s.shots) * noise / 0.5
}

// clearly is by how much so many shots must fit better one way than the other, of a
// device with the usual noise.
func clearly(few float64, shots int) float64 {
	n := float64(shots)
	return clearOdds + few/n + clearPerShot*n
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
