package sessionfile

import (
	"math"
	"time"

	"rangepost/analysis"
)

// written is what the rows say of themselves, before they are put in order.
func (t *table) written(cs []column, o Options) (w analysis.Written) {
	for _, c := range cs {
		if c.field == shotField && w.Numbers == nil {
			w.Numbers = make([]int, len(c.cells))
			for i, v := range c.cells {
				if v.ok && v.v == math.Trunc(v.v) && v.v <= maxNumber {
					w.Numbers[i] = int(v.v)
				}
			}
		}
		w.Otherwise += c.otherwise()
	}
	cells, _ := t.stamps(cs)
	times, ambiguous := parseTimes(cells, o.Zone)
	if ambiguous {
		return w
	}
	for i, m := range times {
		if m.dated != analysis.ByClock && m.dated != analysis.ByInstant {
			continue
		}
		if w.Times == nil {
			w.Times = make([]time.Time, len(times))
		}
		w.Times[i] = m.Time
	}
	return w
}

// leastFixed is how many figures show how a column is written, and how many
// there are to each that is written otherwise.
const leastFixed = 6

// otherwise counts the figures of a column that were written by another hand
// than the rest. A program that writes "12.0" writes every figure of a column
// to the same decimals, or to the same digits, so that the large ones have
// fewer; a spreadsheet that was saved in between writes no zeros at the end,
// and then nothing is told.
func (c *column) otherwise() (n int) {
	if _, number := c.field.number(); !number {
		return 0
	}
	count := map[int]int{}
	zeros, least, most := 0, math.Inf(1), 0.0
	decimals := func(v cell) int { return int(math.Round(-math.Log10(v.step))) }
	for _, v := range c.cells {
		if !v.ok || v.si || v.v == 0 {
			continue
		}
		d := decimals(v)
		count[d]++
		if d > 0 && math.Mod(math.Round(math.Abs(v.v)/v.step), 10) == 0 {
			zeros++
		}
	}
	usual := 0
	for d, k := range count {
		if k > count[usual] || k == count[usual] && d > usual {
			usual = d
		}
	}
	if usual == 0 || zeros == 0 || count[usual] < leastFixed {
		return 0
	}
	for _, v := range c.cells {
		switch {
		case !v.ok || v.si || v.v == 0:
		case decimals(v) == usual:
			most = max(most, math.Abs(v.v))
		default:
			n++
			least = min(least, math.Abs(v.v))
		}
	}
	if n*leastFixed > count[usual] || least > most {
		return 0
	}
	return n
}
