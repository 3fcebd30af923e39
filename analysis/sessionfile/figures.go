package sessionfile

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"rangepost/analysis"
)

// Figures are a column's values before it is known what they are: as written,
// with what could be read of units and sides beside them.
type figures struct {
	vs     []float64 // by row, NaN where missing
	n      int
	median float64
	spread float64 // median distance from the median
	least  float64
	most   float64
	below  float64 // share under zero
	sided  bool    // some say a side in words
	units  []string
	whole  bool    // no value has decimals
	step   float64 // what one of the last digit is worth
	counts bool    // 1, 2, 3 ... as shots are numbered
	steady bool    // it goes up or down by the same from shot to shot, or says but two things

	few bool // hardly any differ, and letters stand beside them

	usual []map[field]float64 // of the club of each row, nil where it is not known
}

// marks counts what a file's numbers say of its decimal mark.
func (t *table) looseMark() byte {
	dots, commas, single := 0, 0, 0
	for _, r := range t.rows[:min(len(t.rows), 40)] {
		for _, c := range r.cells {
			n, ok := splitNumeral(plainText(c))
			if !ok {
				continue
			}
			switch n.mark() {
			case dotMark:
				dots++
			case commaMark:
				commas++
			case oneComma:
				single++
			}
		}
	}
	if commas > dots || dots == 0 && commas == 0 && single > 0 && !t.typed {
		return ','
	}
	return '.'
}

// A lettering is which letters stand alone beside a file's values: what one of them
// means, another may tell.
type lettering map[string]bool

// letteredBy are the letters beside the values of the first rows.
func (t *table) letteredBy() lettering {
	l := lettering{}
	for _, r := range t.rows[:min(len(t.rows), 40)] {
		for _, c := range r.cells {
			if len(c) > 16 || !strings.ContainsFunc(c, unicode.IsLetter) {
				continue
			}
			if n, ok := splitNumeral(plainText(c)); ok {
				for _, w := range []string{squeezed(n.before), squeezed(n.after)} {
					if len(w) == 1 {
						l[w] = true
					}
				}
			}
		}
	}
	return l
}

// mostFigures is how many rows are looked at to tell what a column holds: of
// more the middle says no more.
const mostFigures = 120

// figuresOf reads a column's values; ok is false unless most cells that hold
// something hold a number.
func (t *table) figuresOf(c *column, mark byte, l lettering) (f figures, ok bool) {
	rows := t.rows[:min(len(t.rows), mostFigures)]
	f.vs, f.whole, f.step = make([]float64, len(rows)), true, 1
	filled := 0
	var sorted []float64
	written := map[string]bool{}
	for i, r := range rows {
		f.vs[i] = math.NaN()
		text := plainText(r.cell(c.at))
		if isMissing(text) {
			continue
		}
		filled++
		if !isFigure(text) {
			continue
		}
		written[text] = true
		n, _ := splitNumeral(text)
		v, ok := n.value(mark)
		if !ok {
			if v, ok = n.value('.' + ',' - mark); !ok {
				continue
			}
		}
		for w := range strings.FieldsFuncSeq(n.before+" "+n.after, func(r rune) bool { return strings.ContainsRune(" ()[],;", r) }) {
			s := squeezed(w)
			switch {
			case isUnit(w) && len(sideBySpelling()[s]) == 0 && !(s == "s" && (l["d"] || n.before != "" && squeezed(n.before) == "s")): // seconds stand behind
				if !slices.Contains(f.units, unitSpelling(w)) {
					f.units = append(f.units, unitSpelling(w))
				}
			case l.left(w):
				f.sided = true
				v = -math.Abs(v)
			default:
				f.sided = true
			}
		}
		f.whole = f.whole && n.decimals(mark) == 0
		f.step = min(f.step, math.Pow(0.1, float64(n.decimals(mark))))
		f.vs[i] = v
		sorted = append(sorted, v)
		if v < 0 {
			f.below++
		}
	}
	f.n = len(sorted)
	if f.n == 0 || f.n*4 < filled*3 {
		return f, false
	}
	f.counts = f.whole && f.n >= 2
	for i := 1; i < f.n; i++ {
		f.counts = f.counts && math.Abs(sorted[i]-sorted[i-1]) == 1 && sorted[i] > 0
	}
	f.steady = steady(sorted)
	f.few = f.n >= 5 && len(written)*4 <= f.n
	for text := range written {
		f.few = f.few && strings.ContainsFunc(text, unicode.IsLetter)
	}
	f.below /= float64(f.n)
	slices.Sort(sorted)
	f.median, f.least, f.most = median(sorted), sorted[0], sorted[f.n-1]
	gaps := make([]float64, f.n)
	for i, v := range sorted {
		gaps[i] = math.Abs(v - f.median)
	}
	f.spread = median(gaps)
	return f, true
}

