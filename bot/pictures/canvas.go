package pictures

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"math"
	"slices"

	"github.com/wcharczuk/go-chart/v2"
	"github.com/wcharczuk/go-chart/v2/drawing"
)

// A point is a place on the canvas in pixels, y down.
type point struct{ x, y float64 }

// A box is a rectangle on the canvas in pixels.
type box struct{ left, top, right, bottom float64 }

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }

func (b box) overlaps(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

func (b box) holds(p point) bool {
	return p.x >= b.left && p.x <= b.right && p.y >= b.top && p.y <= b.bottom
}

func (b box) inset(d float64) box { return box{b.left + d, b.top + d, b.right - d, b.bottom - d} }

// chart is the box as go-chart has it.
func (b box) chart() chart.Box {
	return chart.Box{Left: int(b.left), Top: int(b.top), Right: int(b.right), Bottom: int(b.bottom)}
}

// A label is a text that was drawn and where, so that the next one can keep
// clear of it and tests can see that it did.
type label struct {
	text string
	box  box
	size float64
}

// A canvas is a go-chart raster with the safety go-chart lacks: what is not
// finite is dropped, what is outside is clipped, and after ctx ends nothing
// more is drawn and err says so. It is a chart.Renderer, for go-chart's axes.
type canvas struct {
	chart.Renderer
	raster *image.RGBA // what the renderer draws on
	ctx    context.Context
	err    error
	bounds box
	clip   box
	size   float64 // of the font, as set last
	labels []label
	marks  []box // balls and the like, which a label would rather not cover
	keep   []box // marks that no label may cover
}

func newCanvas(ctx context.Context, w, h int) (*canvas, error) {
	f, err := typeface()
	if err != nil {
		return nil, fmt.Errorf("the built-in font: %w", err)
	}
	r, err := chart.PNG(w, h)
	if err != nil {
		return nil, err
	}
	r.SetDPI(72) // font sizes are then in pixels
	r.SetFont(f)
	var drawn collector
	if err := r.Save(&drawn); err != nil {
		return nil, err
	}
	b := box{0, 0, float64(w), float64(h)}
	c := &canvas{Renderer: r, raster: drawn.RGBA, ctx: ctx, bounds: b, clip: b}
	c.sheet(paper, b)
	return c, nil
}

// A collector takes the renderer's raster, as it is instead of as a PNG.
type collector struct{ *image.RGBA }

func (k *collector) Write([]byte) (int, error) { return 0, errors.New("only a raster is collected") }
func (k *collector) SetRGBA(m *image.RGBA)     { k.RGBA = m }

// within draws with everything outside b cut off.
func (c *canvas) within(b box, draw func()) {
	old := c.clip
	c.clip = b
	draw()
	c.clip = old
}

// ready reports whether drawing may go on.
func (c *canvas) ready() bool {
	if c.err == nil {
		c.err = c.ctx.Err()
	}
	return c.err == nil
}

// A pen is how a line looks. An empty dash is a solid line.
type pen struct {
	colour drawing.Color
	width  float64
	dash   []float64
}

// line draws the open line through the points.
func (c *canvas) line(p pen, points ...point) {
	if !c.ready() || p.width <= 0 {
		return
	}
	c.SetStrokeColor(p.colour)
	c.SetStrokeWidth(p.width)
	c.SetStrokeDashArray(p.dash)
	drawn, last := false, point{math.NaN(), math.NaN()}
	for i := 1; i < len(points); i++ {
		a, b, ok := clipSegment(points[i-1], points[i], c.clip)
		if !ok {
			continue
		}
		if a != last {
			c.MoveTo(pixel(a.x), pixel(a.y))
		}
		c.LineTo(pixel(b.x), pixel(b.y))
		drawn, last = true, b
	}
	if drawn {
		c.Stroke()
	}
}

// polygon fills the closed shape and draws its outline; a colour without any
// weight leaves that part out.
func (c *canvas) polygon(fill, stroke drawing.Color, width float64, points ...point) {
	if !c.ready() {
		return
	}
	if inside := clipPolygon(points, c.clip); fill.A > 0 && len(inside) > 2 {
		c.SetFillColor(fill)
		for i, p := range inside {
			if i == 0 {
				c.MoveTo(pixel(p.x), pixel(p.y))
			} else {
				c.LineTo(pixel(p.x), pixel(p.y))
			}
		}
		c.Close()
		c.Fill()
	}
	if stroke.A > 0 && len(points) > 1 {
		c.line(pen{colour: stroke, width: width}, append(append([]point{}, points...), points[0])...)
	}
}

// sheet lays a colour over b. polygon would leave the same pixels, but works out
// the cover of each, which for a blank canvas was a quarter of what a post's
// picture took.
func (c *canvas) sheet(fill drawing.Color, b box) {
	if s := b.left + b.right + b.top + b.bottom; !c.ready() || math.IsNaN(s) || math.IsInf(s, 0) {
		return
	}
	across := func(v float64) int { return pixel(min(max(v, c.clip.left), c.clip.right)) }
	down := func(v float64) int { return pixel(min(max(v, c.clip.top), c.clip.bottom)) }
	whole := image.Rect(across(b.left), down(b.top), across(b.right), down(b.bottom))
	draw.Draw(c.raster, whole, image.NewUniform(fill), image.Point{}, draw.Over)
}

// disc draws a circle if its middle is inside the clip.
func (c *canvas) disc(p point, radius float64, fill, stroke drawing.Color, width float64) {
	if !c.ready() || !c.clip.holds(p) || !(radius > 0 && radius < 1e4) {
		return
	}
	c.SetStrokeDashArray(nil)
	for _, part := range []struct {
		colour drawing.Color
		draw   func()
	}{{fill, c.Fill}, {stroke, c.Stroke}} {
		if part.colour.A == 0 {
			continue
		}
		c.SetFillColor(part.colour)
		c.SetStrokeColor(part.colour)
		c.SetStrokeWidth(width)
		c.MoveTo(pixel(p.x+radius), pixel(p.y))
		c.ArcTo(pixel(p.x), pixel(p.y), radius, radius, 0, 2*math.Pi)
		c.Close()
		part.draw()
	}
}

// arrow draws a shaft from a to b with a head at b. An arrow too short for its
// head is a bare head.
func (c *canvas) arrow(p pen, a, b point, head float64) {
	if neck, tip, ok := arrowhead(a, b, head); ok {
		if math.Hypot(b.x-a.x, b.y-a.y) > head {
			c.line(p, a, neck)
		}
		c.polygon(p.colour, none, 0, tip...)
	}
}

// cased is an arrow on a casing of ground that lifts it off what it crosses.
func (c *canvas) cased(p pen, a, b point, head float64) {
	const casing = 4
	if neck, tip, ok := arrowhead(a, b, head); ok {
		c.line(pen{ground, p.width + 2*casing, nil}, a, neck)
		c.polygon(none, ground, 2*casing, tip...)
		c.arrow(p, a, b, head)
	}
}

// arrowhead is the middle of the foot of an arrow's head at b, and the head's
// corners; ok is false for an arrow of no length.
func arrowhead(a, b point, head float64) (neck point, tip []point, ok bool) {
	dx, dy := b.x-a.x, b.y-a.y
	long := math.Hypot(dx, dy)
	if !(long > 0.5) {
		return neck, nil, false
	}
	head = min(head, max(long, head/2))
	ux, uy := dx/long, dy/long
	neck = point{b.x - ux*head, b.y - uy*head}
	return neck, []point{b,
		{neck.x - uy*head*0.55, neck.y + ux*head*0.55},
		{neck.x + uy*head*0.55, neck.y - ux*head*0.55}}, true
}

func corners(b box) []point {
	return []point{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}
}

func pixel(v float64) int { return int(math.Round(v)) }

// clipSegment is the part of the segment inside b (Liang & Barsky 1984). ok is
// false when nothing is left, or an end is not finite.
func clipSegment(p, q point, b box) (point, point, bool) {
	dx, dy := q.x-p.x, q.y-p.y
	if s := dx + dy + p.x + p.y; math.IsNaN(s) || math.IsInf(s, 0) {
		return p, q, false
	}
	t0, t1 := 0.0, 1.0
	for _, side := range [4][2]float64{{-dx, p.x - b.left}, {dx, b.right - p.x}, {-dy, p.y - b.top}, {dy, b.bottom - p.y}} {
		slope, gap := side[0], side[1]
		if slope == 0 {
			if gap < 0 {
				return p, q, false
			}
			continue
		}
		t := gap / slope
		if slope < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	if t0 > t1 {
		return p, q, false
	}
	return point{p.x + t0*dx, p.y + t0*dy}, point{p.x + t1*dx, p.y + t1*dy}, true
}

// clipPolygon is the part of the closed shape inside b (Sutherland & Hodgman
// 1974). Points that are not finite are left out of the shape first.
func clipPolygon(points []point, b box) []point {
	var shape []point
	for _, p := range points {
		if s := p.x + p.y; !math.IsNaN(s) && !math.IsInf(s, 0) {
			shape = append(shape, p)
		}
	}
	for side := range 4 {
		// depth is how far inside this side of the box a point lies.
		depth := func(p point) float64 {
			return [4]float64{p.x - b.left, b.right - p.x, p.y - b.top, b.bottom - p.y}[side]
		}
		var cut []point
		for i, q := range shape {
			p := shape[(i+len(shape)-1)%len(shape)]
			dp, dq := depth(p), depth(q)
			if (dp < 0) != (dq < 0) {
				t := dp / (dp - dq)
				cut = append(cut, point{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)})
			}
			if dq >= 0 {
				cut = append(cut, q)
			}
		}
		shape = cut
	}
	// Where ends lie so far out that their difference overflows, a cut may not
	// be a place, or not lie on the side; a rasterizer given it never ends.
	shape = slices.DeleteFunc(shape, func(p point) bool { return math.IsNaN(p.x + p.y) })
	for i, p := range shape {
		shape[i] = point{min(max(p.x, b.left), b.right), min(max(p.y, b.top), b.bottom)}
	}
	return shape
}
