package visits

import "rangepost/analysis"

// A vector is a delivery's numbers in the order of delivered.
type vector [7]float64

// delivered are the numbers of a delivery; everything else follows from them.
var delivered = [7]analysis.Number{
	analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face,
	analysis.DynamicLoft, analysis.StrikeToe, analysis.StrikeUp,
}

// Places of numbers in a vector.
const (
	speed = iota
	attack
	path
	face
	loft
	toe
	up
)

func of(d analysis.Delivery) vector {
	return vector{d.ClubSpeed, d.Attack, d.Path, d.Face, d.DynamicLoft, d.StrikeToe, d.StrikeUp}
}

func (v vector) delivery() analysis.Delivery {
	return analysis.Delivery{
		ClubSpeed: v[speed], Attack: v[attack], Path: v[path], Face: v[face],
		DynamicLoft: v[loft], StrikeToe: v[toe], StrikeUp: v[up],
	}
}

// plus is v with k of w added.
func (v vector) plus(k float64, w vector) vector {
	for i := range v {
		v[i] += k * w[i]
	}
	return v
}
