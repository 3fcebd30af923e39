package sessionfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"rangepost/analysis"
)

const (
	// wellClear is by how much the best way to name the columns must stand above
	// every other way to name one of them before it is believed: odds of 10 to
	// 1 where words and figures agree, which they do for a reason.
	wellClear = 2.3
	// worthAsking is how far under leaving it out a column may be and still be
	// asked about.
	worthAsking = 1.5
	// remarked is what a heading says that the lexicon holds but for a remark in
	// brackets, which may turn it into something else.
	remarked = 2.0
	// nameless is what speaks for leaving out a column whose words say nothing
	// in a file whose other headings do; wordless where none does.
	nameless = 3.5
	wordless = -1.5
	// hasUnit is how much less speaks for leaving out a column with a unit:
	// somebody measured it.
	hasUnit = 2.5
	// onFiguresAlone is what more it takes to believe figures where the words say
	// nothing, or are not understood in full: the word that is missing may be
	// the one that counts ("... to path"). withoutWords is more where hardly any
	// column has words: one named wrongly there turns others. Of 4,000 columns of package
	// shapes 3 in 100 that came over 2.5 only, and 1 in 100 over 3, were wrong.
	onFiguresAlone, withoutWords = 2.5, 3.0
	// spoken and hinted are how strongly words name a column that is believed as
	// soon as its figures do not speak for leaving it out, if no other number comes
	// near: within aside of it, or nearby.
	// outOfReach is how badly figures suit what they cannot be. Those of a column
	// whose words are understood need not be usual: they count no further against
	// it than unusual.
	outOfReach, understoodAt, unusual = -8.0, 4.5, 3.0
	spoken, aside                     = 2.5, 1.5
	hinted, nearby                    = 1.2, 4.0
	// unrivalled is how far every other number must be for figures to be believed
	// whose words say nothing, if they are worth at least worthIt more than being
	// left out: the question would have had one answer. Of 2,400 files of package
	// shapes under strange headings two dozen fewer were asked about, none more was wrong.
	unrivalled, worthIt = 5.0, 1.0
)

// A candidate is a column that votes, with the fields it may hold.
type candidate struct {
	column  *column
	figures figures
	fixed   bool
	silent  bool              // its words say nothing
	said    map[field]float64 // what its words say
	fields  []field           // what it may hold, ignored among them
	alone   []float64         // by field of fields: words and figures of this column
	scales  [][]float64
	values  map[field][][]float64 // by field and scale, SI
	units   map[field][]float64   // the scales

	launches [][]float64 // by scale, if it is a dynamic loft: about what it launches at
}

// A vote names all columns at once: words say what a heading may mean, figures
// what a column looks like, and ties how columns hang together.
type vote struct {
	candidates []candidate
	cache      map[[5]int16]float64
	flights    map[[3]*float64]flown
	optima     []optimum
	silent     bool // hardly any column has words
}

// An optimum is a way to name the columns that none nearby is better than.
type optimum struct {
	way   []int
	score float64
}

// needed reports whether a verdict or a statement rests on the field.
func (f field) needed() bool {
	n, ok := f.number()
	return ok && n != analysis.SpinLoft && n != analysis.Lie && n != analysis.LateralTotal && n != analysis.FlightTime || f == backSpin || f == sideSpin
}

