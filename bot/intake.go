package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"rangepost/store"
)

// maxAttempts is how often a request is taken up again before it is given up:
// one that brings the process down each time must not do so for ever.
const maxAttempts = 3

// Accept writes r to the intake before any work on it starts. It reports false
// if the same event was accepted before. A completion is never kept: it is
// worth nothing a second later.
func (b *Bot) Accept(ctx context.Context, r Request) (fresh bool, err error) {
	if r.Kind == CompletionAsk {
		return true, nil
	}
	body, err := json.Marshal(r)
	if err != nil {
		return false, fmt.Errorf("bot: accepting a request: %w", err)
	}
	return b.db.Accept(ctx, store.Intake{ID: r.ID, Server: r.Server, Asker: r.Asker.ID, Kind: string(r.Kind), Body: body})
}

// Answered marks the request with that id as answered: it will not be taken up
// again, and the way back to the asker is erased. A request whose asker had
// everything deleted meanwhile is gone, and that is no error.
func (b *Bot) Answered(ctx context.Context, id string) error {
	if err := b.db.Answered(ctx, id); !errors.Is(err, store.ErrNotFound) {
		return err
	}
	return nil
}

// Unfinished are the requests accepted but not answered, oldest first, for a
// restart to take up. One that was taken up too often already is given up and
// logged. With an error come those that were read before it.
func (b *Bot) Unfinished(ctx context.Context) ([]Request, error) {
	open, err := b.db.Unfinished(ctx)
	if err != nil {
		return nil, err
	}
	var requests []Request
	for _, in := range open {
		var r Request
		if err := json.Unmarshal(in.Body, &r); err != nil {
			b.log.ErrorContext(ctx, "request given up: unreadable", "kind", in.Kind, "err", err)
			if err := b.db.Failed(ctx, in.ID, "unreadable"); err != nil {
				return requests, err
			}
			continue
		}
		attempts, err := b.db.Retry(ctx, in.ID)
		if err != nil {
			return requests, err
		}
		if attempts > maxAttempts {
			b.log.ErrorContext(ctx, "request given up: taken up too often", "kind", in.Kind, "what", r.what(), "attempts", attempts)
			if err := b.db.Failed(ctx, in.ID, "taken up too often"); err != nil {
				return requests, err
			}
			continue
		}
		requests = append(requests, r)
	}
	return requests, nil
}
