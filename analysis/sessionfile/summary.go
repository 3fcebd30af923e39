package sessionfile

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"gonum.org/v1/gonum/stat"
)

// summaryWords are what a row of statistics calls itself. A language or a word
// is added by a line.
var summaryWords = []string{
	"average, averages, avg, mean, means, median, std dev, stdev, std, standard deviation, deviation, sd, min, minimum, max, maximum, range, consistency, consistency ±, summary, sum, totals, best, worst, variance, session average, average all",
	"Durchschnitt, Mittelwert, Mittel, Schnitt, Standardabweichung, Streuung, Minimum, Maximum, Zusammenfassung, Spannweite, Ø, Median, MW, Stabw, Std Abw",
	"moyenne, médiane, écart type, écart-type, minimum, maximum, résumé, étendue, moy, dispersion, écart moyen",
	"media, promedio, mediana, desviación estándar, desviación típica, mínimo, máximo, resumen, rango, prom, desv est, desv típica, dispersión",
	"media, mediana, deviazione standard, scarto tipo, minimo, massimo, riepilogo, intervallo, dev std, dispersione",
	"medel, medelvärde, genomsnitt, snitt, median, standardavvikelse, minimum, maximum, sammanfattning, spridning, std avv, stdav",
	"平均, 平均値, 標準偏差, 中央値, 最小, 最大, 最小値, 最大値, 合計, 偏差",
	"평균, 평균값, 표준편차, 중앙값, 최소, 최대, 최솟값, 최댓값, 합계, 편차",
}

var isSummaryWord = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, line := range summaryWords {
		for w := range strings.SplitSeq(line, ", ") {
			m[squeezed(w)] = true
		}
	}
	delete(m, "")
	return m
})

// isSummary reports whether a row calls itself a statistic of the others where
// such rows do: in the first column, in one without a heading, among figures, or
// in place of a club, a number or a time, or anywhere in a row that lacks one of
// these. Elsewhere the word may be anything (a label, a player called Max), and only
// the numbers tell: see dropStatistics.
func (t *table) isSummary(r row) bool {
	for i, cell := range r.cells {
		if namesSummary(cell) && (t.namesRows(i) || t.uncalled(r)) {
			return true
		}
	}
	return false
}

// uncalled reports whether a row has no club, number or time where nearly all have.
func (t *table) uncalled(r row) bool {
	return slices.ContainsFunc(t.columns, func(c column) bool {
		return t.full[c.at] && isMissing(plainText(r.cell(c.at))) && slices.ContainsFunc(c.supposed(), func(f field) bool {
			return f == clubField || f == shotField || f == timeField
		})
	})
}

// supposed is what the words of a column say that it holds.
func (c *column) supposed() []field {
	if len(c.meaning.fields) == 0 && len(c.guesses) > 0 {
		return []field{c.guesses[0].field}
	}
	return c.meaning.fields
}

// namesRows reports whether a column is one that rows are called by.
func (t *table) namesRows(at int) bool {
	i := slices.IndexFunc(t.columns, func(c column) bool { return c.at == at })
	if i < 0 {
		return true
	}
	fields := t.columns[i].supposed()
	called := func(f field) bool { return f == labelField || f == player }
	if t.figured[at] && !slices.ContainsFunc(fields, called) { // a word among figures
		return true
	}
	return at == 0 && !slices.ContainsFunc(fields, called) || slices.ContainsFunc(fields, func(f field) bool {
		return !f.text() || f == clubField || f == shotField || f == timeField
	})
}

// figured are the columns in which nearly every cell has a digit in it, as a
// number has, or "clip-0100.mp4", or is a club: a bare word stands out there. Full
// are those in which nearly every row has a cell.
func figured(rows []row, width int) (all, full []bool) {
	filled, figures := make([]int, width), make([]int, width)
	for _, r := range rows[:min(len(rows), mostFigures)] {
		for k, c := range r.cells[:min(len(r.cells), width)] {
			if text := plainText(c); !isMissing(text) {
				filled[k]++
				figure := strings.ContainsAny(text, "0123456789")
				if !figure {
					_, figure = parseClub(text)
				}
				if figure {
					figures[k]++
				}
			}
		}
	}
	all, full = make([]bool, width), make([]bool, width)
	for k := range all {
		all[k] = figures[k] > 0 && figures[k]*3 >= filled[k]*2
		full[k] = filled[k]*4 >= 3*min(len(rows), mostFigures)
	}
	return all, full
}

