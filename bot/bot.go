// Package bot holds the conversations, free of any chat platform: a Request
// comes in, a Reply goes out.
//
// # The order of things
//
// The platform's adapter asks Ack and Urgent at once, acknowledges, calls Accept so that
// the request outlives a crash, then Handle, delivers the reply, and calls
// Answered. After a restart it takes up what Unfinished lists.
//
// # Who sees what
//
// In a student's own lesson thread replies about that student are for whoever
// can read the thread; anywhere else they are for the asker alone. Errors are
// always for the asker alone. See permit.go.
//
// # What is done, and what is said
//
// What happens to sessions, briefs, timelines and challenges happens in package
// record, which returns data. A function here reads a request, calls it, and
// says what came of it: run for a command, press for a button, choose for a
// menu, submit for a form.
//
// # Of its own accord
//
// Run calls Tick a few times a minute: challenges that are due are opened, scored
// anew, closed and shown (notices.go), seasons likewise (seasonupkeep.go), the messages with a student's buttons posted in
// lesson threads and taken away (pinned.go), digests sent (upkeep.go). What is due is
// read from the database each time, never remembered.
package bot

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"golang.org/x/sync/semaphore"

	"rangepost/bot/record"
	"rangepost/store"
)

// A Bot answers requests. Its methods may be called from many goroutines.
type Bot struct {
	db      *store.DB
	records *record.Records
	fetch   Fetcher
	now     func() time.Time
	log     *slog.Logger
	known   *known
	quota   quota

	working *semaphore.Weighted // see begin
	tending sync.Mutex          // one at a time does what is due
	soon    chan struct{}       // see hurry

	backAgain bool // see makeUp

	drawWithin time.Duration // shorter in tests
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

// New returns a Bot that knows the lesson threads and coach roles the database
// holds.
func New(ctx context.Context, c Config) (*Bot, error) {
	b := &Bot{db: c.DB, fetch: c.Fetch, now: c.Now, log: c.Log, drawWithin: drawWithin, working: semaphore.NewWeighted(together), soon: make(chan struct{}, 1)}
	if b.now == nil {
		b.now = time.Now
	}
	if b.log == nil {
		b.log = slog.Default()
	}
	if err := permitted(); err != nil {
		return nil, err
	}
	b.records = record.New(b.db, b.now, b.log)
	if b.db.Shared() {
		b.quota.db = b.db
	}
	var err error
	if b.known, err = recall(ctx, c.DB); err != nil {
		return nil, fmt.Errorf("bot: %w", err)
	}
	return b, nil
}
