package pictures

import (
	"bytes"
	"context"
	"testing"

	"github.com/wcharczuk/go-chart/v2/drawing"
	"pgregory.net/rapid"
)

// A sheet leaves the very pixels that filling its corners as a polygon would,
// over whatever is below it, within whatever is cut off.
func TestSheetIsAFilledPolygon(t *testing.T) {
	const w, h = 60, 40
	rapid.Check(t, func(t *rapid.T) {
		corner := rapid.Float64Range(-20, 80)
		place := func(name string) box {
			x, y, u, v := corner.Draw(t, name), corner.Draw(t, name), corner.Draw(t, name), corner.Draw(t, name)
			return box{min(x, u), min(y, v), max(x, u), max(y, v)}
		}
		channel := rapid.Byte()
		fill := drawing.Color{R: channel.Draw(t, "red"), G: channel.Draw(t, "green"), B: channel.Draw(t, "blue"), A: 0xff}
		b, clip := place("box"), place("clip")
		clip = box{max(clip.left, 0), max(clip.top, 0), min(clip.right, w), min(clip.bottom, h)}
		var was [2][]uint8
		for i, cover := range []func(*canvas){
			func(c *canvas) { c.sheet(fill, b) },
			func(c *canvas) { c.polygon(fill, none, 0, corners(b)...) },
		} {
			c, err := newCanvas(context.Background(), w, h)
			if err != nil {
				t.Fatal(err)
			}
			c.disc(point{30, 20}, 15, fade(ink, .5), none, 0)
			c.within(clip, func() { cover(c) })
			was[i] = c.raster.Pix
		}
		if !bytes.Equal(was[0], was[1]) {
			t.Errorf("a sheet over %v within %v differs from the polygon", b, clip)
		}
	})
}

// A blank canvas is paper to its last pixel.
func TestBlankCanvasIsPaper(t *testing.T) {
	c, err := newCanvas(context.Background(), 37, 21)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.raster.Pix); n != 4*37*21 {
		t.Fatalf("the raster has %d bytes, want %d", n, 4*37*21)
	}
	for i := 0; i < len(c.raster.Pix); i += 4 {
		if p := c.raster.Pix[i : i+4]; !bytes.Equal(p, []byte{paper.R, paper.G, paper.B, 0xff}) {
			t.Fatalf("pixel %d is %v, want paper", i/4, p)
		}
	}
}
