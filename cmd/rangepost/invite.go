package main

import (
	"context"
	"fmt"
	"strings"

	"rangepost/bot/discord"
)

// inviteCommand prints the link that brings the bot to a server.
type inviteCommand struct {
	platformFlags
}

// Run prints it.
func (c *inviteCommand) Run(ctx context.Context, s streams) error {
	secret, err := botToken()
	if err != nil {
		return err
	}
	in, err := discord.Invite(ctx, discord.Config{Token: secret, Platform: c.Platform})
	if err != nil {
		return fmt.Errorf("%w; rangepost check says what to do", err)
	}
	fmt.Fprintf(s.out, "Open this link, choose your server, and authorise:\n\n    %s\n\nIt asks for these permissions and no others:\n", in.Link)
	for _, a := range in.Asks {
		fmt.Fprintf(s.out, "    %-26s%s\n", a.Name, a.Why)
	}
	if len(in.Servers) > 0 {
		fmt.Fprintf(s.out, "The bot is already on %s.\n", strings.Join(in.Servers, ", "))
	}
	if in.CodeGrant {
		fmt.Fprintf(s.out, "The link cannot work yet: at %s, your application, Bot, turn off Requires OAuth2 Code Grant.\n", discord.Portal)
		return exit(exitFailed)
	}
	return nil
}