// elect decides what the columns hold that the lexicon does not know. Those
// that stay unclear become questions.
func (t *table) elect(o Options) (decisions []string, questions []analysis.Question) {
	v := t.newVote(o)
	if v == nil {
		return nil, nil
	}
	chosen := v.best()
	var read []string
	for i := range v.candidates {
		c := &v.candidates[i]
		if c.fixed {
			continue
		}
		f := c.fields[chosen[i]]
		others, left := v.margin(chosen, i)
		margin := min(others, left)
		if c.said[f] < loose && f != ignored {
			margin -= onFiguresAlone
			if v.silent {
				margin -= withoutWords - onFiguresAlone
			}
		}
		switch {
		case f != ignored && (margin >= wellClear || c.named(f, others, left) || !v.silent && others >= unrivalled && left >= worthIt):
			c.column.field = f
			c.column.meaning = meaning{fields: []field{f}}
			read = append(read, fmt.Sprintf("'%s' as %s", c.column.text, f.name()))
		case margin >= wellClear && f == ignored && !c.clear(), v.hopeless(chosen, i):
			c.column.field = ignored
			c.column.witness = c.silent && c.figures.below > 0.1 && c.figures.below < 0.9 && c.figures.n >= 5
		default:
			c.column.field = ignored
			c.column.asked = true
			questions = append(questions, v.whatIs(chosen, i))
		}
	}
	if len(read) > 0 {
		slices.Sort(read)
		decisions = append(decisions, "by words and figures read "+strings.Join(read, ", "))
	}
	return decisions, questions
}

// unheard names the columns left out whose words nobody knows and that count to
// two sides.
func (t *table) unheard() (names []string) {
	for _, c := range t.columns {
		if c.witness {
			names = append(names, "'"+c.text+"'")
		}
	}
	slices.Sort(names)
	return names[:min(len(names), 3)]
}

// newVote gathers what votes: every column that holds figures. It is nil where
// the lexicon knows them all.
func (t *table) newVote(o Options) *vote {
	v := &vote{cache: map[[5]int16]float64{}, flights: map[[3]*float64]flown{}}
	taken := map[field]bool{}
	named := 0
	for i := range t.columns {
		c := &t.columns[i]
		taken[c.field] = true
		if _, answered := o.Answers["column:"+c.key()]; !answered && (c.field != ignored || len(c.guesses) > 0 || len(c.meaning.fields) > 0) {
			named++ // by its own words, not by an answer
		}
	}
	quiet := wordless
	if named*3 >= len(t.columns) {
		quiet = nameless
	}
	v.silent = quiet == wordless
	isOpen := func(c *column) bool {
		_, answered := o.Answers["column:"+c.key()]
		return c.field == ignored && !answered && !c.other && !slices.Contains(c.meaning.fields, ignored)
	}
	if !slices.ContainsFunc(t.columns, func(c column) bool { return isOpen(&c) }) {
		return nil
	}
	mark, letters := t.looseMark(), t.letteredBy()
	open := 0
	columns, figured := []*column{}, []figures{}
	for i := range t.columns {
		c := &t.columns[i]
		figures, ok := t.figuresOf(c, mark, letters)
		switch isOpen := isOpen(c); {
		case isOpen && (!ok || figures.few && t.holdsClubs(c)): // "4I" might be four to the left
			t.nameTexts(c, taken)
		case ok && (isOpen || !c.field.text()):
			columns, figured = append(columns, c), append(figured, figures)
		}
	}
	usual := t.usuals()
	for i, c := range columns {
		figures, isOpen := figured[i], isOpen(c)
		figures.usual = usual
		k := candidate{column: c, figures: figures, fixed: !isOpen, values: map[field][][]float64{}, units: map[field][]float64{}}
		if isOpen {
			open++
			k.consider(t, taken, quiet)
		} else {
			k.add(t, c.field, 0)
		}
		v.candidates = append(v.candidates, k)
	}
	if open == 0 {
		return nil
	}
	v.few()
	return v
}

// mostOpen is how many open columns vote. Every way to name them is compared
// with every other that differs in two of them, so that time grows with the
// third power; no device has more.
const mostOpen = 40

// few keeps the open columns whose words say most, where there are very many.
func (v *vote) few() {
	open := 0
	for _, wanted := range []bool{false, true} { // those with words first
		v.candidates = slices.DeleteFunc(v.candidates, func(c candidate) bool {
			if c.fixed || c.silent != wanted {
				return false
			}
			open++
			return open > mostOpen
		})
	}
}

