package pictures

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rangepost/analysis/timeline"
)

func TestTicksAreRoundAndFew(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		most      int
		text      func(v, step float64) string
		want      []string
	}{
		{-28, 6, 5, sided, []string{"20 L", "10 L", "0"}},
		{-1.4, 1.3, 5, sided, []string{"1 L", "0", "1 R"}},
		{130.2, 168, 6, signed, []string{"140", "150", "160"}},
		{-4.4, -1.2, 4, signed, []string{"−4", "−3", "−2"}},
		{-.3, .3, 4, signed, []string{"−0.2", "0.0", "0.2"}},
	} {
		ticks := across(box{0, 0, 500, 500}, c.low, c.high).ticks(c.most, c.text)
		var got []string
		for _, k := range ticks {
			got = append(got, k.Label)
		}
		if len(got) != len(c.want) {
			t.Errorf("%v to %v: ticks %q, want %q", c.low, c.high, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%v to %v: ticks %q, want %q", c.low, c.high, got, c.want)
			}
		}
	}
}

func TestTicksStayOnTheScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e4, 1e4).Draw(t, "low")
		s := across(box{0, 0, 500, 500}, low, low+math.Pow(10, rapid.Float64Range(-2, 4).Draw(t, "width")))
		most := rapid.IntRange(2, 8).Draw(t, "most")
		ticks := s.ticks(most, signed)
		if len(ticks) > most+1 {
			t.Fatalf("%d ticks, asked for at most %d", len(ticks), most)
		}
		for _, k := range ticks {
			if at := s.at(k.Value); at < -1 || at > 501 {
				t.Fatalf("tick %v lies at %v px", k.Value, at)
			}
		}
	})
}

func TestClippingKeepsToTheBox(t *testing.T) {
	b := box{100, 100, 500, 400}
	grown := b.inset(-1e-6)
	coordinate := rapid.OneOf(rapid.Float64Range(-1000, 1000), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), 1e18, -1e18}))
	rapid.Check(t, func(t *rapid.T) {
		var shape []point
		for range rapid.IntRange(2, 8).Draw(t, "corners") {
			shape = append(shape, point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
		}
		if p, q, ok := clipSegment(shape[0], shape[1], b); ok && (!grown.holds(p) || !grown.holds(q)) && math.Abs(shape[0].x)+math.Abs(shape[1].x)+math.Abs(shape[0].y)+math.Abs(shape[1].y) < 1e6 {
			t.Fatalf("segment %v clipped to %v %v", shape[:2], p, q)
		}
		for _, p := range clipPolygon(shape, b) {
			if !(math.Abs(p.x) < 1e6 && math.Abs(p.y) < 1e6) {
				t.Fatalf("%v clipped to a corner %v", shape, p)
			}
		}
	})
	// What is inside stays as it is.
	in := []point{{150, 150}, {300, 180}, {200, 390}}
	if got := clipPolygon(in, b); len(got) != 3 {
		t.Errorf("a triangle inside the box came out with %d corners", len(got))
	}
	if p, q, ok := clipSegment(in[0], in[1], b); !ok || p != in[0] || q != in[1] {
		t.Errorf("a segment inside the box came out as %v %v %v", p, q, ok)
	}
	if _, _, ok := clipSegment(point{0, 0}, point{90, 600}, b); ok {
		t.Error("a segment that misses the box was drawn")
	}
}

func TestCoreLeavesOutTheWildOnly(t *testing.T) {
	calm := []float64{-3, -2, -1, 0, 1, 2, 3, 4}
	if s := core(calm, 2.5, 1); s.low != -3 || s.high != 4 {
		t.Errorf("core of calm balls is %v to %v", s.low, s.high)
	}
	if s := core(append(calm, 90, math.NaN(), math.Inf(-1)), 2.5, 1); s.low != -3 || s.high != 4 {
		t.Errorf("core with a wild ball is %v to %v", s.low, s.high)
	}
	if s := core(nil, 2.5, 1); s.set {
		t.Error("there is a core of nothing")
	}
}

func TestCalendarSaysDaysMonthsAndYears(t *testing.T) {
	from := time.Date(2026, 11, 20, 18, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		days int
		want []string
	}{
		{4, []string{"21 Nov", "22 Nov", "23 Nov", "24 Nov"}},
		{14, []string{"23 Nov", "26 Nov", "29 Nov", "2 Dec"}},
		{150, []string{"Dec", "Jan", "Feb", "Mar", "Apr"}},
		{800, []string{"Jan 2027", "Jul", "Jan 2028", "Jul"}},
	} {
		r := timeline.Result{Points: []timeline.Point{{At: from}, {At: from.AddDate(0, 0, c.days)}}}
		ticks := newCalendar(box{0, 0, 1000, 100}, []timeline.Result{r}, nil).ticks()
		if len(ticks) < len(c.want) || len(ticks) > 8 {
			t.Errorf("%d days: %v", c.days, ticks)
			continue
		}
		skip := 0
		for skip < len(ticks) && ticks[skip].Label != c.want[0] {
			skip++
		}
		for i, want := range c.want {
			if skip+i >= len(ticks) || ticks[skip+i].Label != want {
				t.Errorf("%d days: %v, want %q in it", c.days, ticks, c.want)
				break
			}
		}
	}
}

// TestClipPolygonOfAnySize: whatever the corners, what is left lies in the box.
func TestClipPolygonOfAnySize(t *testing.T) {
	b := box{10, 20, 300, 400}
	for _, far := range []float64{1e3, 1e18, 1e155, 1e300, math.MaxFloat64} {
		for _, shape := range [][]point{
			{{-far, -far}, {far, -far}, {far, far}, {-far, far}},
			{{0, -far}, {far, 50}, {100, far}},
			{{-far, far / 2}, {far, -far / 3}, {far / 7, far}},
		} {
			for _, p := range clipPolygon(shape, b) {
				if !b.holds(p) {
					t.Errorf("%v: %v is outside %v", shape, p, b)
				}
			}
		}
	}
}
