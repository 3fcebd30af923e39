package pictures

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/golang/freetype/truetype"
	"github.com/wcharczuk/go-chart/v2"
	"github.com/wcharczuk/go-chart/v2/drawing"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// Sizes of text in pixels on a picture 1200 wide. The least is still legible
// when the picture is shown 360 wide.
const (
	headSize  = 36
	bodySize  = 32
	smallSize = 28
	leastSize = 26
)

// wordGap is the least between two texts on one line, px: two spaces of body
// text, since at one they read as one text (looked at, no source).
const wordGap = 16

// An align says which side of a text its x is.
type align uint8

const (
	fromLeft align = iota
	centred
	fromRight
)

// bounds is the box of a text w wide with its baseline at p.
func (a align) bounds(p point, w, size float64) box {
	switch a {
	case centred:
		p.x -= w / 2
	case fromRight:
		p.x -= w
	}
	return textBounds(p.x, p.y, w, size)
}

// lettered is s with every letter there is a face for, in the order in which
// they are drawn; see the package comment.
func lettered(s string) string {
	var b strings.Builder
	for _, r := range norm.NFC.String(s) {
		switch {
		case r == '\n' || r == '\t' || unicode.IsSpace(r):
			b.WriteByte(' ')
		case !unicode.IsPrint(r):
			// Controls and marks of direction have no shape.
		case plainer(r) != r:
			b.WriteRune(plainer(r))
		case fontOf(r) != nil:
			b.WriteRune(r)
		default:
			base := []rune(norm.NFKD.String(string(r)))[0]
			if fontOf(base) == nil {
				base = '?'
			}
			b.WriteRune(base)
		}
	}
	return inOrder(b.String())
}

// plainer is a letter as go-chart's face has it where that has only another
// form of it: full-width letters become plain ones.
func plainer(r rune) rune {
	own, err := typeface()
	if err != nil || own.Index(r) != 0 {
		return r
	}
	if plain := []rune(norm.NFKC.String(string(r))); len(plain) == 1 && own.Index(plain[0]) != 0 {
		return plain[0]
	}
	return r
}

// textWidth is how wide s is at a size, in pixels.
func (c *canvas) textWidth(s string, size float64) float64 {
	c.SetFontSize(size)
	return float64(c.MeasureText(s).Width())
}

// textBox is where s would stand with its baseline at p.
func (c *canvas) textBox(s string, p point, size float64, a align) box {
	return a.bounds(p, c.textWidth(s, size), size)
}

// text draws s, already lettered, with its baseline at p.
func (c *canvas) text(s string, p point, size float64, colour drawing.Color, a align) {
	if s == "" {
		return
	}
	b := c.textBox(s, p, size, a)
	c.SetFontColor(colour)
	c.Text(s, pixel(b.left), pixel(p.y))
}

// MeasureText is chart.Renderer's, of letters of any face.
func (c *canvas) MeasureText(s string) chart.Box {
	own, err := typeface()
	if err != nil {
		return c.Renderer.MeasureText(s)
	}
	var b chart.Box
	byFont(s, func(part string, f *truetype.Font) {
		if f != nil && f != own {
			c.SetFont(f)
			defer c.SetFont(own)
		}
		m := c.Renderer.MeasureText(part)
		b.Right += m.Width()
		b.Bottom = max(b.Bottom, m.Height())
	})
	return b
}

// SetFontSize is chart.Renderer's, remembered for the note of what is written.
func (c *canvas) SetFontSize(size float64) {
	c.size = size
	c.Renderer.SetFontSize(size)
}

// Text is chart.Renderer's, with a note of what was written where; go-chart's
// axes write through it too.
func (c *canvas) Text(s string, x, y int) {
	if !c.ready() {
		return
	}
	own, _ := typeface()
	at := x
	byFont(s, func(part string, f *truetype.Font) {
		if f != nil && f != own {
			c.SetFont(f)
			defer c.SetFont(own)
		}
		c.words(part, cmp.Or(f, own), at, y)
		at += c.Renderer.MeasureText(part).Width()
	})
	w := float64(at - x)
	c.labels = append(c.labels, label{s, textBounds(float64(x), float64(y), w, c.size), c.size})
}

// words draws a text of one face a few letters at a time. Drawn in one go it is
// one shape, and of that the rasterizer walks along every row to each edge
// anew: a title took as long as a panel.
func (c *canvas) words(s string, f *truetype.Font, x, y int) {
	const few = 6
	from, letters, at, begun := 0, 0, 0.0, 0.0
	scale := fixed.Int26_6(72 * c.size) // as go-chart has it at 72 dots an inch
	last := truetype.Index(0)
	for i, r := range s {
		letter := f.Index(r)
		if last != 0 {
			at += float64(f.Kern(scale, last, letter)) / 64
		}
		if letters++; r != ' ' && letters > few && i > 0 && s[i-1] == ' ' {
			c.Renderer.Text(s[from:i], x+pixel(begun), y)
			from, letters, begun = i, 1, at
		}
		at += float64(f.HMetric(scale, letter).AdvanceWidth) / 64
		last = letter
	}
	c.Renderer.Text(s[from:], x+pixel(begun), y)
}

// textBounds is the box of a text w wide with its baseline from (x, y).
func textBounds(x, y, w, size float64) box {
	// Roboto's capitals are 0.71 em high and its descenders 0.21 em deep.
	return box{x, y - 0.75*size, x + w, y + 0.21*size}
}

