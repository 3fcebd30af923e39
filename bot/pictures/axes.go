package pictures

import (
	"math"
	"strconv"

	"github.com/wcharczuk/go-chart/v2"
)

// A panel is a box with a number across and a number up.
type panel struct {
	box
	x, y *scale
}

// at is the canvas point of (x, y) in the panel's shown units.
func (p panel) at(x, y float64) point { return point{p.x.at(x), p.y.at(y)} }

// sided labels a tick of a sideways number: "10 L", "0", "10 R".
func sided(v, step float64) string {
	switch {
	case v < -step/2:
		return decimal(-v, step) + " L"
	case v > step/2:
		return decimal(v, step) + " R"
	}
	return "0"
}

// signed labels a tick with a true minus sign.
func signed(v, step float64) string {
	if v < -step/2 {
		return "−" + decimal(-v, step)
	}
	return decimal(math.Abs(v), step)
}

// decimal writes v with as many decimals as a step between ticks needs.
func decimal(v, step float64) string {
	digits := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strconv.FormatFloat(v, 'f', digits, 64)
}

// ground paints the panel and its grid with go-chart's axes.
func (c *canvas) ground(p panel, xt, yt []chart.Tick) {
	if !c.ready() {
		return
	}
	c.sheet(ground, p.box)
	c.SetStrokeDashArray(nil)
	f, err := typeface()
	if err != nil {
		c.err = err
		return
	}
	style := chart.Style{Font: f, FontSize: smallSize, FontColor: muted, StrokeColor: rule, StrokeWidth: 2}
	grid := chart.Style{StrokeColor: rule, StrokeWidth: 1.5}
	if xt != nil {
		chart.XAxis{Style: style, GridMajorStyle: grid, GridMinorStyle: grid}.
			Render(c, p.chart(), p.x, style, xt)
	}
	if yt != nil {
		chart.YAxis{AxisType: chart.YAxisSecondary, Style: style, GridMajorStyle: grid, GridMinorStyle: grid, Zero: chart.GridLine{Style: chart.Hidden()}}.
			Render(c, p.chart(), p.y, style, yt)
	}
}
