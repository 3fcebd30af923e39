package discord

import (
	"context"
	"fmt"
	"time"

	"rangepost/bot"
)

// ownWithin is how long one request of the bot's own accord is tried: what is
// missed then comes round again.
const ownWithin = time.Minute

// Put posts a message of the bot's own accord and says its id. The platform
// keeps the nonce, of at most 25 characters, for a few minutes and posts the
// same one once. Its error is bot.ErrNoChannel if the channel is gone or does
// not let the bot post there.
func (a *Adapter) Put(ctx context.Context, channel, nonce string, reply bot.Reply) (message string, err error) {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	p := payloadOf(reply)
	p.Nonce, p.Enforce = nonce, true
	var made struct {
		ID string `json:"id"`
	}
	err = a.rest.do(ctx, call{
		method: "POST", route: "/channels/{channel}/messages", args: []string{channel}, body: p.body(), into: &made,
	})
	return made.ID, onNotice("post", err)
}

// Edit writes a message of the bot's anew. Its error is bot.ErrNoMessage if
// somebody deleted it, bot.ErrNoChannel as for Put.
func (a *Adapter) Edit(ctx context.Context, channel, message string, reply bot.Reply) error {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	err := a.rest.do(ctx, call{
		method: "PATCH", route: "/channels/{channel}/messages/{message}", args: []string{channel, message}, body: payloadOf(reply).body(),
	})
	return onNotice("edit", err)
}

func onNotice(what string, err error) error {
	switch {
	case err == nil:
		return nil
	case codeOf(err) == codeUnknownMessage:
		return fmt.Errorf("%s a message: %w: %w", what, bot.ErrNoMessage, err)
	case cannotPost(err):
		return fmt.Errorf("%s a message: %w: %w", what, bot.ErrNoChannel, err)
	}
	return fmt.Errorf("%s a message: %w", what, err)
}
