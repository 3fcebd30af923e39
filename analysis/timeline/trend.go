package timeline

import (
	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// trend is the slope over all sessions.
func (m *model) trend() Trend {
	if len(m.sessions) < charted {
		return Trend{}
	}
	y, _ := m.means(0, len(m.sessions))
	days, air := make([]float64, len(y)), make([]float64, len(y))
	for i, s := range m.sessions {
		days[i] = s.At.Sub(m.sessions[0].At).Hours() / 24
		air[i] = s.AirDoubt
	}
	slope, okSlope := stat.NewTheilSen(days, y, 0.95)
	test, okTest := stat.NewMannKendall(y)
	if !okSlope || !okTest {
		return Trend{}
	}
	t := Trend{true, slope.Slope, slope.Low, slope.High, test.P}
	if off, ok := stat.NewTheilSen(days, air, 0.95); ok && off.Slope != 0 && t.High > t.Low {
		// As much of its own limits as of those with the air's doubt.
		wide := widened(analysis.Estimate{Mean: t.PerDay, Low: t.Low, High: t.High, OK: true}, off.Slope)
		z := distuv.UnitNormal.Quantile(1-t.P/2) * (t.High - t.Low) / (wide.High - wide.Low)
		t.Low, t.High, t.P = wide.Low, wide.High, 2*distuv.UnitNormal.Survival(z)
	}
	return t
}
