package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// A whitening turns numbers into independent ones with the spread of one ball for
// unit: by Cholesky's factor of their covariance from one ball to the next, which no
// level and no slow change touches.
type whitening struct {
	at     []int       // columns taken
	scale  []float64   // of each
	factor [][]float64 // lower triangle, of the scaled columns
}

// clipped is how many spreads from the middle a ball counts for at most: mishits
// that nobody set aside.
const clipped = 2.5

func newWhitening(sessions [][][]float64, numbers []analysis.Number) whitening {
	var w whitening
	steps := make([][]float64, len(numbers)) // by number, from one ball to the next
	for _, rows := range sessions {
		var last []float64
		for _, row := range rows {
			if row == nil {
				continue
			}
			if last != nil {
				for j := range steps {
					steps[j] = append(steps[j], row[j]-last[j])
				}
			}
			last = row
		}
	}
	for j := range steps {
		if slices.Contains(numbers[:j], numbers[j]) || len(steps[j]) < 8 {
			continue
		}
		size := make([]float64, len(steps[j]))
		for i, s := range steps[j] {
			size[i] = math.Abs(s)
		}
		slices.Sort(size)
		scale := 1.4826 * size[len(size)/2] / math.Sqrt2
		if !(scale > 0) {
			continue
		}
		for i := range steps[j] {
			steps[j][i] = clip(steps[j][i]/scale/math.Sqrt2, clipped)
		}
		// One more row of the factor, if the number says something of its own.
		row := make([]float64, len(w.at)+1)
		for k, at := range w.at {
			row[k] = dot(steps[j], steps[at]) / float64(len(steps[j]))
			for l := range k {
				row[k] -= row[l] * w.factor[k][l]
			}
			row[k] /= w.factor[k][k]
		}
		own := dot(steps[j], steps[j]) / float64(len(steps[j]))
		left := own - dot(row[:len(w.at)], row[:len(w.at)])
		if left < own/5 {
			continue
		}
		row[len(w.at)] = math.Sqrt(left)
		w.at, w.scale, w.factor = append(w.at, j), append(w.scale, scale), append(w.factor, row)
		if len(w.at) == mostNumbers {
			break
		}
	}
	return w
}

// ready are a session's slots: which are measured, their whitened values without
// the slow changes, and these. slot is each row's slot, nil if it is its own.
func (w whitening) ready(rows [][]float64, slot []int, slots int) (weight []float64, value, drift [][]float64) {
	weight = make([]float64, slots)
	value = make([][]float64, len(w.at))
	middle := make([]float64, len(w.at))
	for j, at := range w.at {
		value[j] = make([]float64, slots)
		var all []float64
		for _, row := range rows {
			if row != nil {
				all = append(all, row[at])
			}
		}
		if len(all) > 0 {
			slices.Sort(all)
			middle[j] = all[len(all)/2]
		}
	}
	z := make([]float64, len(w.at))
	for i, row := range rows {
		at := i
		if slot != nil {
			at = slot[i]
		}
		if row == nil {
			continue
		}
		weight[at] = 1
		for j, col := range w.at {
			z[j] = clip((row[col]-middle[j])/w.scale[j], clipped)
			for k := range j {
				z[j] -= w.factor[j][k] * z[k]
			}
			z[j] /= w.factor[j][j]
			value[j][at] = z[j]
		}
	}
	drift = slow(weight)
	for _, q := range drift {
		for j := range value {
			c := dot(q, value[j])
			for i := range value[j] {
				value[j][i] -= c * q[i]
			}
		}
	}
	return weight, value, drift
}

func clip(x, most float64) float64 { return max(-most, min(most, x)) }
