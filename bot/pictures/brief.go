package pictures

import (
	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// beyondPanel is further, in degrees, than any panel shows.
const beyondPanel = 90.0

// briefLimits are the brief's limits in degrees if the panel can show its
// number; an open limit lies far off the panel.
func briefLimits(k *timeline.Kept) (low, high float64, ok bool) {
	if k == nil {
		return 0, 0, false
	}
	switch k.Brief.Number {
	case analysis.Face, analysis.Path, analysis.FaceToPath:
	default:
		return 0, 0, false
	}
	low, high = -beyondPanel, beyondPanel
	if k.Brief.Low != nil {
		low = *k.Brief.Low / analysis.Degree
	}
	if k.Brief.High != nil {
		high = *k.Brief.High / analysis.Degree
	}
	return low, high, true
}

// briefEdge is the lines of the coach's limits on a panel of face and path, low
// and high; they run upward where the brief is of the path.
func briefEdge(p panel, k *timeline.Kept) (low, high []point, ok bool) {
	from, to, ok := briefLimits(k)
	if !ok {
		return nil, nil, false
	}
	const far = beyondPanel
	switch k.Brief.Number {
	case analysis.Face:
		return []point{p.at(-far, from), p.at(far, from)}, []point{p.at(-far, to), p.at(far, to)}, true
	case analysis.Path:
		return []point{p.at(from, -far), p.at(from, far)}, []point{p.at(to, -far), p.at(to, far)}, true
	}
	return []point{p.at(-far, -far+from), p.at(far, far+from)}, []point{p.at(-far, -far+to), p.at(far, far+to)}, true
}

// drawBrief draws the coach's limits as dashed lines. What lies between them
// has no colour of its own, which would mix with the green.
func drawBrief(c *canvas, p panel, k *timeline.Kept) {
	low, high, ok := briefEdge(p, k)
	if !ok {
		return
	}
	for _, edge := range [][]point{low, high} {
		c.line(pen{briefColour, 5, []float64{16, 9}}, edge...)
		c.beads(edge)
	}
}

// briefHolds tells whether a text's box lies inside the brief.
func briefHolds(p panel, k *timeline.Kept) func(box) bool {
	low, high, ok := briefEdge(p, k)
	return func(text box) bool {
		switch {
		case !ok:
			return false
		case k.Brief.Number == analysis.Path:
			return text.left > low[0].x && text.right < high[0].x
		}
		return band{high, nil, low}.holds(text)
	}
}
