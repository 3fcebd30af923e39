package trial

import "rangepost/analysis/stat"

// compareByDunnett compares all sets that have a number by Dunnett's method,
// and adjusts for the numbers by Bonferroni.
func (t *trial) compareByDunnett(rows []Row) {
	numbers := map[*column][]int{}
	var order []*column
	for c := range t.columns {
		col := &t.columns[c]
		for i, r := range rows {
			if r.Number == col.number && r.Base >= 2 && r.Here >= 2 {
				if numbers[col] == nil {
					order = append(order, col)
				}
				numbers[col] = append(numbers[col], i)
			}
		}
	}
	for _, col := range order {
		at := numbers[col]
		samples := make([]stat.Sample, len(at))
		for k, i := range at {
			samples[k] = col.samples[rows[i].Set]
		}
		d, ok := stat.NewDunnett(col.samples[0], samples)
		if !ok {
			continue
		}
		critical := d.Critical(1 - alpha/float64(len(order)))
		for k, i := range at {
			r := &rows[i]
			r.OK = true
			r.P = d.Each[k].P
			r.PAdjusted = max(r.P, min(1, float64(len(order))*d.P[k])) // not under P by rounding
			r.Low, r.High = d.Limits(k, critical)
			r.Low90, r.High90 = d.Each[k].Limits(1 - 2*alpha)
			r.PHeld = stat.TOST(d.Each[k], r.Zero).P
		}
	}
}
