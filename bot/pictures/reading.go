package pictures

import (
	"fmt"
	"strings"

	"github.com/wcharczuk/go-chart/v2/drawing"

	"rangepost/analysis"
	"rangepost/bot/words"
)

// drawReading writes the delivery's numbers under its panel, and what would
// put the centre on target.
func drawReading(c *canvas, in PostInput, b box) {
	r, v := in.Cause, in.Voice
	y := b.top + b.height()/8 + 11
	line := func(s string, colour drawing.Color) {
		c.text(c.cut(s, bodySize, b.width()), point{b.left, y}, bodySize, colour, fromLeft)
		y += b.height() / 4
	}
	for _, each := range eachPattern(r) {
		if e := each.Delivery[analysis.Face]; e.N > 0 {
			line("Face "+sideAndWord(v, analysis.Face, e), faceColour)
		}
		if e := each.Delivery[analysis.Path]; e.N > 0 {
			line("Path "+sideAndWord(v, analysis.Path, e), pathColour)
		}
	}
	if s := v.Needs(r); s != "" {
		line(s, targetText)
	}
	if k := in.Brief; k != nil && k.Of > 0 && len(r.Parts) == 0 {
		head := "In the brief: "
		if _, _, shown := briefLimits(k); !shown {
			head = "Brief, " + k.Brief.Number.String() + ": "
		}
		line(fmt.Sprintf("%s%d of %d", head, k.Inside, k.Of), briefText)
	}
}

// sideAndWord says a mean of face or path as the sentences do, with the golfer's
// own word for it: "3.0° right (open)".
func sideAndWord(v words.Voice, n analysis.Number, e analysis.Estimate) string {
	says, off := strings.CutSuffix(v.Mean(n, e), " of target")
	if off {
		says += " (" + v.Toward(n, e.Mean) + ")"
	}
	return says
}

// notMeasured says why there is no delivery.
func notMeasured(missing []analysis.Number) string {
	if len(missing) == 0 {
		return "The delivery was not measured: this file has no face and path."
	}
	names := ""
	for i, n := range missing {
		switch {
		case i == 0:
		case i == len(missing)-1:
			names += " and no "
		default:
			names += ", no "
		}
		names += n.String()
	}
	return "The delivery was not measured: this file has no " + names + "."
}
