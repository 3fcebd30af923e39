package pictures

import "testing"

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
