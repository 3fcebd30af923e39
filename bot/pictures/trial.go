package pictures

import (
	"context"
	"fmt"
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

// whenMoved are the numbers of a trial that its picture shows last, and only
// when they moved if there are enough others: face and path tell the first, and
// a trial is not about the second.
var whenMoved = []analysis.Number{analysis.FaceToPath, analysis.Carry}

// trialNumbers are the numbers a trial shows where they were compared, those
// shown always first.
var trialNumbers = append(slices.DeleteFunc(analysis.Compared(), func(n analysis.Number) bool { return slices.Contains(whenMoved, n) }), whenMoved...)

const (
	stripHead  = 50  // above a strip's rows: its name
	stripFoot  = 74  // below: its ticks, and room
	changeHigh = 420 // the panel of the delivery's change
)

// rowHigh is the height of a set's row when there are n sets beside the
// baseline.
func rowHigh(n int) float64 {
	if n > 3 {
		return 38
	}
	return 50
}

// Trial draws every set's difference from the baseline, number by number, with
// its simultaneous limits, the practical zero, and in a mark and a word whether
// it moved; below, how face and path moved together, against the line on which
// the ball finishes where it did. It is 1200 pixels wide and grows with the
// sets.
func Trial(ctx context.Context, in TrialInput) ([]byte, error) {
	t := newTrialPicture(in)
	return render(ctx, 1200, int(t.height()), t.draw)
}

// A trialPicture is a trial laid out.
type trialPicture struct {
	in      TrialInput
	numbers []analysis.Number
	sets    int // beside the baseline
}

func newTrialPicture(in TrialInput) *trialPicture {
	in.Voice.Plain = true
	t := &trialPicture{in: in, sets: max(0, len(in.Result.Sets)-1)}
	for _, n := range trialNumbers {
		always := len(t.numbers) < len(trialNumbers)-len(whenMoved)
		if slices.ContainsFunc(in.Result.Rows, func(r trial.Row) bool { return r.Number == n && (always || moved(r)) }) {
			t.numbers = append(t.numbers, n)
		}
	}
	return t
}

func (t *trialPicture) stripHigh() float64 {
	return stripHead + rowHigh(t.sets)*float64(t.sets) + stripFoot
}

func (t *trialPicture) stripsHigh() float64 {
	return float64((len(t.numbers)+1)/2) * t.stripHigh()
}

// keyHigh is the height of the lower part: the change of delivery on the left,
// the sets and what cancelled what on the right.
func (t *trialPicture) keyHigh() float64 {
	lines := 0
	for i := range t.in.Result.Sets {
		lines += len(t.below(i))
	}
	return max(changeHigh+180, 80+float64(t.sets+1)*52+float64(lines)*34)
}

// trialTop is where the strips begin: below a title of two lines.
const trialTop = 226

func (t *trialPicture) height() float64 { return trialTop + t.stripsHigh() + t.keyHigh() + 60 }

func (t *trialPicture) draw(c *canvas) {
	c.title(t.in.Title, t.line())
	if t.sets == 0 || len(t.numbers) == 0 {
		c.empty(box{40, trialTop, 1160, c.bounds.bottom - 60}, "A trial needs a baseline set and another with a number in common.")
		return
	}
	for i, n := range t.numbers {
		left, top := 40+float64(i%2)*590, trialTop+float64(i/2)*t.stripHigh()
		t.strip(c, n, left, top)
	}
	y := trialTop + t.stripsHigh()
	t.change(c, box{130, y + 104, 560, y + 104 + changeHigh - 40})
	t.key(c, box{640, y, 1170, y + t.keyHigh()})
	c.text("Bar: 95 % limits, all rows at once (thick: 90 %, this row). Grey: too small to matter.", point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
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
			c.polygon(fade(muted, .15), none, 0, corners(box{p.x.at(-zero), b.top, p.x.at(zero), b.bottom})...)
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

// key lists the sets with their marks, and what path did about face.
func (t *trialPicture) key(c *canvas, b box) {
	c.text("The sets", point{b.left, b.top + 34}, headSize, ink, fromLeft)
	y := b.top + 92
	for i, s := range t.in.Result.Sets {
		name := "no label"
		if s.Label != "" {
			name = "“" + lettered(s.Label) + "”"
		}
		if i == 0 {
			name += ", baseline"
		}
		c.setMark(point{b.left + 16, y - 10}, i, true)
		c.text(c.cut(name, bodySize, b.width()-50), point{b.left + 46, y}, bodySize, ink, fromLeft)
		for _, below := range t.below(i) {
			y += 34
			c.text(c.cut(below, smallSize, b.width()-50), point{b.left + 46, y}, smallSize, muted, fromLeft)
		}
		y += 52
	}
}

// below is what is said of a set under its name.
func (t *trialPicture) below(set int) []string {
	says := []string{words.Count(t.in.Result.Sets[set].Used, "ball")}
	for _, k := range t.in.Result.Compensations {
		if k.Set == set {
			says = append(says, cancelled(k)...)
		}
	}
	return says
}

// cancelled says what share of one number's effect the other took back, and
// the limits of the share.
func cancelled(k trial.Compensation) []string {
	lead, follow, share := "face", "path", trial.Fraction{OK: k.OK, Value: k.Cancelled, Low: k.Low, High: k.High}
	if k.Lead == analysis.Path {
		lead, follow, share = follow, lead, k.Reverse
	}
	if !k.Opposed || !share.OK || !finite(share.Value+share.Low+share.High) {
		return nil
	}
	if share.Low <= 0 {
		return []string{"how much " + follow + " cancels: cannot tell"}
	}
	return []string{
		fmt.Sprintf("%s cancels %.0f %% of %s", follow, 100*share.Value, lead),
		fmt.Sprintf("(between %.0f and %.0f %%)", math.Floor(100*share.Low), math.Ceil(100*share.High)),
	}
}
