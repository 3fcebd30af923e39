package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"rangepost/bot/standin"
)

// A conversation is kept in a file beside the database of what it is about. The
// zero one is not kept.
type conversation struct {
	path string
	on   *standin.Stand
}

// keepEvery is how long what was said may be lost when the process is killed.
const keepEvery = 2 * time.Second

// read brings back what was said, and whether anything was.
func (c conversation) read() (found bool, err error) {
	f, err := os.Open(c.path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	defer f.Close()
	if err := c.on.Load(bufio.NewReader(f)); err != nil {
		return false, fmt.Errorf("%s: %w (move it away to begin a new conversation)", c.path, err)
	}
	return true, nil
}

// write puts it in place whole, or not at all.
func (c conversation) write() error {
	if c.path == "" {
		return nil
	}
	f, err := os.CreateTemp(filepath.Dir(c.path), ".chat-") // private, as what it is about
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // of nothing, once it is in place
	w := bufio.NewWriter(f)
	if err := errors.Join(c.on.Save(w), w.Flush(), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), c.path)
}

// follow writes it while it goes on, until ctx ends.
func (c conversation) follow(ctx context.Context) error {
	for c.path != "" {
		changed := c.on.Changed()
		if err := c.write(); err != nil {
			return err
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return nil
		}
		select {
		case <-time.After(keepEvery):
		case <-ctx.Done():
			return nil
		}
	}
	return nil
}
