package pictures

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
)

func drawnBars(t *testing.T, in BarsInput) (*canvas, *barsLayout) {
	t.Helper()
	l, err := layBars(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	c, err := newCanvas(context.Background(), 1200, l.height())
	if err != nil {
		t.Fatal(err)
	}
	l.draw(c)
	return c, l
}

// The platform's display names have up to 32 letters; whichever, each is
// written whole.
func TestNamesAreNeverClipped(t *testing.T) {
	for _, name := range []string{
		strings.Repeat("W", 32), strings.Repeat("強", 32), strings.Repeat("i", 32), strings.Repeat("Wm ", 10) + "Wm",
		"A name of quite many short words", strings.Repeat("강", 32), strings.Repeat("Ж", 32), "Wren",
	} {
		in := BarsInput{Title: "x", Axis: "yards", Rows: []Bar{{Name: "30. " + name, Value: 5, Says: "14.6 (9.5 to 22.3)"}, {Name: "Wren", Value: 7, Says: "1"}}}
		c, l := drawnBars(t, in)
		var all strings.Builder
		for _, label := range c.labels {
			if label.box.right <= l.panel.left && label.box.top > l.panel.top && label.box.bottom < l.panel.top+l.pitch {
				all.WriteString(label.text)
			}
		}
		plain := func(s string) string { return strings.ReplaceAll(lettered(s), " ", "") }
		if got := plain(all.String()); got != plain("30. "+name) {
			t.Errorf("%q is written %q", "30. "+name, got)
		}
		if l.panel.width() < 200 {
			t.Errorf("%q leaves the bars %v px", name, l.panel.width())
		}
	}
}

// Rows that are not apart stand on one shade, from edge to edge and none
// beside them; two runs do not touch.
func TestTiesAreShaded(t *testing.T) {
	in := BarsInput{Title: "x", Axis: "yards"}
	ties := []int{0, 1, 1, 2, 2, 2, 0, 3}
	for i, tie := range ties {
		in.Rows = append(in.Rows, Bar{Name: fmt.Sprint(i), Value: 3, Says: "3", Tie: tie})
	}
	c, l := drawnBars(t, in)
	shaded := func(x, y float64) bool { return rgb(colourAt(c, point{x, y})) == rgb(tieShade) }
	for i, tie := range ties {
		want := tie == 1 || tie == 2 // 3 is alone
		y := l.panel.top + l.pitch*(float64(i)+.5)
		for _, x := range []float64{24, l.panel.right - 6, 1176} {
			if got := shaded(x, y); got != want {
				t.Errorf("row %d at %.0f: shaded %v, want %v", i, x, got, want)
			}
		}
	}
	if shaded(24, l.panel.top+3*l.pitch) {
		t.Error("two runs run into one")
	}
	if !writtenPart(c, "One shade: not apart") {
		t.Error("nothing says what the shade is")
	}
}

// A roster's axis goes from nothing to all, with the half marked, whatever the
// shares; everybody is on it, with or without a brief.
func TestRosterAxisIsWhole(t *testing.T) {
	for _, share := range []float64{0, 3, 50, 100, math.NaN()} {
		in := BarsInput{Title: "x", Axis: "% of balls inside", Share: true, Rows: []Bar{{Name: "Wren", Value: share, Says: "s"}, {Name: "Odell", Value: math.NaN(), Says: "no brief"}}}
		c, l := drawnBars(t, in)
		for _, want := range []string{"0", "50", "100", "Odell", "no brief"} {
			if !written(c, want) {
				t.Errorf("a share of %v: %q is not written", share, want)
			}
		}
		middle, marked := (l.panel.left+l.panel.right)/2, 0
		for y := l.panel.top; y < l.panel.bottom; y++ {
			if rgb(colourAt(c, point{middle, y})) == rgb(ink) {
				marked++
			}
		}
		if marked < int(l.panel.height()/4) {
			t.Errorf("a share of %v: the half is marked over %d px of %.0f", share, marked, l.panel.height())
		}
	}
}
