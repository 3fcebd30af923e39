package impact

import "rangepost/analysis"

// shotOf is a shot of which the whole launch was measured, and nothing else.
func shotOf(l analysis.Launch) analysis.Shot {
	return analysis.Shot{N: 1}.
		With(analysis.BallSpeed, l.Speed).
		With(analysis.LaunchAngle, l.Angle).
		With(analysis.Direction, l.Direction).
		With(analysis.Spin, l.Spin).
		With(analysis.SpinAxis, l.Axis)
}