// namesSummary reports whether a cell is a word for a statistic, alone or with
// a club: "Average", "7 iron average".
func namesSummary(cell string) bool {
	if cell == "" || len(cell) > 60 || cell[0] == '-' || !strings.ContainsFunc(cell, unicode.IsLetter) {
		return false
	}
	words := spelled(cell)
	if isSummaryWord()[strings.Join(words, "")] {
		return true
	}
	if n := len(words); n > 1 {
		for _, way := range [][2][]string{{words[:1], words[1:]}, {words[n-1:], words[:n-1]}} {
			if !isSummaryWord()[way[0][0]] {
				continue
			}
			if _, club := parseClub(strings.Join(way[1], " ")); club {
				return true
			}
		}
	}
	return false
}

// dropStatistics leaves out rows that do not call themselves statistics but
// are: rows equal, in every number, to the mean, median, spread, least or most
// of the other shots, or of the other shots with their club.
func (t *table) dropStatistics(cs []column) {
	var numbers []column
	for _, c := range cs {
		if !c.field.text() && c.field != shotField {
			numbers = append(numbers, c)
		}
	}
	numbers = append(numbers, t.askedAbout()...)
	var drop map[int]bool
	for _, set := range t.suspects(cs) {
		if t.statistics(numbers, set) {
			drop = map[int]bool{}
			for _, r := range set {
				drop[r] = true
			}
			break
		}
	}
	if drop == nil {
		drop = t.singleMeans(numbers, cs)
	}
	if len(drop) == 0 {
		return
	}
	t.summaries += len(drop)
	t.drop(cs, drop)
	t.dropStatistics(cs) // of the rest, there may be more
}

// drop takes rows away, and what was read of them.
func (t *table) drop(cs []column, drop map[int]bool) {
	keep := func(i int) bool { return !drop[i] }
	t.rows, t.clubs = filtered(t.rows, keep), filtered(t.clubs, keep)
	for i := range cs {
		if cs[i].cells != nil {
			cs[i].cells = filtered(cs[i].cells, keep)
		}
	}
}

// dropOdd leaves out rows that hold as many values that were set aside as
// others: no ball reads like that.
func (t *table) dropOdd(cs []column) {
	odd, good := map[int]int{}, map[int]int{}
	for _, c := range cs {
		for _, r := range c.odd {
			odd[r.Row]++
		}
	}
	drop := map[int]bool{}
	for i, r := range t.rows {
		for _, c := range cs {
			if c.cells != nil && c.cells[i].ok && c.field != shotField {
				good[r.at]++
			}
		}
		if odd[r.at] > 1 && odd[r.at] >= good[r.at] {
			drop[i] = true
		}
	}
	if len(drop) == 0 {
		return
	}
	t.notes += len(drop)
	t.drop(cs, drop)
}

// askedAbout are the columns of figures that nobody has said yet what they hold:
// a mean of all is a mean whatever it is of.
func (t *table) askedAbout() (cs []column) {
	mark, letters := t.looseMark(), t.letteredBy()
	for _, c := range t.columns {
		if !c.asked {
			continue
		}
		c.cells = make([]cell, len(t.rows))
		for i, r := range t.rows {
			n, ok := splitNumeral(plainText(r.cell(c.at)))
			if !ok {
				continue
			}
			if v, ok := n.value(mark); ok {
				if slices.ContainsFunc(strings.Fields(n.before+" "+n.after), letters.left) {
					v = -v
				}
				c.cells[i] = cell{ok: true, v: v, step: math.Pow(0.1, float64(n.decimals(mark)))}
			}
		}
		cs = append(cs, c)
	}
	return cs
}

func filtered[T any](all []T, keep func(int) bool) []T {
	var kept []T
	for i, v := range all {
		if keep(i) {
			kept = append(kept, v)
		}
	}
	return kept
}

