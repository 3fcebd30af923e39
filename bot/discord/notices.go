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
	var made identified
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

// Pin pins a message of the bot's. Its error is bot.ErrRefused if the bot may
// not, or the channel holds all the pins it can, ErrNoMessage and ErrNoChannel as
// for Edit.
func (a *Adapter) Pin(ctx context.Context, channel, message string) error {
	return a.onMessage(ctx, "PUT", "/channels/{channel}/messages/pins/{message}", channel, message)
}

// Delete takes a message of the bot's away. Its errors are those of Pin.
func (a *Adapter) Delete(ctx context.Context, channel, message string) error {
	return a.onMessage(ctx, "DELETE", "/channels/{channel}/messages/{message}", channel, message)
}

func (a *Adapter) onMessage(ctx context.Context, method, route, channel, message string) error {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	return onNotice(method, a.rest.do(ctx, call{method: method, route: route, args: []string{channel, message}}))
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
	return fmt.Errorf("%s a message: %w", what, final(err))
}
