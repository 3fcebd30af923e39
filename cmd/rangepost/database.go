package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"github.com/alecthomas/kong"

	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// databaseFlag is where the database is.
type databaseFlag struct {
	DB string `name:"db" help:"The database: a file, or the address of one on a PostgreSQL server, postgres://USER@HOST/DATABASE." default:"rangepost.db" env:"RANGEPOST_DB"`
}

// AfterApply makes a file's path whole.
func (f *databaseFlag) AfterApply() error {
	f.DB = databasePath(f.DB)
	return nil
}

// databasePath is a path as it is meant, or an address as it is.
func databasePath(db string) string {
	if db == "" || store.IsServer(db) {
		return db
	}
	return kong.ExpandPath(db)
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
		if errors.Is(err, store.ErrOwnTools) {
			return fmt.Errorf("a database on a server is backed up by the server's own tools: pg_dump --format=custom --schema=rangepost --file=%s %s", shellQuoted(c.File), shellQuoted(c.DB))
		}
		return err
	}
	fmt.Fprintf(s.out, "Copied to %s. To go back to it, stop the bot, move the old database away, and run: rangepost restore %s --db %s\n", c.File, shellQuoted(c.File), shellQuoted(c.DB))
	return nil
}

// restoreCommand puts a backup in place of a database.
type restoreCommand struct {
	databaseFlag
	File string `arg:"" help:"The backup."`
}

// Run restores.
func (c *restoreCommand) Run(ctx context.Context, s streams) error {
	if store.IsServer(c.DB) {
		return fmt.Errorf("a database on a server is restored by the server's own tools, into a database without the schema: pg_restore --dbname=%s %s", shellQuoted(c.DB), shellQuoted(c.File))
	}
	if c.File == "" { // as from a listing that found none
		return errors.New("no backup was named: is there one? rangepost backup FILE makes one")
	}
	if err := store.Restore(ctx, c.File, c.DB); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s is there already, or a log beside it: move them away first, so that nothing is overwritten", c.DB)
		}
		if errors.Is(err, store.ErrDamaged) || errors.Is(err, store.ErrNotOurs) {
			return fmt.Errorf("%w; nothing was restored: take the backup before this one, and look at the disk it is on", err)
		}
		return fmt.Errorf("%w; nothing was restored", err)
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
