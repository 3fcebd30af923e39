package pictures

import (
	"bytes"
	"image"
	"image/color"
	"math/rand/v2"
	"slices"
	"testing"
)

// reducedByPixel is what reduce says it does, one pixel and one step at a time.
func reducedByPixel(m *image.RGBA) *image.Paletted {
	type cell struct{ count, r, g, b int }
	cells := make([]cell, 1<<15)
	of := func(x, y int) (key int, c color.RGBA) {
		c = m.RGBAAt(x, y)
		return int(c.R)/8*1024 + int(c.G)/8*32 + int(c.B)/8, c
	}
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			k, c := of(x, y)
			s := cells[k]
			cells[k] = cell{s.count + 1, s.r + int(c.R), s.g + int(c.G), s.b + int(c.B)}
		}
	}
	var fullest []int
	for k, c := range cells {
		if c.count > 0 {
			fullest = append(fullest, k)
		}
	}
	slices.SortStableFunc(fullest, func(p, q int) int { return cells[q].count - cells[p].count })
	var palette color.Palette
	index := make([]uint8, len(cells))
	for _, k := range fullest {
		mean := func(sum int) uint8 { return uint8((2*sum + cells[k].count) / (2 * cells[k].count)) } // rounded half up
		c := color.RGBA{mean(cells[k].r), mean(cells[k].g), mean(cells[k].b), 0xff}
		if len(palette) == 256 {
			index[k] = uint8(palette.Index(c))
			continue
		}
		index[k] = uint8(len(palette))
		palette = append(palette, c)
	}
	out := image.NewPaletted(b, palette)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			k, _ := of(x, y)
			out.SetColorIndex(x, y, index[k])
		}
	}
	return out
}

// Counting runs instead of pixels changes no byte, on any picture drawn or on
// noise, where nearly every run is one pixel long and the palette overflows.
func TestReduceAgreesWithOnePixelAtATime(t *testing.T) {
	pictures := map[string]*image.RGBA{"one pixel": image.NewRGBA(image.Rect(0, 0, 1, 1)), "nothing": image.NewRGBA(image.Rectangle{})}
	for name, c := range drawn(t) {
		pictures[name] = c.raster
	}
	noise := rand.New(rand.NewPCG(1, 2))
	for name, coarse := range map[string]uint8{"noise": 1, "coarse noise": 64} {
		m := image.NewRGBA(image.Rect(0, 0, 400, 300))
		for i := range m.Pix {
			if m.Pix[i] = uint8(noise.IntN(256)) / coarse * coarse; i%4 == 3 {
				m.Pix[i] = 0xff
			}
		}
		pictures[name] = m
	}
	for name, m := range pictures {
		got, want := reduce(m), reducedByPixel(m)
		if !slices.Equal(got.Palette, want.Palette) {
			t.Errorf("%s: the palette has %d colours, want %d, or others", name, len(got.Palette), len(want.Palette))
		}
		if got.Rect != want.Rect || !bytes.Equal(got.Pix, want.Pix) {
			t.Errorf("%s: the pixels of the reduced picture differ", name)
		}
	}
}
