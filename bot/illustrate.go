package bot

import (
	"context"
	"errors"
	"time"

	"rangepost/bot/report"
	"rangepost/bot/words"
)

// drawWithin is how long a reply waits for its picture, most of it for others'
// pictures to be drawn first. One takes a tenth of a second.
const drawWithin = 20 * time.Second

// illustrate adds a picture to a reply. The words are the answer: a picture
// that cannot be drawn, or not in time, must not cost them.
func (b *Bot) illustrate(ctx context.Context, reply *Reply, name string, draw func(context.Context) (report.Picture, error)) {
	within, cancel := context.WithTimeout(ctx, b.drawWithin)
	defer cancel()
	picture, err := draw(within)
	if errors.Is(ctx.Err(), context.Canceled) {
		return // the process ends, and the next one answers
	}
	if err != nil {
		b.log.ErrorContext(ctx, "picture failed", "err", err)
		reply.Text = words.Clip(reply.Text, MaxText-60) + "\n(The picture could not be drawn this time.)"
		return
	}
	reply.Picture = &Picture{Name: name, PNG: picture.PNG, Alt: picture.Alt}
}
