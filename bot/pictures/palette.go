package pictures

import "github.com/wcharczuk/go-chart/v2/drawing"

// The hues are those of Okabe & Ito, "Color Universal Design" (2008), chosen
// to stay apart for every common kind of colour vision [M]. A thing keeps its
// colour in every picture.
var (
	paper  = drawing.Color{R: 0xfb, G: 0xfa, B: 0xf6, A: 0xff}
	ground = drawing.Color{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
	ink    = drawing.Color{R: 0x1c, G: 0x22, B: 0x2b, A: 0xff}
	muted  = drawing.Color{R: 0x5a, G: 0x63, B: 0x6e, A: 0xff}
	rule   = drawing.Color{R: 0xdf, G: 0xde, B: 0xd8, A: 0xff}
	none   = drawing.Color{}

	faceColour   = drawing.Color{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff} // vermilion
	pathColour   = drawing.Color{R: 0x00, G: 0x72, B: 0xb2, A: 0xff} // blue
	targetColour = drawing.Color{R: 0x00, G: 0x9e, B: 0x73, A: 0xff} // bluish green
	targetText   = drawing.Color{R: 0x00, G: 0x6b, B: 0x4e, A: 0xff} // the same, dark enough for text
	briefColour  = drawing.Color{R: 0xe6, G: 0x9f, B: 0x00, A: 0xff} // orange
	briefText    = drawing.Color{R: 0x8f, G: 0x5f, B: 0x00, A: 0xff} // the same, dark enough for text

	// Sets of a trial in order, and setups of a timeline, the usual one first;
	// each also has its own shape. None is the colour of a face, a path, a
	// target or a brief, which stand beside them.
	setColours = []drawing.Color{
		ink,
		{R: 0xa8, G: 0x4f, B: 0x86, A: 0xff}, // reddish purple, darkened for text
		{R: 0x77, G: 0x77, B: 0x18, A: 0xff}, // olive
		{R: 0x56, G: 0xb4, B: 0xe9, A: 0xff}, // sky blue
		{R: 0x5a, G: 0x2d, B: 0x0c, A: 0xff}, // brown
		{R: 0xe0, G: 0x8f, B: 0xbe, A: 0xff}, // pink
		{R: 0x8a, G: 0x97, B: 0xa8, A: 0xff}, // slate
	}
)

// fade is colour c at a share of its weight, over whatever is below it.
func fade(c drawing.Color, share float64) drawing.Color {
	return c.WithAlpha(uint8(255 * share))
}