// suspects lists sets of rows that might be statistics: those with a word for
// one in any cell; those without the club, number, time or label that nearly
// all others have; a few last and first rows.
func (t *table) suspects(cs []column) (sets [][]int) {
	const few = 6
	add := func(suspect func(row) bool) {
		var set []int
		for i, r := range t.rows {
			if suspect(r) {
				set = append(set, i)
			}
		}
		if n := len(set); n > 0 && n <= few && n*4 <= len(t.rows) {
			sets = append(sets, set)
		}
	}
	add(func(r row) bool { return slices.ContainsFunc(r.cells, namesSummary) })
	for _, c := range cs {
		if c.field == clubField || c.field == shotField || c.field == timeField || c.field == labelField {
			add(func(r row) bool { return isMissing(plainText(r.cell(c.at))) })
		}
	}
	n := len(t.rows)
	for k := min(few, n-2); k > 0; k-- {
		var last []int
		for i := n - k; i < n; i++ {
			last = append(last, i)
		}
		sets = append(sets, last)
	}
	if n > 2 {
		sets = append(sets, []int{0})
	}
	return sets
}

// statistics reports whether every row of the set is some statistic of the
// rows outside it, or of those that stand over it up to the next of the set. Where
// all of them say they are, it is enough that most are.
func (t *table) statistics(numbers []column, set []int) bool {
	inside := map[int]bool{}
	for _, r := range set {
		inside[r] = true
	}
	matched, says := make([]map[string]met, len(set)), make([]bool, len(set))
	for i, r := range set {
		matched[i] = map[string]met{}
		says[i] = slices.ContainsFunc(t.rows[r].cells, namesSummary)
	}
	filled, near := make([]int, len(set)), make([][2]int, len(set))
	// cannot reports whether a row that does not say so can meet no statistic any
	// more, with so many columns to come.
	cannot := func(k, left int) bool {
		return !says[k] && filled[k]-best(matched[k]).n > (filled[k]+left)/8
	}
	for ci, c := range numbers {
		for k := range set {
			if cannot(k, len(numbers)-ci) {
				return false
			}
		}
		var others []float64
		for i := range c.cells {
			if v := &c.cells[i]; v.ok && !inside[i] {
				others = append(others, v.signed())
			}
		}
		if len(others) < 2 {
			continue
		}
		if slices.Min(others) == slices.Max(others) {
			continue // every row agrees with a constant
		}
		stats, chance := describe(others), chanceOf(others)
		for k, r := range set {
			v := c.cells[r]
			if !v.ok {
				continue
			}
			filled[k]++
			if says[k] {
				middle, spread := nearStatistic(v, others)
				if middle {
					near[k][0]++
				}
				if spread {
					near[k][1]++
				}
			}
			for name, s := range stats {
				if math.Abs(v.signed()-s) <= v.rounding() {
					matched[k][name] = matched[k][name].and(chance(v))
				}
			}
			over := c.over(r, inside)
			if len(over) < 2 || len(over) == len(others) {
				continue
			}
			for name, s := range describe(over) {
				if math.Abs(v.signed()-s) <= v.rounding() {
					matched[k]["block's "+name] = matched[k]["block's "+name].and(chance(v))
				}
			}
		}
	}
	statistics, named := 0, 0
	for k := range set {
		if says[k] {
			named++
		}
		if most := max(near[k][0], near[k][1]); meets(best(matched[k]), filled[k], says[k]) || says[k] && most >= 4 && most*5 >= filled[k]*4 {
			statistics++
		}
	}
	return statistics == len(set) || named == len(set) && 2*statistics > named
}

// A met is how many numbers of a row meet a statistic, and the logarithm of the
// chance that a ball does.
type met struct {
	n      int
	chance float64
}

func (m met) and(chance float64) met { return met{m.n + 1, m.chance + math.Log(chance)} }

// chanceOf is the chance that a value among others meets one given, which grows
// with how coarsely it is written.
func chanceOf(others []float64) func(cell) float64 {
	width := slices.Max(others) - slices.Min(others)
	return func(v cell) float64 { return min(1, 2*v.rounding()/max(width, 1e-9)) }
}

// byChance is the logarithm of the chance above which numbers that meet a
// statistic say nothing: of many rows and statistics one is met so.
const byChance = -8

