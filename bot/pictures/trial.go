package pictures

import (
	"context"
	"math"
	"slices"
	"strings"

	"github.com/wcharczuk/go-chart/v2"

	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// TrialInput is labelled sets compared with a baseline set.
type TrialInput struct {
	Voice  words.Voice
	Title  string // the finding, from words; plain text
	Who    string // "" to leave it out; untrusted
	Result trial.Result
}

// Heights of the parts of a trial's picture, px.
const (
	panelHigh = 376 // the two panels it begins with
	panelHead = 118 // above them: their names and their axes' words
	panelFoot = 100 // below: ticks and words
	headHigh  = 58  // the name of a part
	stripHead = 50  // above a strip's rows: its name
	stripFoot = 66  // below: its ticks, and room
	lineHigh  = 44  // a line of the legend or of the rest
)

// rowHigh is the height of a set's row when there are n sets beside the
// usual one.
func rowHigh(n int) float64 {
	if n > 3 {
		return 38
	}
	return 50
}

// Trial draws how far each set's balls finish from those of the baseline, seen
// from above, and how its face and path moved, against the band in which the
// ball finishes the same; below these, number by number, what moved, with its
// simultaneous limits and the practical zero; and last, small, the verdict on
// the rest. It is 1200 pixels wide and grows with the sets.
func Trial(ctx context.Context, in TrialInput) ([]byte, error) {
	t := newTrialPicture(in)
	return render(ctx, 1200, int(t.height()), t.draw)
}

// A trialPicture is a trial laid out.
type trialPicture struct {
	in    TrialInput
	sets  int               // beside the baseline
	moved []analysis.Number // that moved in some set: a strip each
	rest  []analysis.Number // a line each
}

func newTrialPicture(in TrialInput) *trialPicture {
	in.Voice.Plain = true
	t := &trialPicture{in: in, sets: max(0, len(in.Result.Sets)-1)}
	for _, n := range analysis.Compared() {
		of := func(r trial.Row) bool { return r.Number == n && r.Set >= 1 && r.Set <= t.sets }
		switch rows := in.Result.Rows; {
		case slices.ContainsFunc(rows, func(r trial.Row) bool { return of(r) && moved(r) }):
			t.moved = append(t.moved, n)
		case slices.ContainsFunc(rows, of):
			t.rest = append(t.rest, n)
		}
	}
	return t
}

// drawn are the numbers in the order of the sentences: those that moved, then
// the rest.
func (t *trialPicture) drawn() []analysis.Number { return slices.Concat(t.moved, t.rest) }

func (t *trialPicture) stripHigh() float64 {
	return stripHead + rowHigh(t.sets)*float64(t.sets) + stripFoot
}

// trialTop is where the legend begins: below a title of two lines.
const trialTop = 206

// legendColumns is how many sets stand on a line of the legend.
const legendColumns = 2

// lines is how many lines n things take, so many on each.
func lines(n, each int) float64 { return math.Ceil(float64(n) / float64(each)) }

func (t *trialPicture) panelTop() float64 {
	below := 0
	for set := 1; set <= t.sets; set++ {
		if t.in.Voice.Cancelled(t.in.Result, set) != "" {
			below++
		}
	}
	return trialTop + lineHigh*(lines(t.sets+1, legendColumns)+float64(below)) + panelHead
}

func (t *trialPicture) height() float64 {
	high := t.panelTop() + panelHigh + panelFoot
	if len(t.moved) > 0 {
		high += headHigh + lines(len(t.moved), 2)*t.stripHigh()
	}
	if len(t.rest) > 0 {
		high += headHigh + lineHigh*float64(len(t.rest))
	}
	return high + 70
}

func (t *trialPicture) draw(c *canvas) {
	c.title(t.in.Title, t.line())
	if t.sets == 0 || len(t.drawn()) == 0 {
		c.empty(box{40, trialTop, 1160, c.bounds.bottom - 60}, "A trial needs a baseline set and another with a number in common.")
		return
	}
	t.legend(c)
	top := t.panelTop()
	t.finish(c, box{130, top, 560, top + panelHigh})
	t.change(c, box{736, top, 1166, top + panelHigh})
	y := top + panelHigh + panelFoot
	if len(t.moved) > 0 {
		c.text("What moved", point{40, y + 36}, headSize, ink, fromLeft)
		y += headHigh
		for i, n := range t.moved {
			t.strip(c, n, 40+float64(i%2)*590, y+float64(i/2)*t.stripHigh())
		}
		y += lines(len(t.moved), 2) * t.stripHigh()
	}
	if len(t.rest) > 0 {
		c.text("The rest", point{40, y + 36}, headSize, ink, fromLeft)
		y += headHigh
		for i, n := range t.rest {
			t.verdicts(c, n, y+lineHigh*float64(i))
		}
	}
	c.text(t.foot(c), point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
}

func (t *trialPicture) foot(c *canvas) string {
	says := "Bar: 95 % limits, all rows at once"
	if len(t.moved) > 0 {
		says = "Bar: 95 %, all rows at once (thick: 90 %, one row). Grey: too small"
	}
	if slices.ContainsFunc(c.labels, func(l label) bool { return l.text == sameFinish }) {
		return says + "."
	}
	return says + ". Green: " + sameFinish + "."
}

func (t *trialPicture) line() string {
	var says []string
	if t.in.Who != "" {
		says = append(says, t.in.Who)
	}
	if s := t.in.Result.Sets; len(s) > 0 && !s[0].Club.Unknown() {
		says = append(says, s[0].Club.String())
	}
	return strings.Join(append(says, words.Count(t.sets, "set")+" against the baseline"), " · ")
}

// legend lists the sets with their marks, and what the path did about the face.
func (t *trialPicture) legend(c *canvas) {
	const wide = 1120 / legendColumns
	y := trialTop + 30.0
	for i, s := range t.in.Result.Sets {
		name := "no label"
		if s.Label != "" {
			name = "“" + lettered(s.Label) + "”"
		}
		balls := words.Count(s.Used, "ball")
		if i == 0 {
			balls = "baseline, " + balls
		}
		left := 40 + wide*float64(i%legendColumns)
		c.setMark(point{left + 14, y - 10}, i, true)
		name = c.cut(name, bodySize, wide-74-c.textWidth(balls, smallSize))
		c.text(name, point{left + 40, y}, bodySize, ink, fromLeft)
		c.text(balls, point{left + 40 + c.textWidth(name, bodySize) + wordGap, y}, smallSize, muted, fromLeft)
		if i%legendColumns == legendColumns-1 || i == t.sets {
			y += lineHigh
		}
	}
	for set := 1; set <= t.sets; set++ {
		if says := t.in.Voice.Cancelled(t.in.Result, set); says != "" {
			c.setMark(point{54, y - 10}, set, true)
			c.text(says, point{80, y}, smallSize, ink, fromLeft)
			y += lineHigh
		}
	}
}

// strip draws one number: a row a set.
func (t *trialPicture) strip(c *canvas, n analysis.Number, left, top float64) {
	unit := t.in.Voice.Scale(n.Info().Kind)
	high := rowHigh(t.sets)
	b := box{left + 44, top + stripHead, left + 336, top + stripHead + high*float64(t.sets)}
	var diffs []float64
	zero, inferred := 0.0, false
	for _, r := range t.in.Result.Rows {
		if r.Number == n && finite(r.Difference) {
			diffs = append(diffs, r.Difference/unit)
			zero, inferred = max(zero, r.Zero/unit), inferred || r.Inferred
		}
	}
	least := max(2*zero, leastSpan(n)/2)
	s := core(append(diffs, 0), 4, least).with(-1.3*zero, 1.3*zero)
	wide := s
	for _, r := range t.in.Result.Rows {
		if r.Number == n && r.OK {
			wide = wide.with(s.reach(r.Low/unit, r.High/unit, .7, least).ends()...)
		}
	}
	wide = wide.padded(.05, least)
	p := panel{b, across(b, wide.low, wide.high), upward(b, 0, 1)}

	name := axisName(t.in.Voice, n)
	if inferred {
		name += ", inferred"
	}
	c.text(name, point{left, top + 34}, bodySize, ink, fromLeft)
	c.ground(p, t.ticks(c, p, n), nil)
	c.within(b, func() {
		if zero > 0 {
			c.sheet(fade(muted, .15), box{p.x.at(-zero), b.top, p.x.at(zero), b.bottom})
		}
		c.line(pen{muted, 3, nil}, point{p.x.at(0), b.top}, point{p.x.at(0), b.bottom})
	})
	for _, r := range t.in.Result.Rows {
		if r.Number != n || r.Set < 1 || r.Set > t.sets {
			continue
		}
		y := b.top + high*(float64(r.Set)-.5)
		c.setMark(point{left + 14, y}, r.Set, true)
		t.row(c, p, r, unit, y)
		word, colour := string(r.Verdict), muted
		if moved(r) {
			colour = ink
		}
		c.text(word, point{b.right + 16, y + 10}, smallSize, colour, fromLeft)
	}
}

// ticks are three round numbers or more where their words have room.
func (t *trialPicture) ticks(c *canvas, p panel, n analysis.Number) []chart.Tick {
	best := p.x.ticks(4, tickText(n))
	for most := 5; most <= 7 && len(best) < 3; most++ {
		ticks, wide := p.x.ticks(most, tickText(n)), 0.0
		for _, k := range ticks {
			wide += c.textWidth(k.Label, smallSize) + 20
		}
		if wide < p.width() {
			best = ticks
		}
	}
	return best
}

// moved reports whether a row is known to have moved, much or little.
func moved(r trial.Row) bool {
	return r.Verdict == trial.Moved || r.Verdict == trial.MovedLittle
}

// row draws a difference with its limits; filled when it moved, hollow when it
// held or cannot be told.
func (t *trialPicture) row(c *canvas, p panel, r trial.Row, unit, y float64) {
	if !finite(r.Difference) {
		return
	}
	colour := setColour(r.Set)
	if r.OK {
		c.within(p.box, func() {
			c.interval(pen{colour, 3, nil}, p.x.at(r.Low/unit), p.x.at(r.High/unit), y)
			c.line(pen{colour, 9, nil}, point{p.x.at(r.Low90 / unit), y}, point{p.x.at(r.High90 / unit), y})
		})
		c.beyond(r.Low/unit, r.High/unit, p.x, p.box, y, colour)
	}
	at, out := p.x.clamp(r.Difference / unit)
	if !out {
		c.setMark(point{p.x.at(at), y}, r.Set, moved(r))
	}
}

// verdicts writes one number's name and what is known of it: the marks of the
// sets that share a verdict, and the verdict.
func (t *trialPicture) verdicts(c *canvas, n analysis.Number, y float64) {
	const pitch = 36.0
	name, x := n.Short(), 420.0
	for _, verdict := range []trial.Verdict{trial.Held, trial.CannotTell} {
		var of []trial.Row
		for _, r := range t.in.Result.Rows {
			if r.Number == n && r.Set >= 1 && r.Set <= t.sets && r.Verdict == verdict {
				of = append(of, r)
			}
			if r.Number == n && r.Inferred {
				name = n.Short() + ", inferred"
			}
		}
		for i, r := range of {
			c.setMark(point{x + 14 + pitch*float64(i), y + 19}, r.Set, false)
		}
		if len(of) == 0 {
			continue
		}
		x += pitch*float64(len(of)) + 4
		says := string(verdict)
		c.text(says, point{x, y + 28}, smallSize, muted, fromLeft)
		x += c.textWidth(says, smallSize) + 2*wordGap
		if r := of[0]; t.sets == 1 && verdict == trial.CannotTell && finite(r.Difference) {
			e := analysis.Estimate{Mean: r.Difference, Low: r.Low, High: r.High, OK: r.OK}
			c.text("seen: "+t.in.Voice.MeanChange(n, e), point{x, y + 28}, smallSize, muted, fromLeft)
		}
	}
	c.text(c.cut(name, smallSize, 370), point{40, y + 28}, smallSize, ink, fromLeft)
}