// nameTexts names a column of words: only its heading can say what it holds, or
// that its cells are clubs or times.
func (t *table) nameTexts(c *column, taken map[field]bool) {
	if len(spelled(c.text)) == 1 && c.speaksOf(ballPart) && !taken[ballKind] {
		c.field, taken[ballKind] = ballKind, true
		return
	}
	for _, g := range c.guesses {
		if (g.field.text() || g.field == windFrom) && g.weight > loose && !taken[g.field] && (g.field != timeField || t.hasTimes(c.at)) {
			c.field, taken[g.field] = g.field, true
			return
		}
	}
	if t.holdsClubs(c) && !taken[clubField] {
		c.field, taken[clubField] = clubField, true
	} else if t.hasTimes(c.at) && !taken[timeField] {
		c.field, taken[timeField] = timeField, true
	}
}

// consider lists what an open column may hold, with what its words and its
// figures say of each.
func (k *candidate) consider(t *table, taken map[field]bool, quiet float64) {
	said := map[field]float64{}
	most := 0.0
	for _, g := range k.column.guesses {
		said[g.field] = g.weight
		most = max(most, g.weight)
	}
	for _, f := range k.column.meaning.fields { // loose words of the lexicon
		said[f] = loose
		if k.column.loosely {
			said[f] = remarked
		}
		most = max(most, said[f])
	}
	if most > 0 && !slices.ContainsFunc(slices.Collect(maps.Keys(said)), func(f field) bool { return f.text() || k.possible(t, f) }) {
		said, most = map[field]float64{}, 0 // the figures are of something else
	}
	leave := 0.0
	if len(said) == 0 {
		k.silent = true
		leave = quiet
		if len(t.unitsOf(k.column)) > 0 || len(k.figures.units) > 0 {
			leave -= hasUnit
		}
		if k.figures.counts || k.figures.steady {
			leave += max(8, float64(k.figures.n)/2) // the longer it goes on, the less it is chance
		}
	}
	k.said = said
	k.fields, k.alone, k.scales = append(k.fields, ignored), append(k.alone, leave), append(k.scales, nil)
	for f := field(0); int(f) < numFields; f++ {
		if taken[f] && said[f] == 0 || f == ignored || f.text() && said[f] == 0 {
			continue
		}
		if f.text() || habits[f] == (habit{}) {
			if w := said[f]; w > 0 && (f != clubField) {
				k.fields, k.alone, k.scales = append(k.fields, f), append(k.alone, w), append(k.scales, nil)
			}
			continue
		}
		weight := said[f]
		if len(said) == 0 {
			weight -= seldom[f]
		}
		if most >= sure/2 && weight == 0 {
			weight = -most / 2 // its words are of something else
		}
		k.add(t, f, weight)
	}
}

// possible reports whether the figures can be of the field in some unit, be they
// usual or not.
func (k *candidate) possible(t *table, f field) bool {
	n, ok := f.number()
	return slices.ContainsFunc(t.scalesOf(k.column, k.figures, f, k.silent), func(s float64) bool {
		m := k.figures.median * s
		return (!ok || n.Info().Least <= m && m <= n.Info().Most) && (habits[f].middle == 0 || !k.figures.sided && m > 0)
	})
}

// add lists one field a column may hold.
func (k *candidate) add(t *table, f field, weight float64) {
	scales := t.scalesOf(k.column, k.figures, f, k.silent)
	if len(scales) == 0 && !k.fixed {
		return
	}
	best := math.Inf(-1)
	for _, s := range scales {
		best = max(best, k.figures.suits(f, s))
	}
	if !k.fixed {
		switch understood := weight >= understoodAt; {
		case best < outOfReach && !(understood && k.possible(t, f)):
			return
		case understood:
			weight += max(best, -unusual)
		default:
			weight += best
		}
	}
	// Units that suit far worse are none.
	scales = slices.DeleteFunc(slices.Clone(scales), func(s float64) bool { return k.figures.suits(f, s) < best-4 })
	k.fields, k.alone, k.scales = append(k.fields, f), append(k.alone, weight), append(k.scales, scales)
	for _, s := range scales {
		vs := make([]float64, len(k.figures.vs))
		for i, v := range k.figures.vs {
			vs[i] = v * s
		}
		k.values[f], k.units[f] = append(k.values[f], vs), append(k.units[f], s)
	}
}

