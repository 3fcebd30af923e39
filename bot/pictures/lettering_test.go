package pictures

import (
	"context"
	"testing"
)

func TestLettered(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"Løv & Žižka: 2.9° − 4 ±", "Løv & Žižka: 2.9° − 4 ±"},
		{"e\u0301te\u0301", "été"},           // combining accents, put together
		{"ｆｕｌｌ", "full"},                     // full-width letters have plain ones
		{"強い grip", "強い grip"},               // Japanese
		{"중급 스윙, 中文", "중급 스윙, 中文"},           // Korean, Chinese
		{"Ελένη, Жанна Ё", "Ελένη, Жанна Ё"}, // Greek, Cyrillic
		{"שלום", "םולש"},                     // as its letters stand from left to right
		{"Wren שלום 7", "Wren םולש 7"},
		{"שלום Wren", "Wren םולש"},
		{"سلام", "\ufee1\ufe8e\ufee0\ufeb3"}, // joined, the first letter rightmost
		{"ཨ", "?"},
		{"a\u202eb\u0000c\u200dd", "abcd"}, // marks of direction, controls, joiners
		{"two\nlines\there", "two lines here"},
		{"🏌", "?"},
	} {
		if got := lettered(c.in); got != c.want {
			t.Errorf("lettered(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

func TestWrapNeverExceedsItsWidth(t *testing.T) {
	c := canvasFor(t)
	for _, s := range []string{"a few short words", "onewordmuchlongerthanthewidthofthelineitself", "", "a bb ccc dddd eeeee ffffff ggggggg hhhhhhhh iiiiiiiii jjjjjjjjjj"} {
		for lines := 1; lines <= 3; lines++ {
			got := c.wrap(s, 30, 300, lines)
			if len(got) > lines {
				t.Errorf("wrap(%q) in %d lines gave %d", s, lines, len(got))
			}
			for _, l := range got {
				if w := c.textWidth(l, 30); w > 300 {
					t.Errorf("wrap(%q): %q is %v px wide, over 300", s, l, w)
				}
			}
		}
	}
}

// A text drawn a few letters at a time is the text drawn in one go, letter for
// letter, but for less than a pixel.
func TestWordsStandWhereTheyWould(t *testing.T) {
	// columns are the dark pixels of each column.
	columns := func(c *canvas) (dark []int) {
		for x := range c.raster.Rect.Dx() {
			n := 0
			for y := range c.raster.Rect.Dy() {
				if c.raster.RGBAAt(x, y).R < 0x80 {
					n++
				}
			}
			dark = append(dark, n)
		}
		return dark
	}
	for _, says := range []string{"12 yards right: face 3.0° open", "AV To We, Yo.  Ta", "Οι μπάλες έφυγαν δεξιά", "a  b   c    d", "oneverylongwordandnothingelse"} {
		for _, size := range []float64{26, 28, 32, 36, 56} {
			var dark [2][]int
			for i := range dark {
				c, err := newCanvas(context.Background(), 1200, 100)
				if err != nil {
					t.Fatal(err)
				}
				c.SetFontSize(size)
				c.SetFontColor(ink)
				if i == 0 {
					c.Renderer.Text(says, 20, 70)
				} else {
					c.Text(says, 20, 70)
				}
				dark[i] = columns(c)
			}
			whole, pieces := dark[0], dark[1]
			// Each letter moved by a pixel at most: the dark of every stretch from
			// the left lies between that of a pixel less and of a pixel more.
			before, after := 0, 0
			for x := 1; x+1 < len(whole); x++ {
				before, after = before+whole[x-1], after+pieces[x]
				if slack := 2 * int(size); after < before-whole[x-1]-slack || after > before+whole[x]+whole[x+1]+slack {
					t.Errorf("%q at %v px: up to column %d there are %d dark pixels, in one go %d", says, size, x, after, before)
					break
				}
			}
		}
	}
}