// steady reports whether values in the order of the shots mostly change by one
// and the same, as a clock or a thermometer does, or are but two values, as of
// a question with yes or no.
func steady(vs []float64) bool {
	if len(vs) < 6 {
		return false
	}
	steps, values := map[float64]int{}, map[float64]bool{}
	most := 0
	for i, v := range vs {
		values[v] = true
		if i == 0 {
			continue
		}
		if d := math.Round((v-vs[i-1])*1e4) / 1e4; d != 0 {
			steps[d]++
			most = max(most, steps[d])
		}
	}
	return len(values) <= 2 || most*10 > 6*(len(vs)-1)
}

// left reports whether a word or letter names a side that is written with a
// minus. An H is a heel, but right beside a V.
func (l lettering) left(w string) bool {
	s := squeezed(w)
	return isLeft(s) || len(sideBySpelling()[s]) > 0 && !sideBySpelling()[s][0].side.positive() && !(s == "h" && l["v"])
}

// isLeft reports whether a letter means left in some language.
func isLeft(letter string) bool {
	return slices.ContainsFunc(letterPairs, func(p struct{ right, left, language string }) bool { return letter == p.left })
}

// A habit is what a session's values of a number usually are: for one that is
// never negative the median on a logarithmic scale, else about nothing, and
// how they spread from shot to shot. Common practice, no source; a deviation
// of one says little, one of three much.
type habit struct {
	middle  float64 // SI; 0 for a number of two signs
	wide    float64 // deviation of sessions' medians: of the logarithm, or SI
	scatter float64 // usual spread about the median, SI, or as a share of it
}

var habits = map[field]habit{
	clubSpeed:                {38, 0.2, 0.02},
	ballSpeed:                {53, 0.23, 0.025},
	smash:                    {1.37, 0.06, 0.02},
	launch:                   {17 * degree, 0.35, 0.09},
	dynamicLoft:              {22 * degree, 0.35, 0.07},
	field(analysis.SpinLoft): {25 * degree, 0.35, 0.07},
	descent:                  {42 * degree, 0.2, 0.06},
	field(analysis.Lie):      {60 * degree, 0.08, 0.02},
	spin:                     {5200 * analysis.RevPerMinute, 0.45, 0.07},
	backSpin:                 {5200 * analysis.RevPerMinute, 0.45, 0.07},
	carry:                    {140, 0.33, 0.035},
	total:                    {150, 0.33, 0.035},
	apex:                     {25, 0.33, 0.07},
	flightTime:               {5.4, 0.2, 0.04},
	attack:                   {0, 3.5 * degree, 1 * degree},
	path:                     {0, 4 * degree, 1.3 * degree},
	face:                     {0, 3 * degree, 1.3 * degree},
	faceToPath:               {0, 3 * degree, 1.5 * degree},
	direction:                {0, 2.5 * degree, 1.3 * degree},
	spinAxis:                 {0, 7 * degree, 3.5 * degree},
	sideSpin:                 {0, 600 * analysis.RevPerMinute, 300 * analysis.RevPerMinute},
	lateral:                  {0, 7, 5},
	lateralTotal:             {0, 8, 6},
	strikeToe:                {0, 0.006, 0.005},
	strikeUp:                 {0, 0.006, 0.004},
}

