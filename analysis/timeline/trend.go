package timeline

import "rangepost/analysis/stat"

// trend is the slope over all sessions.
func (m *model) trend() Trend {
	if len(m.sessions) < charted {
		return Trend{}
	}
	y, _ := m.means(0, len(m.sessions))
	days := make([]float64, len(y))
	for i, s := range m.sessions {
		days[i] = s.At.Sub(m.sessions[0].At).Hours() / 24
	}
	slope, okSlope := stat.NewTheilSen(days, y, 0.95)
	test, okTest := stat.NewMannKendall(y)
	if !okSlope || !okTest {
		return Trend{}
	}
	return Trend{true, slope.Slope, slope.Low, slope.High, test.P}
}