// free reports whether b is on the canvas and a text there would cover no other
// text, nor a mark that is to be kept.
func (c *canvas) free(b box) bool {
	if b.left < c.bounds.left || b.right > c.bounds.right || b.top < c.bounds.top || b.bottom > c.bounds.bottom {
		return false
	}
	for _, l := range c.labels {
		if l.box.overlaps(b) {
			return false
		}
	}
	for _, k := range c.keep {
		if k.overlaps(b) {
			return false
		}
	}
	return true
}

// place writes says centred on whichever of the candidates covers the fewest
// marks, with a halo of ground behind it, clear of every other text, not running
// into one on its line, and inside b; nowhere if no candidate is clear.
func (c *canvas) place(says string, size float64, colour drawing.Color, b box, candidates []point) {
	best, fewest := c.spot(says, size, b, candidates, nil)
	if fewest == math.MaxInt {
		return
	}
	c.sheet(fade(ground, .7), c.textBox(says, best, size, centred).inset(-3))
	c.text(says, best, size, colour, centred)
}

// placeIn writes says at the first of the candidates at which all of it lies
// inside an area and it covers no mark; it reports whether there was one.
func (c *canvas) placeIn(says string, size float64, colour drawing.Color, b box, candidates []point, inside func(box) bool) bool {
	best, covered := c.spot(says, size, b, candidates, inside)
	if covered > 0 {
		return false
	}
	c.sheet(fade(ground, .5), c.textBox(says, best, size, centred).inset(-2))
	c.text(says, best, size, colour, centred)
	return true
}

// spot is the baseline's middle of the candidate for place that covers the
// fewest marks, and how many; MaxInt when none is clear and, with inside,
// within it.
func (c *canvas) spot(says string, size float64, b box, candidates []point, inside func(box) bool) (best point, fewest int) {
	fewest = math.MaxInt
	if says == "" {
		return best, fewest
	}
	wide := c.textWidth(says, size)
	for _, p := range candidates {
		p.y += 0.27 * size // from the middle to the baseline
		w := centred.bounds(p, wide, size)
		if w.left < b.left+6 || w.right > b.right-6 || w.top < b.top+4 || w.bottom > b.bottom-4 || !c.free(w) {
			continue
		}
		if inside != nil && !inside(w) {
			continue
		}
		apart := box{w.left - wordGap, w.top, w.right + wordGap, w.bottom}
		if slices.ContainsFunc(c.labels, func(l label) bool { return l.box.overlaps(apart) }) {
			continue
		}
		covered := 0
		for _, m := range c.marks {
			if m.overlaps(w) {
				covered++
			}
		}
		if covered < fewest {
			best, fewest = p, covered
		}
		if fewest == 0 {
			break
		}
	}
	return best, fewest
}

// cut is s shortened with an ellipsis to fit a width.
func (c *canvas) cut(s string, size, width float64) string {
	if c.textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 {
		r = r[:len(r)-1]
		if t := strings.TrimRight(string(r), " ,.;:") + "…"; c.textWidth(t, size) <= width {
			return t
		}
	}
	return ""
}

// wrap breaks s into at most lines lines of a width; what does not fit is cut.
func (c *canvas) wrap(s string, size, width float64, lines int) []string {
	var out []string
	words := strings.Fields(s)
	for len(words) > 0 && len(out) < lines {
		if len(out) == lines-1 {
			out = append(out, c.cut(strings.Join(words, " "), size, width))
			break
		}
		n := 1
		for n < len(words) && c.textWidth(strings.Join(words[:n+1], " "), size) <= width {
			n++
		}
		out = append(out, c.cut(strings.Join(words[:n], " "), size, width))
		words = words[n:]
	}
	return out
}

// fold breaks s into two lines of a width, at a space where that will do and
// else inside a word; only what two lines cannot hold is cut.
func (c *canvas) fold(s string, size, width float64) []string {
	if c.textWidth(s, size) <= width {
		return []string{s}
	}
	if lines := c.wrap(s, size, width, 2); !strings.HasSuffix(strings.Join(lines, ""), "…") || strings.HasSuffix(s, "…") {
		return lines
	}
	r := []rune(s)
	n := len(r)
	for n > 1 && c.textWidth(string(r[:n]), size) > width {
		n--
	}
	return []string{string(r[:n]), c.cut(strings.TrimSpace(string(r[n:])), size, width)}
}

// paragraph writes s wrapped from the top left corner p and returns the y
// below it.
func (c *canvas) paragraph(s string, p point, size, width float64, lines int, colour drawing.Color) float64 {
	for _, l := range c.wrap(s, size, width, lines) {
		c.text(l, point{p.x, p.y + 0.78*size}, size, colour, fromLeft)
		p.y += 1.2 * size
	}
	return p.y
}

// title writes the finding across the top, as large as lets it stand in one
// line or else in two, and the line below it. It returns the y below both.
func (c *canvas) title(finding, below string) float64 {
	const margin, top = 40, 36
	width := c.bounds.width() - 2*margin
	finding, below = lettered(finding), lettered(below)
	var size float64
	for _, try := range []struct{ size, lines int }{{56, 1}, {52, 1}, {48, 1}, {44, 1}, {52, 2}, {44, 2}, {36, 2}} {
		size = float64(try.size)
		if len(c.wrap(finding, size, width, try.lines+1)) <= try.lines {
			break
		}
	}
	y := c.paragraph(finding, point{margin, top}, size, width, 2, ink)
	return c.paragraph(below, point{margin, y + 8}, bodySize, width, 1, muted)
}
