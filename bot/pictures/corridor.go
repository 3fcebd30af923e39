package pictures

import (
	"slices"

	"rangepost/analysis/cause"
)

// drawCorridor draws the band and returns places for its label: along its
// middle, then beside it.
func drawCorridor(c *canvas, k cause.Corridor, at func(path, face float64) point) []point {
	if !k.OK || len(k.Edges) < 2 {
		return nil
	}
	var low, high, middle []point
	for _, e := range k.Edges {
		low, high = append(low, at(e.Path, e.FaceLow)), append(high, at(e.Path, e.FaceHigh))
	}
	for i := 1; i < len(low); i++ {
		for _, t := range []float64{0, .25, .5, .75} {
			a, b := (1-t)/2, t/2
			middle = append(middle, point{a*(low[i-1].x+high[i-1].x) + b*(low[i].x+high[i].x), a*(low[i-1].y+high[i-1].y) + b*(low[i].y+high[i].y)})
		}
	}
	for _, off := range []float64{34, -34} {
		for i := range low {
			y := low[i].y + off
			if off < 0 {
				y = high[i].y + off
			}
			middle = append(middle, point{low[i].x, y})
		}
	}
	for _, edge := range [][]point{low, high} {
		c.line(pen{targetColour, 3, nil}, edge...)
		c.beads(edge)
	}
	slices.Reverse(high)
	c.polygon(fade(targetColour, .16), none, 0, append(low, high...)...)
	return middle
}
