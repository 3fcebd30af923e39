package pictures

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/wcharczuk/go-chart/v2"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
)

// TimelineInput is one number or several over a student's sessions.
type TimelineInput struct {
	Voice words.Voice
	Title string // the finding, from words; plain text
	Who   string // "" to leave it out; untrusted

	Numbers []timeline.Result // a panel each, drawn on one calendar; at most MaxPanels are
	Briefs  []analysis.Brief  // drawn on the panels of their numbers
	Plans   []SettledPlan     // drawn on all panels
}

// A SettledPlan is one as a timeline marks it.
type SettledPlan struct {
	At   time.Time
	Sets []string // that were tried; untrusted
}

// MaxPanels is the most numbers a timeline shows.
const MaxPanels = 4

// panelHeights are the heights of a panel when there are one, two, ... of them.
var panelHeights = [MaxPanels]float64{500, 300, 230, 190}

// Timeline draws numbers over sessions, 1200 pixels wide and 900 to 1460 high:
// a session a point with its limits, a line for each setup, lessons and settled
// plans as labelled uprights, the coach's brief as a band, the means before and after the last
// lesson, and the running mean with its drift limits.
func Timeline(ctx context.Context, in TimelineInput) ([]byte, error) {
	return render(ctx, 1200, int(timelineHeight(in)), func(c *canvas) { drawTimeline(c, in) })
}

func timelineHeight(in TimelineInput) float64 {
	n := min(max(1, len(in.Numbers)), MaxPanels)
	return 400 + float64(n)*panelHeights[n-1] + float64(n-1)*panelGap + legendHigh(in.Numbers)
}

// legendHigh is the height of the line that names the setups, 0 without any.
func legendHigh(results []timeline.Result) float64 {
	if len(setupsOf(results)) == 0 {
		return 0
	}
	return 54
}

// setupsOf are the setups beside the usual one, in the order in which results
// have them.
func setupsOf(results []timeline.Result) (labels []string) {
	for _, r := range results {
		for _, s := range r.Setups {
			if !slices.Contains(labels, s.Label) {
				labels = append(labels, s.Label)
			}
		}
	}
	return labels
}

// usualName is what the marks of the usual setup are of: a number that is judged of a
// ball by what it was asked has every ball.
func usualName(results []timeline.Result) string {
	if slices.ContainsFunc(results, func(r timeline.Result) bool { return !r.Number.Info().Judged }) {
		return "usual setup"
	}
	return "all shots"
}

// drawSetups names the setups with their marks on one line, the usual one first, as
// many as it holds.
func drawSetups(c *canvas, usual string, setups []string, y float64) {
	const right = 1160.0
	x := 40.0
	for i, label := range append([]string{""}, setups...) {
		name := usual
		if i > 0 {
			name = c.cut("“"+lettered(label)+"”", smallSize, 380)
		}
		wide := 40 + c.textWidth(name, smallSize)
		more := fmt.Sprintf("and %d more", len(setups)-i+1)
		room := right
		if i < len(setups) {
			room -= c.textWidth(more, smallSize) + 2*wordGap
		}
		if x+wide > room {
			c.text(more, point{x, y}, smallSize, muted, fromLeft)
			return
		}
		c.setMark(point{x + 14, y - 9}, i, true)
		c.text(name, point{x + 40, y}, smallSize, ink, fromLeft)
		x += wide + 2*wordGap
	}
}

// panelGap is the room between two panels of a timeline, for the name of the
// lower one.
const panelGap = 84

func drawTimeline(c *canvas, in TimelineInput) (drawn []*track) {
	in.Voice.Plain = true
	in.Numbers = in.Numbers[:min(len(in.Numbers), MaxPanels)]
	bottom := c.title(in.Title, timelineLine(in))
	setups := setupsOf(in.Numbers)
	if len(setups) > 0 {
		bottom += legendHigh(in.Numbers)
		drawSetups(c, usualName(in.Numbers), setups, bottom-6)
	}
	b := box{150, bottom + 72, 1160, c.bounds.bottom - 130}
	marks := marksOf(in)
	days := newCalendar(b, in.Numbers, marks)
	if days == nil {
		c.empty(box{40, b.top, b.right, b.bottom}, "No session has this number yet.")
		return nil
	}
	marks = slices.DeleteFunc(marks, func(m mark) bool { return !days.has(m.at) })
	b.top += markRow * float64(min(2, len(marks)))
	n := float64(len(in.Numbers))
	high := (b.height() - (n-1)*panelGap) / n
	var panels []box
	for i := range in.Numbers {
		top := b.top + float64(i)*(high+panelGap)
		panels = append(panels, box{b.left, top, b.right, top + high})
	}
	for i, r := range in.Numbers {
		t := newTrack(in, r, panels[i], days)
		t.setups = setups
		name := panels[i].top - 18
		if i == 0 {
			name = bottom + 54 // above the words of the marks
		}
		t.ground(c, name, i == len(in.Numbers)-1)
		drawn = append(drawn, t)
	}
	drawMarks(c, marks, days, panels)
	for _, t := range drawn {
		t.draw(c)
	}
	c.text(c.timelineFoot(in), point{40, c.bounds.bottom - 26}, leastSize, muted, fromLeft)
	return drawn
}

