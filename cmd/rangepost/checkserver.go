package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"rangepost/bot/discord"
	"rangepost/bot/words"
	"rangepost/store"
)

// checkServer looks at a database on a server: whether it is reached, may be
// written, tells the time as we do, and who else is there.
func checkServer(ctx context.Context, address string) []discord.Finding {
	const what = "Database"
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	db, err := store.Open(ctx, address)
	if err != nil {
		f := discord.Finding{What: what, Say: fmt.Sprintf("It cannot be opened: %v.", err)}
		switch {
		case errors.Is(err, store.ErrUnreachable):
			f.Mend = "start the server or mend the address, put the password into ~/.pgpass, and try it with psql " + shellQuoted(address)
		case errors.Is(err, fs.ErrPermission):
			f.Mend = "have the database's owner run the CREATE SCHEMA above"
		}
		return []discord.Finding{f}
	}
	defer db.Close()
	h, err := db.Check(ctx)
	if err != nil {
		return []discord.Finding{{What: what, Say: fmt.Sprintf("%v.", err), Mend: "pg_restore the last pg_dump into a new database"}}
	}
	s, err := db.Server(ctx)
	if err != nil {
		return []discord.Finding{{What: what, Say: fmt.Sprintf("%v.", err)}}
	}
	found := []discord.Finding{{What: what, OK: true, Say: fmt.Sprintf(
		"PostgreSQL %s, schema %d, whole and writable; %s, %s, %s, %s unanswered.",
		s.Version, h.Schema, words.Count(h.Students, "student"), words.Count(h.Sessions, "session"), words.Count(h.Shots, "ball"), words.Count(h.Open, "request"))}}
	found = append(found, checkClock(s.Ahead))
	if s.Together {
		found = append(found, discord.Finding{What: "Processes", OK: true, Say: fmt.Sprintf("%d serving, %s held.", s.Processes, words.Count(s.Shards, "shard"))})
	}
	return found
}

// checkClock is what there is to say of a clock that is so much ahead of this
// machine's.
func checkClock(ahead time.Duration) discord.Finding {
	const what = "The database's clock"
	if off := ahead.Abs(); off > 2*time.Second {
		than := "behind"
		if ahead > 0 {
			than = "ahead of"
		}
		return discord.Finding{What: what, Say: fmt.Sprintf("It is %v %s this machine's.", off.Round(time.Second), than), Mend: "timedatectl set-ntp true"}
	}
	return discord.Finding{What: what, OK: true, Say: fmt.Sprintf("within %v of this machine's.", ahead.Abs().Round(10*time.Millisecond)+10*time.Millisecond)}
}