// named reports whether the words of a column name it, and neither another number
// nor leaving it out comes near.
func (k *candidate) named(f field, others, left float64) bool {
	said, rival := k.said[f], 0.0
	for of, w := range k.said {
		if of != f {
			rival = max(rival, w)
		}
	}
	switch {
	case rival > said || left < 0:
		return false
	case said >= spoken:
		return others >= aside
	}
	return said >= hinted && rival < 0.75*said && others >= nearby // "... to path" is hardly the path
}

// clear reports whether the words of a column are understood: it is not left out
// without a question, however odd its figures are.
func (k *candidate) clear() bool {
	return slices.ContainsFunc(k.fields, func(f field) bool { return f.needed() && k.said[f] >= understoodAt })
}

// margin is by how much the way chosen stands above the best in which column i
// holds another number, and above the best in which it holds none.
func (v *vote) margin(chosen []int, i int) (others, left float64) {
	score := v.total(chosen)
	others, left = math.Inf(1), math.Inf(1)
	v.changes(chosen, i, func(way []int) {
		gap := score - v.total(way)
		if v.candidates[i].fields[way[i]] == ignored {
			left = min(left, gap)
		} else {
			others = min(others, gap)
		}
	})
	for _, o := range v.optima {
		switch gap := score - o.score; {
		case o.way[i] == chosen[i]:
		case v.candidates[i].fields[o.way[i]] == ignored:
			left = min(left, gap)
		default:
			others = min(others, gap)
		}
	}
	return others, left
}

// hopeless reports whether nothing needed that column i could hold comes near
// leaving it out.
func (v *vote) hopeless(chosen []int, i int) bool {
	return len(v.likely(chosen, i)) == 0
}

// likely lists what column i may hold, the likeliest first: what comes near
// leaving it out, and near the best.
func (v *vote) likely(chosen []int, i int) []field {
	c := &v.candidates[i]
	type option struct {
		field field
		score float64
	}
	var options []option
	best := math.Inf(-1)
	left := math.Inf(-1)
	for at, f := range c.fields {
		score := math.Inf(-1)
		if at == chosen[i] {
			score = v.total(chosen)
		} else {
			v.changes(chosen, i, func(way []int) {
				if way[i] == at {
					score = max(score, v.total(way))
				}
			})
		}
		if f == ignored {
			left = score
			continue
		}
		options = append(options, option{f, score})
		best = max(best, score)
	}
	slices.SortStableFunc(options, func(a, b option) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
	var fields []field
	for _, o := range options {
		switch {
		case c.silent && v.silent && o.score > best-25 && len(fields) < maxChoices-1, c.said[o.field] >= understoodAt,
			o.score > left-worthAsking && o.score > best-6 && len(fields) < 8:
			fields = append(fields, o.field)
		}
	}
	if c.silent && v.silent && left > best+wellClear+onFiguresAlone {
		return nil // it is something else
	}
	if !slices.ContainsFunc(fields, field.needed) {
		return nil
	}
	return fields
}

// whatIs asks what column i holds, naming what it looks like.
func (v *vote) whatIs(chosen []int, i int) analysis.Question {
	c := v.candidates[i].column
	fields := v.likely(chosen, i)
	q := analysis.Question{Key: "column:" + c.key()}
	if len(c.guesses) > 0 || len(fields) == 1 {
		q.Text = fmt.Sprintf("Is '%s' the %s? Its figures fit.", c.text, fields[0].name())
	} else {
		var names []string
		for _, f := range fields[:min(3, len(fields))] {
			names = append(names, f.name())
		}
		q.Text = fmt.Sprintf("What is in column '%s'? Its figures look like %s.", c.text, strings.Join(names, " or "))
	}
	for _, f := range fields {
		q.Choices = append(q.Choices, analysis.Choice{Value: f.key(), Text: f.name()})
	}
	q.Choices = append(q.Choices, analysis.Choice{Value: ignored.key(), Text: "none of these, leave it out"})
	return q
}
