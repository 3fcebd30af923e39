// Package bot holds the conversations, free of any chat platform: a Request
// comes in, a Reply goes out, one file a command.
package bot

import (
	"context"
	"log/slog"
	"time"

	"rangepost/store"
)

// A Bot answers requests. Its methods may be called from many goroutines.
type Bot struct {
	db    *store.DB
	fetch Fetcher
	now   func() time.Time
	log   *slog.Logger
}

// A Fetcher brings the bytes of an attachment, with the platform's rules on
// hosts, sizes and time. Its errors are for people.
type Fetcher func(ctx context.Context, a Attachment) ([]byte, error)

// Config is what a Bot needs.
type Config struct {
	DB    *store.DB
	Fetch Fetcher
	Now   func() time.Time // nil means time.Now
	Log   *slog.Logger     // nil means slog.Default
}

// New returns a Bot.
func New(c Config) *Bot {
	b := &Bot{db: c.DB, fetch: c.Fetch, now: c.Now, log: c.Log}
	if b.now == nil {
		b.now = time.Now
	}
	if b.log == nil {
		b.log = slog.Default()
	}
	return b
}

// Ack decides how r must be acknowledged, from memory alone.
func (b *Bot) Ack(r Request) Ack { panic("TODO") }

// Accept writes r to the intake before any work on it starts. It reports false
// if the same event was accepted before.
func (b *Bot) Accept(ctx context.Context, r Request) (bool, error) { panic("TODO") }

// Handle does the work and always comes back with a reply: what went wrong is
// said in it.
func (b *Bot) Handle(ctx context.Context, r Request) Reply { panic("TODO") }

// Answered marks r as answered: it will not be taken up again.
func (b *Bot) Answered(ctx context.Context, id string) error { panic("TODO") }

// Unfinished are the requests accepted but not answered, oldest first, for a
// restart to take up.
func (b *Bot) Unfinished(ctx context.Context) ([]Request, error) { panic("TODO") }
