package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"
)

// maxNumber is the highest shot number believed; beyond it a "number" is an
// identifier or a time.
const maxNumber = 100000

// order puts the rows in the order the shots were hit and numbers them: by the
// file's own shot numbers if each is there once, by its times if each is, and
// else as the rows stand. Newest-first files come out oldest first.
func (t *table) order(cs []column) (numbers []int, decisions []string) {
	numbers = make([]int, len(t.rows))
	for i := range numbers {
		numbers[i] = i + 1
	}
	by := make([]float64, len(t.rows))
	for _, c := range cs {
		if c.field == shotField && c.wholeAndUnique() {
			for i, v := range c.cells {
				numbers[i], by[i] = int(v.v), v.v
			}
			t.permute(cs, numbers, by)
			return numbers, append(decisions, fmt.Sprintf("shots numbered by column '%s'", c.text))
		}
	}
	cells, _ := t.stamps(cs)
	times, ambiguous := parseTimes(cells, time.UTC)
	seen := map[int64]bool{}
	for i, when := range times {
		if when.IsZero() || ambiguous || seen[when.UnixNano()] {
			return numbers, nil
		}
		seen[when.UnixNano()] = true
		by[i] = float64(when.Unix())
	}
	if !slices.IsSorted(by) {
		t.permute(cs, nil, by)
		decisions = append(decisions, "shots put in the order of their times")
	}
	return numbers, decisions
}

// permute sorts rows, and whatever goes along with them, by a key.
func (t *table) permute(cs []column, numbers []int, by []float64) {
	at := make([]int, len(by))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int {
		switch {
		case by[a] < by[b]:
			return -1
		case by[a] > by[b]:
			return 1
		}
		return 0
	})
	t.rows, t.clubs = sorted(t.rows, at), sorted(t.clubs, at)
	for i := range cs {
		if cs[i].cells != nil {
			cs[i].cells = sorted(cs[i].cells, at)
		}
	}
	if numbers != nil {
		copy(numbers, sorted(numbers, at))
	}
}

func sorted[T any](all []T, at []int) []T {
	out := make([]T, len(all))
	for i, from := range at {
		out[i] = all[from]
	}
	return out
}

// wholeAndUnique reports whether every row has its own positive whole number.
func (c *column) wholeAndUnique() bool {
	seen := map[float64]bool{}
	for _, v := range c.cells {
		if !v.ok || v.v < 1 || v.v > maxNumber || v.v != math.Trunc(v.v) || seen[v.v] {
			return false
		}
		seen[v.v] = true
	}
	return len(c.cells) > 0
}

// readNumbers reads a column of shot numbers. What is no number is merely no
// number: the column names shots, it measures nothing.
func (c *column) readNumbers(rows []row) {
	c.cells = make([]cell, len(rows))
	for i, r := range rows {
		if n, err := strconv.ParseFloat(plainText(r.cell(c.at)), 64); err == nil && !math.IsNaN(n) {
			c.cells[i] = cell{ok: true, si: true, v: n}
		}
	}
}
