package pictures

import (
	"bytes"
	"context"
	"errors"
	"math"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
)

// nasty are numbers a picture must survive. A line to a NaN, or to a point far
// off the canvas, keeps go-chart busy for ever; nothing here may.
var nasty = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 1e-300, 0, 1e9, -1e5, 3}

func TestNastyNumbersNeitherHangNorFail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.SampledFrom(nasty), rapid.Float64Range(-200, 200))
		pick := func(to ...*float64) {
			for _, p := range to {
				*p = number.Draw(t, "number")
			}
		}
		estimate := func() analysis.Estimate {
			e := analysis.Estimate{N: rapid.IntRange(0, 9).Draw(t, "n"), OK: rapid.Bool().Draw(t, "ok")}
			pick(&e.Mean, &e.Low, &e.High)
			return e
		}
		in := invent(made{balls: rapid.IntRange(0, 9).Draw(t, "balls"), carry: 140, spread: 2, sdFace: 1, sdPath: 1, seed: 1})
		for range 3 {
			var p pattern.Point
			pick(&p.X, &p.Y)
			in.Pattern.Points = append(in.Pattern.Points, p)
			var s cause.Split
			pick(&s.Face, &s.Path)
			in.Cause.Balls = append(in.Cause.Balls, s)
		}
		e := pattern.Ellipse{}
		pick(&e.X, &e.Y, &e.Major, &e.Minor, &e.Angle)
		in.Pattern.Centre, in.Pattern.Ellipse80 = &e, &e
		in.Cause.Miss, in.Cause.Face, in.Cause.Path = estimate(), estimate(), estimate()
		in.Cause.Delivery[analysis.Face] = estimate()
		edge := cause.CorridorEdge{}
		pick(&edge.Path, &edge.FaceLow, &edge.FaceHigh, &in.Target, &in.Cause.HalfWidth, &in.Cause.WorkBack.FaceAlone.Mean)
		in.Cause.Corridor.Edges = append(in.Cause.Corridor.Edges, edge)
		limit := number.Draw(t, "limit")
		in.Brief = &timeline.Kept{Brief: analysis.Brief{Number: rapid.SampledFrom([]analysis.Number{analysis.Face, analysis.Path, analysis.FaceToPath}).Draw(t, "brief"), Low: &limit}}

		line := timelines()["one"]
		track := &line.Numbers[0]
		for range 2 {
			track.Points = append(track.Points, timeline.Point{At: time.Unix(0, int64(rapid.Int64().Draw(t, "when"))), Mean: estimate()})
		}
		track.Setups = []timeline.Setup{{Label: "strong grip", Points: []timeline.Point{{At: track.Points[1].At, Mean: estimate()}, {At: track.Points[2].At, Mean: estimate()}}}}
		pick(&track.Effect.MeanBefore, &track.Effect.MeanAfter)
		line.Briefs[0].Low = &limit

		compared := trial.Result{Sets: make([]trial.Side, 2)}
		for _, n := range []analysis.Number{analysis.Lateral, analysis.Carry, analysis.Face, analysis.Path, analysis.Attack} {
			row := trial.Row{Set: 1, Number: n, OK: true, Verdict: rapid.SampledFrom([]trial.Verdict{trial.Moved, trial.Held, trial.CannotTell}).Draw(t, "verdict")}
			pick(&row.Difference, &row.Low, &row.High, &row.Low90, &row.High90, &row.Zero)
			compared.Rows = append(compared.Rows, row)
		}
		k := trial.Compensation{Set: 1, OK: true, Opposed: true}
		pick(&k.FaceM, &k.PathM, &k.Cancelled)
		compared.Compensations = []trial.Compensation{k}

		scores := bars()["standings"]
		pick(&scores.Rows[0].Value, &scores.Rows[0].Low, &scores.Rows[1].High)

		ctx, cancel := context.WithTimeout(context.Background(), generous)
		defer cancel()
		which := rapid.IntRange(0, 3).Draw(t, "picture")
		draw := []func() ([]byte, error){
			func() ([]byte, error) { return Post(ctx, in) },
			func() ([]byte, error) { return Timeline(ctx, line) },
			func() ([]byte, error) { return Trial(ctx, TrialInput{Result: compared}) },
			func() ([]byte, error) { return Bars(ctx, scores) },
		}[which]
		if _, err := draw(); err != nil {
			t.Errorf("picture %d: %v", which, err)
		}
	})
}

