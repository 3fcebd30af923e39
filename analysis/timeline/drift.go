package timeline

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

const (
	charted = 8   // fewest sessions a chart is drawn of
	settled = 20  // sessions from which its limits count as known
	lambda  = 0.3 // weight of the newest session
	sigmas  = 3   // from the target to either limit
)

// drift charts the sessions since the last lesson.
func (m *model) drift(lessons []analysis.Lesson) Drift {
	d := Drift{Out: -1}
	if n := len(lessons); n > 0 {
		d.From = m.firstAt(lessons[n-1].At)
	}
	n := len(m.sessions) - d.From
	if n < charted {
		return d
	}
	y, v := m.means(d.From, len(m.sessions))
	between := successive(y, v)
	weights, sum := 0.0, 0.0
	sd := make([]float64, n)
	for i := range y {
		sd[i] = math.Sqrt(between + v[i])
		w := 1 / (between + v[i])
		weights += w
		sum += w * y[i]
	}
	d.Target = sum / weights
	if math.IsInf(weights, 0) { // no session differs from another
		return Drift{From: d.From, Out: -1}
	}
	d.OK, d.Watch = true, n < settled
	z, low, high := stat.EWMA(y, sd, d.Target, lambda, sigmas)
	d.EWMA, d.Low, d.High = make([]float64, len(m.sessions)), make([]float64, len(m.sessions)), make([]float64, len(m.sessions))
	for i := range m.sessions {
		if i < d.From {
			d.EWMA[i], d.Low[i], d.High[i] = d.Target, d.Target, d.Target
			continue
		}
		k := i - d.From
		d.EWMA[i], d.Low[i], d.High[i] = z[k], low[k], high[k]
		switch outside := z[k] < low[k] || z[k] > high[k]; {
		case !outside:
			d.Out = -1
		case d.Out < 0:
			d.Out = i
		}
	}
	return d
}