// seldom is how much less often than others a column that nothing names is one
// of these: few devices give them, and total and spin's parts seldom alone.
// Common practice, no source.
var seldom = map[field]float64{
	backSpin: 1, sideSpin: 1.5, field(analysis.SpinLoft): 0.7, field(analysis.Lie): 1.2,
	total: 0.2, lateralTotal: 0.3, flightTime: 0.3, strikeToe: 0.5, strikeUp: 0.6,
}

// leans are the numbers that few devices give without another.
var leans = []struct {
	field, on field
	weight    float64
}{
	{backSpin, sideSpin, 2}, {sideSpin, backSpin, 2}, {field(analysis.SpinLoft), dynamicLoft, 1.5},
	{total, carry, 1}, {lateralTotal, lateral, 1}, {face, path, 1.5}, {faceToPath, path, 0.5}, {dynamicLoft, clubSpeed, 1}, {dynamicLoft, launch, 1},
}

// suits is how well figures in a unit of that scale suit a field, in units of
// log likelihood under the likeliest: 0 where they are just usual.
func (f figures) suits(of field, scale float64) float64 {
	h, ok := habits[of]
	if !ok {
		return -2
	}
	const floor = -9
	score := 0.0
	if n, ok := of.number(); ok {
		info := n.Info()
		if m := f.median * scale; m < info.Least || m > info.Most {
			return floor
		}
	}
	finest := f.step / 4 // what lies closer together is rounded to one
	spread := max(f.spread, finest) * scale
	lenient := h.middle > 0
	if h.middle > 0 {
		if f.sided || f.below > 0.1 || f.median <= 0 {
			return floor
		}
		z := math.Log(f.median*scale/h.middle) / h.wide
		spread /= f.median * scale
		if middle, s, ok := f.against(of, scale); ok {
			z, spread, lenient = middle/besideUsual[of], max(s, finest/f.median), false
		}
		score -= 0.5 * z * z
	} else {
		z := f.median * scale / h.wide
		score -= 0.5 * z * z
		if !f.sided && (f.below == 0 || f.below == 1) && f.n >= 8 && of != attack {
			score -= 0.7
		}
	}
	if f.n >= 5 {
		// Several clubs widen what one club does.
		z := math.Log(max(spread, h.scatter/50)/h.scatter) / 0.9
		if z > 0 && lenient {
			z /= 2
		}
		most := 1.5
		if z < 0 {
			most = 3 // nobody repeats a swing so well
		}
		score -= min(most, 0.25*z*z)
	}
	if f.whole && (of == smash || of == flightTime) {
		score -= 3
	}
	return max(score, floor)
}

// scalesOf are the scales of the units that figures of a field can be in: of
// the one that is given, or of all that files use; of a column that nothing
// names, only of the common ones.
func (t *table) scalesOf(c *column, f figures, of field, silent bool) []float64 {
	dim := of.dimension()
	if dim == ratio {
		return []float64{1}
	}
	given := append(t.unitsOf(c), f.units...)
	if len(given) > 0 {
		if u, ok := unitFor(given[0], dim); ok {
			return []float64{u.scale}
		}
		return nil
	}
	if u, ok := t.unitAbove(of); ok {
		return []float64{u.scale}
	}
	for _, fam := range families {
		if slices.Contains(fam.fields, of) {
			var all []float64
			units := fam.units
			if silent {
				units = units[:fam.common]
			}
			for _, name := range units {
				all = append(all, unitNamed(name, dim).scale)
			}
			return all
		}
	}
	return []float64{1}
}