func TestDeadline(t *testing.T) {
	in := posts()["many"]
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if b, err := Post(ctx, in); !errors.Is(err, context.Canceled) || b != nil {
		t.Errorf("a post asked for too late gave %d bytes and %v, want none and %v", len(b), err, context.Canceled)
	}
	// A context that ends in the middle of drawing stops it there.
	ctx, cancel = context.WithCancel(context.Background())
	c, err := newCanvas(ctx, postSize, postSize)
	if err != nil {
		t.Fatal(err)
	}
	drawPost(c, in)
	written := len(c.labels)
	cancel()
	drawPost(c, in)
	if len(c.labels) != written || !errors.Is(c.err, context.Canceled) {
		t.Errorf("drawing went on after the end: %d texts more, error %v", len(c.labels)-written, c.err)
	}
}

func TestWaitsForASeat(t *testing.T) {
	n := int64(0)
	for seats.TryAcquire(1) {
		n++
	}
	defer seats.Release(n)
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer cancel()
	if _, err := Post(ctx, posts()["face"]); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("with every seat taken: %v, want %v", err, context.DeadlineExceeded)
	}
}

func TestSameInputSamePicture(t *testing.T) {
	draw := every()
	for _, name := range []string{"post-wild", "trial-three", "timeline-long"} {
		a, err := draw[name](context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if b, _ := every()[name](context.Background()); !bytes.Equal(a, b) {
			t.Errorf("%s: two drawings of one input differ", name)
		}
	}
}

// Run with -race: pictures drawn at once share the font and nothing else.
func TestManyAtOnce(t *testing.T) {
	draw := every()
	alone, err := draw["post-left"](context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 4 {
		for _, name := range []string{"post-left", "trial-one", "timeline-four"} {
			wg.Go(func() {
				b, err := draw[name](context.Background())
				if err != nil {
					t.Errorf("%s: %v", name, err)
				}
				if name == "post-left" && !bytes.Equal(b, alone) {
					t.Errorf("%s: drawn among others it comes out different", name)
				}
			})
		}
	}
	wg.Wait()
}

func TestInputsAreNotChanged(t *testing.T) {
	in := posts()["wild"]
	points, balls, shots := len(in.Pattern.Points), len(in.Cause.Balls), in.Set.Shots[0]
	first, ball := in.Pattern.Points[0], in.Cause.Balls[0]
	if _, err := Post(context.Background(), in); err != nil {
		t.Fatal(err)
	}
	if len(in.Pattern.Points) != points || len(in.Cause.Balls) != balls || in.Set.Shots[0] != shots || in.Pattern.Points[0] != first || in.Cause.Balls[0] != ball {
		t.Error("drawing changed its input")
	}
}

// The palette costs a picture nothing the eye can find: flat colours come out
// as they went in, and hardly any pixel of an edge is far from what it was.
func TestPaletteLosesNothingSeen(t *testing.T) {
	for _, name := range []string{"many", "left"} {
		c := canvasFor(t)
		drawPost(c, posts()[name])
		m := c.raster
		p := reduce(m)
		if share := differ(m, p); share > .0002 {
			t.Errorf("%s: %.3f %% of the pixels change to the eye", name, 100*share)
		}
		if got, want := p.At(3, 3), m.At(3, 3); got != want {
			t.Errorf("%s: the paper is %v, drawn as %v", name, got, want)
		}
	}
}

// A post of 60 balls is a long session; it has to be drawn in well under a
// tenth of a second.
func BenchmarkPost60(b *testing.B) {
	in := invent(made{balls: 60, face: -2, path: 1, sdFace: 1.2, sdPath: 1.4, spread: 3, carry: 140, seed: 1})
	size := 0
	for b.Loop() {
		png, err := Post(context.Background(), in)
		if err != nil {
			b.Fatal(err)
		}
		size = len(png)
	}
	b.ReportMetric(float64(size), "bytes")
}

func BenchmarkTrial(b *testing.B) {
	in := trials()["three"]
	for b.Loop() {
		if _, err := Trial(context.Background(), in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTimeline(b *testing.B) {
	in := timelines()["three"]
	for b.Loop() {
		if _, err := Timeline(context.Background(), in); err != nil {
			b.Fatal(err)
		}
	}
}
