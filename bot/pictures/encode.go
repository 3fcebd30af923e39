package pictures

import (
	"bytes"
	"cmp"
	"encoding/binary"
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
	key     int // those bits
	count   int
	r, g, b int // sums over its pixels
}

// mean is the average colour of the cell.
func (c cell) mean() color.RGBA {
	avg := func(sum int) uint8 { return uint8((sum + c.count/2) / c.count) }
	return color.RGBA{avg(c.r), avg(c.g), avg(c.b), 0xff}
}

// A run is neighbouring pixels of one colour, along the rows and on from each
// into the next. A picture has some fifteen to seventy times as many pixels.
type run struct {
	cell   int32 // index in the cells
	pixels int32
}

// runs is the whole picture, and the cells of its colours as they turn up.
func runs(m *image.RGBA) (all []run, cells []cell) {
	at := make([]uint16, 1<<15) // a key's cell, counted from 1; 0 for none yet
	all = make([]run, 0, len(m.Pix)/4/14)
	for pix := m.Pix; len(pix) > 0; {
		r, g, b := int(pix[0]), int(pix[1]), int(pix[2])
		n := alike(pix)
		pix = pix[4*n:]
		key := r>>3<<10 | g>>3<<5 | b>>3
		if at[key] == 0 {
			cells = append(cells, cell{key: key})
			at[key] = uint16(len(cells))
		}
		i := int(at[key]) - 1
		c := &cells[i]
		c.count, c.r, c.g, c.b = c.count+n, c.r+n*r, c.g+n*g, c.b+n*b
		all = append(all, run{int32(i), int32(n)})
	}
	return all, cells
}

// alike is how many pixels from the first on are as it is.
func alike(pix []uint8) int {
	first := binary.NativeEndian.Uint32(pix)
	n := 4
	for n < len(pix) && binary.NativeEndian.Uint32(pix[n:]) == first {
		n += 4
	}
	return n / 4
}

// reduce gives an opaque picture a palette: the means of its 256 fullest
// cells, every other cell taking the nearest of them.
func reduce(m *image.RGBA) *image.Paletted {
	all, cells := runs(m)
	order := make([]int, len(cells))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(cells[j].count, cells[i].count), cmp.Compare(cells[i].key, cells[j].key))
	})
	var palette color.Palette
	index := make([]uint8, len(cells))
	for _, i := range order {
		if mean := cells[i].mean(); len(palette) < 256 {
			index[i] = uint8(len(palette))
			palette = append(palette, mean)
		} else {
			index[i] = uint8(palette.Index(mean))
		}
	}
	out := image.NewPaletted(m.Rect, palette)
	pix := out.Pix
	for _, r := range all {
		fill(pix[:r.pixels], index[r.cell])
		pix = pix[r.pixels:]
	}
	return out
}

// fill makes every byte of pix v.
func fill(pix []uint8, v uint8) {
	for i := range pix {
		pix[i] = v
	}
}
