package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"

	"github.com/alecthomas/kong"
)

// databaseFlag is where the database is.
type databaseFlag struct {
	DB string `name:"db" help:"The database: a file, or postgres://USER@HOST/DATABASE." default:"rangepost.db" env:"RANGEPOST_DB"`
}

// AfterApply makes a path whole. An address stays as it is.
func (f *databaseFlag) AfterApply() error {
	if !store.IsServer(f.DB) {
		f.DB = kong.ExpandPath(f.DB)
	}
	return nil
}

// backupCommand copies the database while the bot runs.
type backupCommand struct {
	databaseFlag
	File string `arg:"" help:"The copy to write; it must not exist." type:"path"`
}

// Run copies.
func (c *backupCommand) Run(ctx context.Context, s streams) error {
	db, err := store.Open(ctx, c.DB, store.Existing())
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no database at %s, so nothing was copied: name it with --db", c.DB)
	}
	if err != nil {
		return err
	}
	defer db.Close()
	if err := db.Backup(ctx, c.File); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s is there already: name a new file", c.File)
		}
		return err
	}
	fmt.Fprintf(s.out, "Copied to %s. To go back to it, stop the bot and run: rangepost restore %s --db ANOTHER-FILE\n", c.File, c.File)
	return nil
}

// restoreCommand puts a backup in place of a database.
type restoreCommand struct {
	databaseFlag
	File string `arg:"" help:"The backup." type:"existingfile"`
}

// Run restores.
func (c *restoreCommand) Run(ctx context.Context, s streams) error {
	if err := store.Restore(ctx, c.File, c.DB); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s is there already, or a log beside it: move them away first, so that nothing is overwritten", c.DB)
		}
		return err
	}
	db, err := store.Open(ctx, c.DB, store.Existing())
	if err != nil {
		return err
	}
	defer db.Close()
	h, err := db.Health(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "Restored to %s: %s, %s, %s, all of it whole.\n",
		c.DB, words.Count(h.Students, "student"), words.Count(h.Sessions, "session"), words.Count(h.Shots, "ball"))
	return nil
}

// versionCommand prints the version.
type versionCommand struct{}

// Run prints.
func (versionCommand) Run(s streams) error {
	fmt.Fprintln(s.out, "rangepost", report.Version())
	return nil
}
