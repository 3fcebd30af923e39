package pictures

import (
	"context"
	"fmt"
	"strings"

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

// The post's layout in pixels. The two panels stand at one height; the split
// of the miss stands under the pattern on the pattern's own scale across.
const (
	postSize   = 1200
	postTop    = 316
	postBottom = 806
)

var (
	patternBox  = box{106, postTop, 596, postBottom}
	deliveryBox = box{710, postTop, 1170, postBottom}
	splitBox    = box{106, 930, 596, 1118}
	readingBox  = box{650, 912, 1170, 1118}
)

// Post draws a posted set, 1200 by 1200 pixels: on the left where the balls
// finished, seen from above, and whose yards the miss is; on the right what the
// club did, and the deliveries that would have found the target. It returns
// ctx's error if the picture is not done before ctx ends.
func Post(ctx context.Context, in PostInput) ([]byte, error) {
	return render(ctx, postSize, postSize, func(c *canvas) { drawPost(c, in) })
}

func drawPost(c *canvas, in PostInput) {
	in.Voice.Plain = true
	c.title(in.Title, postLine(in))
	m := newGroundMap(in)
	m.draw(c)
	drawSplit(c, in, m)
	drawDelivery(c, in)
	drawReading(c, in)
	c.text(postFoot(in), point{40, 1172}, leastSize, muted, fromLeft)
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
	balls := plural(in.Pattern.Used, "ball")
	if n := in.Pattern.Balls - in.Pattern.Used; n > 0 {
		balls += fmt.Sprintf(", %d set aside", n)
	}
	return strings.Join(append(says, balls), " · ")
}

// postFoot says what the marks mean that carry no word of their own.
func postFoot(in PostInput) string {
	var says []string
	if in.Pattern.Ellipse80 != nil {
		says = append(says, "Dashed ring: 8 balls in 10.")
	}
	if in.Pattern.Centre != nil || in.Pattern.Lateral.OK {
		says = append(says, "Cross: the centre, within 95 % limits.")
	}
	if in.Pattern.Balls > in.Pattern.Used {
		says = append(says, "Hollow: set aside.")
	}
	return strings.Join(says, " ")
}

func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
