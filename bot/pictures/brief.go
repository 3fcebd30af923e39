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

// drawBrief draws the coach's limits as a box, dashed.
func drawBrief(c *canvas, p panel, k *timeline.Kept) {
	low, high, ok := briefLimits(k)
	if !ok {
		return
	}
	const far = beyondPanel
	var shape []point
	switch k.Brief.Number {
	case analysis.Face:
		shape = []point{p.at(-far, low), p.at(far, low), p.at(far, high), p.at(-far, high)}
	case analysis.Path:
		shape = []point{p.at(low, -far), p.at(high, -far), p.at(high, far), p.at(low, far)}
	default:
		shape = []point{p.at(-far, -far+low), p.at(far, far+low), p.at(far, far+high), p.at(-far, -far+high)}
	}
	c.polygon(fade(briefColour, .10), none, 0, shape...)
	c.ring(pen{briefColour, 4, []float64{16, 9}}, shape)
}

// briefSpots are places for the brief's word, inside its box.
func briefSpots(p panel, k *timeline.Kept) []point {
	low, high, ok := briefLimits(k)
	if !ok {
		return nil
	}
	var spots []point
	for i := range 9 {
		t := (float64(i) + .5) / 9
		across, up := p.x.Min+t*(p.x.Max-p.x.Min), p.y.Min+t*(p.y.Max-p.y.Min)
		switch k.Brief.Number {
		case analysis.Face:
			lo, _ := p.y.clamp(low)
			hi, _ := p.y.clamp(high)
			spots = append(spots, p.at(across, (lo+hi)/2))
		case analysis.Path:
			lo, _ := p.x.clamp(low)
			hi, _ := p.x.clamp(high)
			spots = append(spots, p.at((lo+hi)/2, up))
		default:
			spots = append(spots, p.at(across, across+(max(low, -30)+min(high, 30))/2))
		}
	}
	return spots
}
