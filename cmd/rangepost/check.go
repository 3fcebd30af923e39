package main

import (
	"context"
	"fmt"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/store"
)

// checkCommand looks at everything the bot needs and says in plain words what
// is wrong. It changes nothing on the platform.
type checkCommand struct {
	databaseFlag
	platformFlags
}

// Run checks. It fails if anything is not as it should be.
func (c *checkCommand) Run(ctx context.Context, s streams) error {
	findings := append(c.database(ctx), c.platform(ctx)...)
	wrong := 0
	for _, f := range findings {
		mark := "ok   "
		if !f.OK {
			mark = "WRONG"
			wrong++
		}
		fmt.Fprintf(s.out, "%s  %s: %s\n", mark, f.What, f.Say)
	}
	if wrong > 0 {
		fmt.Fprintf(s.out, "%d of %d things need doing before the bot can run.\n", wrong, len(findings))
		return exit(exitFailed)
	}
	fmt.Fprintln(s.out, "Everything is there: rangepost serve will run.")
	return nil
}

func (c *checkCommand) database(ctx context.Context) []discord.Finding {
	db, err := store.Open(ctx, c.DB)
	if err != nil {
		return []discord.Finding{{What: "Database", Say: fmt.Sprintf("%s cannot be opened: %v. Check the path, its permissions and the disk.", c.DB, err)}}
	}
	defer db.Close()
	h, err := db.Check(ctx)
	if err != nil {
		return []discord.Finding{{What: "Database", Say: fmt.Sprintf("%v. Restore a backup with: rangepost restore BACKUP --db NEW-FILE.", err)}}
	}
	return []discord.Finding{{What: "Database", OK: true, Say: fmt.Sprintf(
		"%s, schema %d, undamaged and writable; %d students, %d sessions, %d balls, %d requests unanswered.",
		h.Path, h.Schema, h.Students, h.Sessions, h.Shots, h.Open)}}
}

func (c *checkCommand) platform(ctx context.Context) []discord.Finding {
	secret, err := botToken()
	if err != nil {
		return []discord.Finding{{What: "Token", Say: err.Error() + "."}}
	}
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	return discord.Check(ctx, discord.Config{Token: secret, Platform: c.Platform, Commands: bot.Commands(), Shards: c.Shards})
}
