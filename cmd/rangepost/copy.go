package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"rangepost/bot/words"
	"rangepost/store"
)

// copyCommand moves everything from one database to another.
type copyCommand struct {
	From string `help:"The database to copy: a file, or an address on a PostgreSQL server. Nothing may serve from it." required:""`
	To   string `help:"An empty one, or a file that is not there yet." required:""`
}

// Run copies.
func (c *copyCommand) Run(ctx context.Context, s streams) error {
	from, to := databasePath(c.From), databasePath(c.To)
	done, err := store.Copy(ctx, from, to)
	switch {
	case errors.Is(err, store.ErrHeld):
		return fmt.Errorf("%w: stop the bot first, since what it writes meanwhile would stay behind; nothing was copied", err)
	case errors.Is(err, store.ErrNotEmpty):
		return fmt.Errorf("%w: name an empty database with --to; nothing was copied", err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%w: name the database with --from; nothing was copied", err)
	case err != nil:
		return fmt.Errorf("%w; nothing was copied", err)
	}
	fmt.Fprintf(s.out, "Copied: %s in %s, each read again and the same. Now start the bot with --db %s.\n",
		words.Count(done.Rows, "row"), words.Count(done.Tables, "table"), shellQuoted(to))
	return nil
}