// timelineLine says whose sessions, with which club and how many.
func timelineLine(in TimelineInput) string {
	var says []string
	if in.Who != "" {
		says = append(says, in.Who)
	}
	most := 0
	for i, r := range in.Numbers {
		if i == 0 && !r.Club.Unknown() && !severalClubs(in.Numbers) {
			says = append(says, r.Club.String())
		}
		sessions := map[int64]bool{}
		for _, p := range allPoints(r) {
			sessions[p.At.UnixNano()] = true
		}
		most = max(most, len(sessions))
	}
	return strings.Join(append(says, words.Count(most, "session")), " · ")
}

// severalClubs reports whether the panels are of several clubs, and so each bears its
// own.
func severalClubs(results []timeline.Result) bool {
	return slices.ContainsFunc(results, func(r timeline.Result) bool { return r.Club != results[0].Club })
}

func (c *canvas) timelineFoot(in TimelineInput) string {
	says := []string{"Bar: 95 % limits of the session's mean."}
	inferred, drift, air := false, false, false
	for _, r := range in.Numbers {
		drift = drift || r.Drift.OK
		for _, p := range allPoints(r) {
			inferred, air = inferred || p.Inferred, air || p.Normalised
		}
	}
	if inferred {
		says = append(says, "Diamond: inferred.")
	}
	if slices.ContainsFunc(in.Numbers, func(r timeline.Result) bool {
		return slices.ContainsFunc(in.Briefs, func(k analysis.Brief) bool { return k.Number == r.Number })
	}) && !slices.ContainsFunc(c.labels, func(l label) bool { return l.text == "brief" }) {
		says = append(says, "Orange: brief.")
	}
	if drift {
		says = append(says, "Thin line: running mean, in its usual limits.")
	}
	if air {
		says = append(says, "Brought to one air.")
	}
	return strings.Join(says, "  ")
}

// allPoints are the points of every setup.
func allPoints(r timeline.Result) []timeline.Point {
	all := slices.Clone(r.Points)
	for _, s := range r.Setups {
		all = append(all, s.Points...)
	}
	return all
}

// A calendar maps days across the picture.
type calendar struct {
	*scale
	origin time.Time
}

// newCalendar spans the sessions of all numbers and the marks near them; nil
// without any session.
func newCalendar(b box, results []timeline.Result, marks []mark) *calendar {
	var origin time.Time
	for _, r := range results {
		for _, p := range allPoints(r) {
			if origin.IsZero() || p.At.Before(origin) {
				origin = p.At
			}
		}
	}
	if origin.IsZero() {
		return nil
	}
	c := &calendar{origin: origin}
	var s span
	for _, r := range results {
		for _, p := range allPoints(r) {
			s = s.with(c.day(p.At))
		}
	}
	room := max(7, .25*(s.high-s.low))
	near := s
	for _, m := range marks {
		if d := c.day(m.at); d > s.low-room && d < s.high+room {
			near = near.with(d)
		}
	}
	near = near.padded(.05, 4)
	c.scale = across(b, near.low, near.high)
	return c
}

// day is how many days after the first session t is.
func (c *calendar) day(t time.Time) float64 { return t.Sub(c.origin).Hours() / 24 }

// has reports whether a time is on it.
func (c *calendar) has(t time.Time) bool { return c.Min <= c.day(t) && c.day(t) <= c.Max }

func (c *calendar) x(t time.Time) float64 { return c.at(c.day(t)) }

