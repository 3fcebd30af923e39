package pictures

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/wcharczuk/go-chart/v2/drawing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
)

// PostInput is a posted set and what was found of it.
type PostInput struct {
	Voice words.Voice // hand and units
	Title string      // the finding, from words; plain text
	Who   string      // whose balls, "" to leave it out; untrusted

	Set     analysis.Set
	Pattern pattern.Pattern
	Cause   cause.Result
	Target  float64        // carry aimed at, m; 0 when not said
	Brief   *timeline.Kept // the coach's brief and how these balls kept it, nil if none
}

const postSize = 1200

// Post draws a posted set, 1200 by 1200 pixels: on the left where the balls
// finished, seen from above, and whose yards the miss is; on the right what the
// club did, and the deliveries that would have found the target. It returns
// ctx's error if the picture is not done before ctx ends.
func Post(ctx context.Context, in PostInput) ([]byte, error) {
	return render(ctx, postSize, postSize, func(c *canvas) { drawPost(c, in) })
}

// A postLayout is where the parts of a post stand. The two panels stand at one
// height; the split of the miss stands under the pattern, on its scale across.
type postLayout struct {
	pattern, delivery box // the plots alone, without ticks and titles
	split, reading    box
}

func layPost(titleBottom float64) postLayout {
	top, bottom := titleBottom+116, 834.0
	return postLayout{
		pattern:  box{106, top, 596, bottom},
		delivery: box{716, top, 1166, bottom},
		split:    box{146, 938, 596, 1122},
		reading:  box{650, 938, 1170, 1122},
	}
}

func drawPost(c *canvas, in PostInput) {
	in.Voice.Plain = true
	l := layPost(c.title(in.Title, postLine(in)))
	m := newGroundMap(in, l.pattern)
	m.draw(c)
	m.split(c, l.split)
	drawDelivery(c, in, l.delivery)
	drawReading(c, in, l.reading)
	c.text(c.postFoot(in), point{40, 1174}, leastSize, muted, fromLeft)
}

// postLine says whose balls, which club and how many.
func postLine(in PostInput) string {
	var says []string
	if in.Who != "" {
		says = append(says, in.Who)
	}
	if !in.Set.Club.Unknown() {
		says = append(says, in.Set.Club.String())
	}
	if in.Set.Label != "" {
		says = append(says, "“"+in.Set.Label+"”")
	}
	balls := words.Count(max(in.Pattern.Used, in.Cause.Miss.N), "ball")
	if n := in.Pattern.Balls - in.Pattern.Used; n > 0 {
		balls += fmt.Sprintf(", %d set aside", n)
	}
	return strings.Join(append(says, balls), " · ")
}

// postFoot says what the marks mean that carry no word of their own.
func (c *canvas) postFoot(in PostInput) string {
	var says []string
	for _, w := range in.Pattern.Warnings {
		switch w.Code {
		case pattern.FewBalls:
			if w.Count > 0 {
				says = append(says, "Under 5 balls: no rings.")
			}
		case pattern.NoSpread:
			says = append(says, "The balls lie on a spot or a line: no rings.")
		}
	}
	if in.Pattern.Centre != nil {
		says = append(says, "Ring: centre, 95 % sure.")
	}
	if in.Pattern.Ellipse80 != nil {
		says = append(says, "Dashed: 8 in 10.")
	}
	if in.Pattern.Balls > in.Pattern.Used {
		says = append(says, "Hollow: set aside.")
	}
	named := slices.ContainsFunc(c.labels, func(l label) bool { return l.text == findsTarget })
	if in.Cause.HalfWidth > 0 && !named {
		says = append(says, "Green: "+findsTarget+".")
	}
	return strings.Join(says, "  ")
}

// panelHead writes a panel's name and, under it, what its axis upward is.
func (c *canvas) panelHead(b box, left float64, name, up string, colour drawing.Color) {
	c.text(name, point{left, b.top - 66}, headSize, ink, fromLeft)
	if up != "" {
		c.pointer(point{b.left + 10, b.top - 24}, 0, -1, 20, colour)
		c.text(up, point{b.left + 28, b.top - 14}, smallSize, colour, fromLeft)
	}
}