// meets reports whether a row whose numbers meet a statistic that often is one:
// four that vary do not meet a mean by chance, unless they are few and coarse.
// One in eight may miss it: one misread ball moves the mean of one column.
func meets(matched met, filled int, named bool) bool {
	return matched.n >= 4 && matched.n >= filled-filled/8 && (named || matched.chance < byChance)
}

// best is what the numbers are that meet a statistic of those it meets most.
func best(matched map[string]met) (most met) {
	for _, m := range matched {
		if m.n > most.n || m.n == most.n && m.chance < most.chance {
			most = m
		}
	}
	return most
}

// nearStatistic reports whether a value is about the middle of others, and about
// their spread: within half a spread of the median or, as several clubs have none
// that tells, a tenth of their deviation of the mean; and half the spread as much
// again or less. One ball is seldom so in all its numbers; a mean
// taken without the misread balls is.
func nearStatistic(v cell, others []float64) (middle, spread bool) {
	m := median(others)
	gaps := make([]float64, len(others))
	for i, o := range others {
		gaps[i] = math.Abs(o - m)
	}
	sd := 1.483 * median(gaps)
	x := v.signed()
	mean, wide := stat.MeanStdDev(others, nil)
	return math.Abs(x-m) <= 0.5*sd+v.rounding() || math.Abs(x-mean) <= 0.1*wide+v.rounding(), x > 0 && math.Abs(x-sd) <= 0.5*sd+v.rounding()
}

// over are the values that stand over row r, from the rows next above it that
// are none of the set up to one that is.
func (c *column) over(r int, set map[int]bool) (vs []float64) {
	for r--; r >= 0 && set[r]; r-- {
	}
	for ; r >= 0 && !set[r]; r-- {
		if v := c.cells[r]; v.ok {
			vs = append(vs, v.signed())
		}
	}
	return vs
}

func describe(vs []float64) map[string]float64 {
	s := slices.Clone(vs)
	slices.Sort(s)
	n := float64(len(s))
	mean, squares := 0.0, 0.0
	for _, v := range s {
		mean += v / n
	}
	for _, v := range s {
		squares += (v - mean) * (v - mean)
	}
	return map[string]float64{
		"mean": mean, "median": median(s), "least": s[0], "most": s[len(s)-1], "range": s[len(s)-1] - s[0],
		"sample sd": math.Sqrt(squares / (n - 1)), "sd": math.Sqrt(squares / n),
	}
}

// singleMeans finds rows anywhere that are the mean of all others, or of all
// others with their club.
func (t *table) singleMeans(numbers, cs []column) map[int]bool {
	group := func(int) string { return "" }
	drop := map[int]bool{}
	for _, c := range append([]column{{at: -1}}, cs...) {
		if c.at >= 0 {
			if c.field != clubField {
				continue
			}
			group = func(i int) string { return squeezed(t.rows[i].cell(c.at)) }
		}
		type tally struct {
			n   int
			sum float64
		}
		filled, matched := make([]int, len(t.rows)), make([]met, len(t.rows))
		groups := make([]string, len(t.rows))
		for i := range groups {
			groups[i] = group(i)
		}
		for _, c := range numbers {
			sums := map[string]tally{}
			var all []float64
			for _, v := range c.cells {
				if v.ok {
					all = append(all, v.signed())
				}
			}
			if len(all) == 0 || slices.Min(all) == slices.Max(all) {
				continue
			}
			chance := chanceOf(all)
			for i, v := range c.cells {
				if v.ok {
					s := sums[groups[i]]
					sums[groups[i]] = tally{s.n + 1, s.sum + v.signed()}
				}
			}
			for i, v := range c.cells {
				if s := sums[groups[i]]; v.ok && s.n > 2 {
					filled[i]++
					if math.Abs(v.signed()-(s.sum-v.signed())/float64(s.n-1)) <= v.rounding() {
						matched[i] = matched[i].and(chance(v))
					}
				}
			}
		}
		for i := range t.rows {
			if meets(matched[i], filled[i], false) {
				drop[i] = true
			}
		}
	}
	return drop
}

// signed is the value with the side it names as its sign.
func (v cell) signed() float64 {
	if v.side != noSide && !v.side.positive() {
		return -v.v
	}
	return v.v
}

// rounding is how far a value may be from what it was rounded from.
func (v cell) rounding() float64 { return 0.6 * v.step }