// ticks are at most seven days, weeks or months, each at the noon of its day,
// so that what was hit that day stands over it.
func (c *calendar) ticks() []chart.Tick {
	first := c.origin.Add(time.Duration(c.Min * 24 * float64(time.Hour)))
	long := c.Max - c.Min
	y, m, d := first.Date()
	start := time.Date(y, m, d, 12, 0, 0, 0, first.Location())
	var ticks []chart.Tick
	add := func(t time.Time, layout string) bool {
		v := c.day(t)
		if v > c.Max {
			return false
		}
		if v >= c.Min {
			ticks = append(ticks, chart.Tick{Value: v, Label: t.Format(layout)})
		}
		return true
	}
	const most = 7
	for _, step := range []int{1, 2, 3, 7, 14} {
		if long/float64(step) > most {
			continue
		}
		for i := 0; add(start.AddDate(0, 0, i*step), "2 Jan"); i++ {
		}
		return ticks
	}
	start = start.AddDate(0, 0, 1-d)
	for _, step := range []int{1, 2, 3, 6, 12, 24, 60, 120} {
		if long/30.4/float64(step) > most {
			continue
		}
		start = start.AddDate(0, -((int(start.Month()) - 1) % min(step, 12)), 0)
		for i := 0; add(start.AddDate(0, i*step, 0), "Jan 2006"); i++ {
		}
		break
	}
	// The year is said once, and again when it changes.
	said := ""
	for i := range ticks {
		month, year, _ := strings.Cut(ticks[i].Label, " ")
		if year == said || long < 300 {
			ticks[i].Label = month
		}
		said = year
	}
	return ticks
}

// A mark is what stands on the calendar beside sessions: a lesson, or a plan that
// was settled.
type mark struct {
	at   time.Time
	name string // "lesson"
	note string // what it was about, "" if that is not known
	dash []float64
}

// marksOf are the marks of a timeline, by time, each once.
func marksOf(in TimelineInput) (marks []mark) {
	for _, r := range in.Numbers {
		for _, l := range r.Lessons {
			same := func(m mark) bool { return m.at.Equal(l.At) && m.note == l.Note }
			if !slices.ContainsFunc(marks, same) {
				marks = append(marks, mark{l.At, "lesson", l.Note, nil})
			}
		}
	}
	for _, p := range in.Plans {
		marks = append(marks, mark{p.At, "plan", strings.Join(p.Sets, ", "), []float64{14, 9}})
	}
	slices.SortStableFunc(marks, func(a, b mark) int { return a.at.Compare(b.at) })
	return marks
}

// markRow is the height of a row of marks' words above the first panel.
const markRow = 38

// drawMarks draws each mark as an upright through all panels with its words
// above.
func drawMarks(c *canvas, marks []mark, days *calendar, panels []box) {
	for _, m := range marks {
		x := days.x(m.at)
		for _, b := range panels {
			c.line(pen{muted, 5, m.dash}, point{x, b.top}, point{x, b.bottom})
			c.marks = append(c.marks, box{x - 4, b.top, x + 4, b.bottom})
		}
		c.pointer(point{x, panels[len(panels)-1].bottom - 9}, 0, -1, 22, muted)
	}
	// Lessons get their words first, and the last ones before the others.
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(b.name, a.name) })
	for _, m := range slices.Backward(marks) {
		c.callout(m.name, lettered(strings.TrimSpace(m.note)), days.x(m.at), panels[0])
	}
}

// callout writes what a mark is above b with a leader down to x on its top
// edge, in the lower of two rows where it fits, cut short or left out where it
// does not.
func (c *canvas) callout(name, note string, x float64, b box) {
	tries := []string{name}
	if note != "" {
		tries = []string{c.cut(name+": "+note, smallSize, 1000), c.cut(name+": "+note, smallSize, 300), name}
	}
	for _, says := range tries {
		w := c.textWidth(says, smallSize)
		for row := range 2 {
			y := b.top - 14 - float64(row)*markRow
			at := point{min(max(x-w/2, 40), b.right-w), y}
			leader := box{x - 3, y + 8, x + 3, b.top}
			if !c.free(c.textBox(says, at, smallSize, fromLeft).inset(-4)) || !c.free(leader) {
				continue
			}
			c.line(pen{muted, 3, nil}, point{x, y + 8}, point{x, b.top})
			c.keep = append(c.keep, leader)
			c.text(says, at, smallSize, ink, fromLeft)
			return
		}
	}
}

// axisName is a number as an axis carries it, with its unit and what up means
// where its ticks do not say.
func axisName(v words.Voice, n analysis.Number) string {
	says := n.Short()
	if u := v.Unit(n.Info().Kind); u != "" {
		says += ", " + u
	}
	if s, ok := n.Sides(v.Hand); ok && !leftAndRight(n) {
		says += " (+ " + s.Plus + ")"
	}
	return says
}

// tickText labels ticks of a number: by side where left and right say it.
func tickText(n analysis.Number) func(v, step float64) string {
	if leftAndRight(n) {
		return sided
	}
	return signed
}

// leftAndRight reports whether a number's sides are the golfer's left and
// right rather than, say, open and closed.
func leftAndRight(n analysis.Number) bool { return n.Info().Sideways && !n.Info().Sides.ByHand }

// finite reports whether v can be drawn.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
