package sessionfile

import (
	"fmt"

	"rangepost/analysis"
)

// dropZeros takes the zeros away that files write where nothing was measured:
// a speed or spin of nothing, and with it every other zero of the same side,
// club or ball, in that row; and columns that are zero throughout.
func dropZeros(cs []column, rows int) (decisions []string) {
	for i := range cs {
		c := &cs[i]
		if _, ok := c.field.number(); !ok || c.count() < 3 {
			continue
		}
		zero := true
		for _, v := range c.cells {
			zero = zero && (!v.ok || v.v == 0)
		}
		if zero {
			decisions = append(decisions, fmt.Sprintf("column '%s' is 0 throughout, taken as not measured", c.text))
			c.cells = make([]cell, rows)
		}
	}
	emptied := 0
	for _, ofClub := range []bool{true, false} {
		var still, zero []int // rows without movement; rows of nothing but zeros
		for i := range rows {
			moved, zeros, others := true, 0, 0
			for _, c := range cs {
				n, ok := c.field.number()
				switch {
				case !ok || (n.Info().Of == analysis.OfClub) != ofClub || c.cells == nil || !c.cells[i].ok:
				case c.cells[i].v != 0:
					others++
				default:
					zeros++
					moved = moved && c.field != clubSpeed && c.field != ballSpeed && c.field != spin
				}
			}
			switch {
			case !moved:
				still = append(still, i)
			case zeros >= 3 && others == 0:
				zero = append(zero, i)
			}
		}
		// One square swing through the middle is luck, a second is a file's way
		// of saying that nothing was measured.
		if len(zero) > 1 {
			still = append(still, zero...)
		}
		for _, i := range still {
			for k := range cs {
				if n, ok := cs[k].field.number(); ok && (n.Info().Of == analysis.OfClub) == ofClub && cs[k].cells != nil && cs[k].cells[i].v == 0 {
					cs[k].cells[i] = cell{}
				}
			}
		}
		emptied += len(still)
	}
	if emptied > 0 {
		decisions = append(decisions, fmt.Sprintf("zeros of %s taken as not measured", plural(emptied, "shot", "shots")))
	}
	return decisions
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
