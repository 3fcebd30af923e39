package pictures

import (
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// A track is one number's panel of a timeline.
type track struct {
	in    TimelineInput
	r     timeline.Result
	panel panel
	days  *calendar
	unit  float64
	brief *analysis.Brief

	setups []string // of the whole picture: a setup has one mark in all panels
}

func newTrack(in TimelineInput, r timeline.Result, b box, days *calendar) *track {
	t := &track{in: in, r: r, days: days, unit: in.Voice.Scale(r.Number.Info().Kind)}
	for i, k := range in.Briefs {
		if k.Number == r.Number && (k.Club.Unknown() || r.Club.Unknown() || k.Club == r.Club) {
			t.brief = &in.Briefs[i]
		}
	}
	var means []float64
	all := allPoints(r)
	for _, p := range all {
		if p.Mean.N > 0 {
			means = append(means, p.Mean.Mean/t.unit)
		}
	}
	least := leastSpan(r.Number)
	s := core(means, 3, least)
	if !s.set {
		s = s.with(0)
	}
	whole := s
	for _, p := range all {
		if p.Mean.OK {
			whole = whole.with(s.reach(p.Mean.Low/t.unit, p.Mean.High/t.unit, .5, least).ends()...)
		}
	}
	for _, setup := range r.Setups { // what was tried is to be seen
		for _, p := range setup.Points {
			whole = whole.with(s.reach(p.Mean.Mean/t.unit, p.Mean.Mean/t.unit, 1.5, least).ends()...)
		}
	}
	if k := t.brief; k != nil {
		for _, limit := range []*float64{k.Low, k.High} {
			if limit != nil {
				whole = whole.with(s.reach(*limit/t.unit, *limit/t.unit, 1.5, least).ends()...)
			}
		}
	}
	whole = whole.padded(.08, least)
	t.panel = panel{b, days.scale, upward(b, whole.low, whole.high)}
	return t
}

// leastSpan is the least a panel shows of a number, in shown units: a smaller
// spread would be blown up into a drama.
func leastSpan(n analysis.Number) float64 {
	switch n.Info().Kind {
	case analysis.Angle:
		return 3
	case analysis.Speed:
		return 4
	case analysis.Length:
		return 12
	case analysis.Small:
		return 10
	case analysis.Rate:
		return 600
	case analysis.Ratio:
		return .1
	case analysis.Share:
		return 50
	}
	return 1
}

// y is the pixel of a value in SI.
func (t *track) y(v float64) float64 { return t.panel.y.at(v / t.unit) }

// ground draws the panel, its axes, its name at height name and its brief; the
// lowest panel of a picture carries the days.
func (t *track) ground(c *canvas, name float64, lowest bool) {
	b := t.panel.box
	most := 5
	if b.height() < 260 {
		most = 4
	}
	days := t.days.ticks()
	c.ground(t.panel, nil, t.panel.y.ticks(most, tickText(t.r.Number)))
	if lowest {
		for _, d := range days {
			at := point{t.days.at(d.Value), b.bottom + 40}
			if c.free(c.textBox(d.Label, at, smallSize, centred).inset(-8)) {
				c.text(d.Label, at, smallSize, muted, centred)
			}
		}
	}
	for _, d := range days {
		x := t.days.at(d.Value)
		c.line(pen{rule, 1.5, nil}, point{x, b.top}, point{x, b.bottom})
	}
	says := axisName(t.in.Voice, t.r.Number)
	if severalClubs(t.in.Numbers) && !t.r.Club.Unknown() {
		says += " · " + t.r.Club.String()
	}
	c.text(says, point{40, name}, bodySize, ink, fromLeft)
	if t.brief == nil {
		return
	}
	low, high := t.briefReach()
	c.within(b, func() {
		c.sheet(fade(briefColour, .13), box{b.left, high, b.right, low})
		for _, y := range []float64{low, high} {
			edge := []point{{b.left, y}, {b.right, y}}
			c.line(pen{briefColour, 4, []float64{16, 9}}, edge...)
			c.beads(edge)
		}
	})
}

func (t *track) draw(c *canvas) {
	b := t.panel.box
	c.within(b, func() {
		t.drift(c)
		t.effect(c)
		if len(t.setups) > 0 {
			t.thread(c, t.r.Points, 0)
		}
		for _, s := range t.r.Setups {
			t.thread(c, s.Points, t.markOf(s.Label))
		}
		for _, p := range t.r.Points {
			t.point(c, p, 0)
		}
		for _, s := range t.r.Setups {
			for _, p := range s.Points {
				t.point(c, p, t.markOf(s.Label))
			}
		}
	})
	var strays []stray
	for _, p := range allPoints(t.r) {
		if y := p.Mean.Mean / t.unit; p.Mean.N > 0 && (y < t.panel.y.Min || y > t.panel.y.Max) {
			strays = append(strays, stray{t.days.day(p.At), y, false, t.value(p.Mean.Mean)})
		}
	}
	c.strays(t.panel, strays)
	t.effectWords(c)
	if t.brief != nil {
		low, high := t.briefReach()
		c.placeIn("brief", smallSize, briefText, b, meshOf(b), func(text box) bool { return text.top > high && text.bottom < low })
	}
}

// briefReach are the pixels of the brief's limits; an open one lies far off the
// panel.
func (t *track) briefReach() (low, high float64) {
	low, high = t.panel.bottom+1000, t.panel.top-1000
	if t.brief.Low != nil {
		low = t.y(*t.brief.Low)
	}
	if t.brief.High != nil {
		high = t.y(*t.brief.High)
	}
	return low, high
}

// markOf is the mark of a setup: its place among all of the picture, from 1.
func (t *track) markOf(label string) int { return 1 + slices.Index(t.setups, label) }

// across is where a session stands: on its day, with another setup beside what
// was hit with the usual one that day.
func (t *track) across(p timeline.Point, mark int) float64 {
	const aside = 18.0
	if mark > 0 {
		return t.days.x(p.At) + aside*float64(mark)
	}
	return t.days.x(p.At)
}

// thread joins the sessions of one setup.
func (t *track) thread(c *canvas, points []timeline.Point, mark int) {
	var line []point
	for _, p := range points {
		line = append(line, point{t.across(p, mark), t.y(p.Mean.Mean)})
	}
	c.line(pen{fade(setColour(mark), .5), 3, nil}, line...)
	c.beads(line)
}

// point draws a session: its mean, and its limits as an upright bar; mark is
// the setup's, 0 the usual one's.
func (t *track) point(c *canvas, p timeline.Point, mark int) {
	if p.Mean.N == 0 || !finite(p.Mean.Mean) {
		return
	}
	x, y, colour := t.across(p, mark), t.y(p.Mean.Mean), setColour(mark)
	if p.Mean.OK {
		low, high := t.y(p.Mean.Low), t.y(p.Mean.High)
		c.line(pen{colour, 4, nil}, point{x, low}, point{x, high})
		for _, end := range []float64{low, high} {
			c.line(pen{colour, 4, nil}, point{x - 9, end}, point{x + 9, end})
		}
		c.marks = append(c.marks, box{x - 9, high, x + 9, low})
	}
	const r = 12
	c.marks = append(c.marks, box{x - r, y - r, x + r, y + r})
	switch {
	case mark > 0:
		c.setMark(point{x, y}, mark, !p.Inferred)
		return
	case p.Inferred:
		c.polygon(ground, ink, 4, point{x, y - r - 3}, point{x + r + 3, y}, point{x, y + r + 3}, point{x - r - 3, y})
		return
	}
	c.disc(point{x, y}, r, ink, ground, 3)
}

// drift draws the running mean and the limits it usually stays in, and rings
// the first session that left them.
func (t *track) drift(c *canvas) {
	d := t.r.Drift
	if !d.OK || len(d.EWMA) != len(t.r.Points) || len(d.Low) != len(d.EWMA) || len(d.High) != len(d.EWMA) {
		return
	}
	var mid, low, high []point
	for i, p := range t.r.Points {
		x := t.days.x(p.At)
		mid, low, high = append(mid, point{x, t.y(d.EWMA[i])}), append(low, point{x, t.y(d.Low[i])}), append(high, point{x, t.y(d.High[i])})
	}
	c.line(pen{muted, 3, []float64{4, 7}}, low...)
	c.line(pen{muted, 3, []float64{4, 7}}, high...)
	c.line(pen{muted, 3, nil}, mid...)
	if i := d.Out; i >= 0 && i < len(mid) {
		c.disc(mid[i], 20, none, muted, 5)
		c.marks = append(c.marks, box{mid[i].x - 20, mid[i].y - 20, mid[i].x + 20, mid[i].y + 20})
	}
}

// told reports whether before and after the last lesson could be compared.
func (t *track) told() bool {
	e := t.r.Effect
	return (e.Change == timeline.Changed || e.Change == timeline.NotYet) && len(t.r.Points) > 0
}

// effect draws the means before and after the last lesson as level bars.
func (t *track) effect(c *canvas) {
	if !t.told() {
		return
	}
	e := t.r.Effect
	first, last := t.r.Points[0], t.r.Points[len(t.r.Points)-1]
	at := t.days.x(e.Lesson.At)
	mean := pen{ink, 6, nil}
	for _, line := range [][]point{
		{{t.days.x(first.At) - 14, t.y(e.MeanBefore)}, {at - 6, t.y(e.MeanBefore)}},
		{{at + 6, t.y(e.MeanAfter)}, {t.days.x(last.At) + 14, t.y(e.MeanAfter)}},
	} {
		c.line(mean, line...)
		c.beads(line)
	}
}

// effectWords writes the two means by their bars.
func (t *track) effectWords(c *canvas) {
	if !t.told() {
		return
	}
	e := t.r.Effect
	first, last := t.r.Points[0], t.r.Points[len(t.r.Points)-1]
	at := t.days.x(e.Lesson.At)
	for _, m := range []struct{ from, to, mean float64 }{
		{t.days.x(first.At), at, e.MeanBefore}, {at, t.days.x(last.At), e.MeanAfter},
	} {
		var spots []point
		for _, dy := range []float64{-28, 30, -60, 62} {
			for i := range 15 {
				f := (float64(i) + .5) / 15
				spots = append(spots, point{m.from + f*(m.to-m.from), t.y(m.mean) + dy})
			}
		}
		c.place(t.value(m.mean), smallSize, ink, t.panel.box, spots)
	}
}

// value says a value of the number shortly: "2.9° left".
func (t *track) value(v float64) string {
	says := t.in.Voice.Number(t.r.Number, v)
	return strings.TrimSuffix(strings.TrimSuffix(says, " of target"), " to the path")
}
