package pictures

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/wcharczuk/go-chart/v2/drawing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// drawn is every case of every picture, on a canvas of its own.
func drawn(t *testing.T) map[string]*canvas {
	t.Helper()
	all := map[string]*canvas{}
	draw := func(name string, w, h float64, paint func(*canvas)) {
		c, err := newCanvas(context.Background(), int(w), int(h))
		if err != nil {
			t.Fatal(err)
		}
		paint(c)
		if c.err != nil {
			t.Fatalf("%s: %v", name, c.err)
		}
		all[name] = c
	}
	for name, in := range posts() {
		draw("post "+name, postSize, postSize, func(c *canvas) { drawPost(c, in) })
	}
	for name, in := range trials() {
		p := newTrialPicture(in)
		draw("trial "+name, 1200, p.height(), p.draw)
	}
	for name, in := range timelines() {
		draw("timeline "+name, 1200, timelineHeight(in), func(c *canvas) { drawTimeline(c, in) })
	}
	for name, in := range tallies() {
		draw("tally "+name, 1200, tallyHigh, func(c *canvas) { drawTally(c, in) })
	}
	for name, in := range bars() {
		l, err := layBars(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		draw("bars "+name, 1200, float64(l.height()), l.draw)
	}
	for name, in := range seasonTables() {
		l, err := laySeason(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		draw("season "+name, 1200, float64(l.height()), l.draw)
	}
	for name, in := range askeds() {
		p := &askedPicture{in: in}
		draw("asked "+name, 1200, p.height(), p.draw)
	}
	for name, in := range plans() {
		l := layPlan(in)
		draw("plan "+name, 1200, l.height(), l.draw)
	}
	for name, in := range certificates() {
		draw("certificate "+name, 1200, 900, func(c *canvas) { drawCertificate(c, in) })
	}
	return all
}

// Text at 26 px on a picture 1200 wide is 8 px on a phone 360 wide; below
// that letters run together (looked at, no source).
func TestTextIsLegibleInsideAndApart(t *testing.T) {
	for name, c := range drawn(t) {
		for i, l := range c.labels {
			if l.size < 26 {
				t.Errorf("%s: %q is %v px, under 26", name, l.text, l.size)
			}
			if b := l.box; b.left < 8 || b.top < 8 || b.right > c.bounds.right-4 || b.bottom > c.bounds.bottom-4 {
				t.Errorf("%s: %q at %v runs off the picture", name, l.text, b)
			}
			for _, k := range c.keep {
				if l.box.overlaps(k) {
					t.Errorf("%s: %q covers a mark that is to be seen", name, l.text)
				}
			}
			for _, m := range c.labels[:i] {
				if l.box.overlaps(m.box) {
					t.Errorf("%s: %q and %q overlap", name, m.text, l.text)
				}
				apart := l.box
				apart.left, apart.right = apart.left-10, apart.right+10
				if strings.Contains(l.text+m.text, " ") && apart.overlaps(m.box) {
					t.Errorf("%s: %q and %q read as one", name, m.text, l.text)
				}
			}
		}
	}
}

func TestPanelsKeepEqualScale(t *testing.T) {
	l := layPost(160)
	for name, in := range posts() {
		m := newGroundMap(in, l.pattern)
		panels := map[string]panel{"pattern": m.panel}
		if len(in.Cause.Balls) > 0 {
			panels["delivery"] = deliveryPanel(l.delivery, in.Cause)
		}
		for which, p := range panels {
			// Over a stretch of pixels, as drawn: what go-chart's integer
			// mapping of its ticks sees has to agree as well.
			x, y := p.x.perUnit(), p.y.perUnit()
			if math.Abs(x/y-1) > .01 {
				t.Errorf("%s: %s has %.3f px a unit across and %.3f up", name, which, x, y)
			}
			for _, v := range []float64{p.x.Min, (p.x.Min + p.x.Max) / 2, p.x.Max} {
				if ours, theirs := p.x.at(v), p.left+float64(p.x.Translate(v)); math.Abs(ours-theirs) > 1 {
					t.Errorf("%s: %s: we draw %v at %.1f, the axis at %.1f", name, which, v, ours, theirs)
				}
			}
			for _, v := range []float64{p.y.Min, (p.y.Min + p.y.Max) / 2, p.y.Max} {
				if ours, theirs := p.y.at(v), p.bottom-float64(p.y.Translate(v)); math.Abs(ours-theirs) > 1 {
					t.Errorf("%s: %s: we draw %v at %.1f, the axis at %.1f", name, which, v, ours, theirs)
				}
			}
		}
	}
}

// The target line, the target and every step of the split stand on the
// pattern, whatever the balls did.
func TestPatternShowsTargetAndSplit(t *testing.T) {
	l := layPost(160)
	for name, in := range posts() {
		m := newGroundMap(in, l.pattern)
		if !m.ok {
			continue
		}
		r := in.Cause
		for what, x := range map[string]float64{"target line": 0, "face": r.Face.Mean, "face and path": r.Face.Mean + r.Path.Mean, "miss": r.Miss.Mean} {
			if at := m.at(x, 0).x; at < l.pattern.left || at > l.pattern.right {
				t.Errorf("%s: %s at %.1f m is off the panel", name, what, x)
			}
		}
		if in.Target > 0 && !l.pattern.holds(m.at(0, in.Target)) {
			t.Errorf("%s: the target is off the panel", name)
		}
	}
}

// One wild ball neither flattens the others nor goes unseen.
func TestWildBallIsMarkedAtTheEdge(t *testing.T) {
	for _, far := range []float64{60, 200, 5000, 1e9} {
		in := invent(made{balls: 20, face: -2, sdFace: 1, sdPath: 1, spread: 3, carry: 140, seed: 2})
		calm := newGroundMap(in, layPost(160).pattern).panel.x.perUnit()
		wild := in.Set.Shots[7]
		in.Set.Shots[7] = wild.With(analysis.Lateral, far)
		in.Pattern = patternOf(in)
		m := newGroundMap(in, layPost(160).pattern)
		if got := m.panel.x.perUnit(); got < calm/2.5 {
			t.Errorf("a ball %v m right shrinks the scale from %.1f to %.1f px a yard", far, calm, got)
		}
		c := canvasFor(t)
		drawPost(c, in)
		want := in.Voice.Distance(far) + " right"
		if !written(c, want) {
			t.Errorf("a ball %v m right: %q is not written", far, want)
		}
	}
}

func TestHandChangesWordsNotPlaces(t *testing.T) {
	p := made{balls: 24, face: 2, path: 1, sdFace: 1, sdPath: 1, spread: 2, carry: 150, seed: 8}
	right := invent(p)
	p.hand = analysis.LeftHanded
	left := invent(p)
	for _, c := range []struct {
		in   PostInput
		says []string
	}{
		{right, []string{"face right (open), °", "path right (in-to-out), °"}},
		{left, []string{"face right (closed), °", "path right (out-to-in), °"}},
	} {
		got := canvasFor(t)
		drawPost(got, c.in)
		for _, s := range c.says {
			if !written(got, s) {
				t.Errorf("%v-handed: %q is not written", c.in.Voice.Hand, s)
			}
		}
	}
	l := layPost(160).pattern
	r, m := newGroundMap(right, l), newGroundMap(left, l)
	if r.panel.x.Min != m.panel.x.Min || r.at(3, 140) != m.at(3, 140) {
		t.Error("the hand moved the balls")
	}
}

// A plan that was settled is named beside the lesson, whose words come first.
func TestTimelineMarksPlans(t *testing.T) {
	c := canvasFor(t)
	drawTimeline(c, timelines()["plans"])
	for _, s := range []string{"lesson: weaker grip, same aim", "plan: stronger grip", "plan: ball forward, a setup"} {
		if !writtenPart(c, s) {
			t.Errorf("%q is not written", s)
		}
	}
}

func TestPostSaysWhatIsMissing(t *testing.T) {
	for name, wants := range map[string][]string{
		"unmeasured": {"The delivery was not", "finish"},
		"empty":      {"No landing places in this file,"},
		"left":       {"What the club did, inferred"},
		"few":        {"Under 5 balls: no rings."},
		"flown":      {"carry, yards (partly inferred)", "Brief, attack angle: 3 of 24"},
		"sideways":   {"No carries in this file,"},
		"spot":       {"The balls lie on a spot or a line: no rings."},
		"wild":       {"In the brief: 6 of 22", "brief", "finds the target", "square"},
	} {
		in, ok := posts()[name]
		if name == "few" {
			in, ok = posts()["two"], true
		}
		if !ok {
			t.Fatalf("no case %q", name)
		}
		c := canvasFor(t)
		drawPost(c, in)
		for _, want := range wants {
			found := false
			for _, l := range c.labels {
				found = found || strings.Contains(l.text, want)
			}
			if !found {
				t.Errorf("%s: %q is not written", name, want)
			}
		}
	}
}

func TestTrialSaysVerdictsAndWhatIsInferred(t *testing.T) {
	in := trials()["three"]
	for i := range in.Result.Rows {
		in.Result.Rows[i].Inferred = in.Result.Rows[i].Number == analysis.Face
	}
	p := newTrialPicture(in)
	c, err := newCanvas(context.Background(), 1200, int(p.height()))
	if err != nil {
		t.Fatal(err)
	}
	p.draw(c)
	if !written(c, "face, °, inferred") || !written(c, "path, °") {
		t.Error("what is inferred, and only that, is to be said")
	}
	count := map[string]int{}
	for _, l := range c.labels {
		count[l.text]++
	}
	// A number of which something moved has a word for each set; of any other a
	// verdict is written once, behind the marks of the sets that share it.
	want := map[trial.Verdict]int{}
	grouped := map[string]bool{}
	for _, r := range in.Result.Rows {
		stirred := slices.ContainsFunc(in.Result.Rows, func(o trial.Row) bool {
			return o.Number == r.Number && (o.Verdict == trial.Moved || o.Verdict == trial.MovedLittle)
		})
		group := r.Number.Info().Key + string(r.Verdict)
		if stirred || !grouped[group] {
			want[r.Verdict]++
		}
		grouped[group] = true
	}
	for verdict, n := range want {
		if count[string(verdict)] != n {
			t.Errorf("%q is written %d times for %d rows", verdict, count[string(verdict)], n)
		}
	}
}

// The split written on the picture adds up as written.
func TestSplitAddsUpAsWritten(t *testing.T) {
	for name, in := range posts() {
		if in.Cause.Face.N == 0 {
			continue
		}
		p := in.Voice.Parts(in.Cause)
		if p.Face+p.Path+p.Rest != p.Miss {
			t.Errorf("%s: %d %+d %+d is not %d", name, p.Face, p.Path, p.Rest, p.Miss)
		}
		c := canvasFor(t)
		drawPost(c, in)
		for _, n := range []int{p.Face, p.Path, p.Rest, p.Miss} {
			if !written(c, side(n)) {
				t.Errorf("%s: %q is not written", name, side(n))
			}
		}
	}
}

func canvasFor(t *testing.T) *canvas {
	t.Helper()
	c, err := newCanvas(context.Background(), postSize, postSize)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// writtenPart reports whether some text holds s.
func writtenPart(c *canvas, s string) bool {
	for _, l := range c.labels {
		if strings.Contains(l.text, s) {
			return true
		}
	}
	return false
}

// colourAt is what is drawn at a place.
func colourAt(c *canvas, p point) drawing.Color {
	m := c.raster.RGBAAt(pixel(p.x), pixel(p.y))
	return drawing.Color{R: m.R, G: m.G, B: m.B, A: m.A}
}

// rgb are the channels of a colour.
func rgb(c drawing.Color) [3]float64 { return [3]float64{float64(c.R), float64(c.G), float64(c.B)} }

func written(c *canvas, s string) bool {
	for _, l := range c.labels {
		if l.text == s {
			return true
		}
	}
	return false
}
