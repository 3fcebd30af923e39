package main

import (
	"context"
	"fmt"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
)

// checkCommand looks at everything the bot needs and says in plain words what
// is wrong, and how each is mended. It makes the database and its folder, and
// changes nothing on the platform but what it tries in the channel it is told.
type checkCommand struct {
	databaseFlag
	platformFlags
	Channel string `help:"A channel to try everything in, by its name or its link: what is posted there goes again."`
}

// Run checks. It fails if anything is not as it should be.
func (c *checkCommand) Run(ctx context.Context, s streams) error {
	findings := append(checkDatabase(ctx, c.DB), checkToken()...)
	findings = append(findings, c.platform(ctx)...)
	wrong := 0
	for _, f := range findings {
		mark := "ok   "
		if !f.OK {
			mark = "WRONG"
			wrong++
		}
		fmt.Fprintf(s.out, "%s  %s: %s\n", mark, f.What, f.Say)
		if f.Mend != "" {
			fmt.Fprintf(s.out, "       -> %s\n", f.Mend)
		}
	}
	if wrong > 0 {
		fmt.Fprintf(s.out, "%d of %d things need doing before the bot can run.\n", wrong, len(findings))
		return exit(exitFailed)
	}
	fmt.Fprintln(s.out, "Everything is there: rangepost serve will run.")
	return nil
}

// platform is what is found on the platform, nothing without a token.
func (c *checkCommand) platform(ctx context.Context) []discord.Finding {
	secret, err := botToken()
	if err != nil || secret == "" {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	return discord.Check(ctx, discord.Config{Token: secret, Platform: c.Platform, Commands: bot.Commands(), Shards: c.Shards}, c.Channel)
}
