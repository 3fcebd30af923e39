package discord

import (
	"cmp"
	"context"
	"fmt"
	"net/url"
	"strconv"
	"time"
)

// site is where people open an invite link.
const site = "https://discord.com"

// Portal is where they look after the bot.
const Portal = site + "/developers/applications"

// An Invitation is the link that brings the bot to a server, and why it asks for
// what it asks for.
type Invitation struct {
	Link      string
	Asks      []Grant
	Servers   []string // it is on already
	CodeGrant bool     // the application asks for a code that no link can give
}

// A Grant is a permission the bot asks for, in the platform's words.
type Grant struct{ Name, Why string }

// Invite makes the link from the bot's token (Discord documentation, "OAuth2: Bot
// Authorization Flow" [P]: client_id, scope and permissions). Its permissions are
// those of needed, and no more.
func Invite(ctx context.Context, c Config) (Invitation, error) {
	a := newChecker(c)
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()
	var app struct {
		identified
		CodeGrant bool `json:"bot_require_code_grant"`
	}
	if err := a.rest.do(ctx, call{method: "GET", route: "/applications/@me", into: &app, manner: manner{trusting: true}}); err != nil {
		return Invitation{}, startError(err)
	}
	var in Invitation
	permissions := uint64(0)
	for _, n := range needed {
		permissions |= n.bit
		in.Asks = append(in.Asks, Grant{n.name, n.why})
	}
	in.Link = inviteLink(cmp.Or(c.Platform, site), app.ID, permissions)
	in.CodeGrant = app.CodeGrant
	servers, err := a.servers(ctx)
	for _, s := range servers {
		in.Servers = append(in.Servers, s.Name)
	}
	return in, err
}

func inviteLink(site, app string, permissions uint64) string {
	q := url.Values{"client_id": {app}, "scope": {"bot applications.commands"}, "permissions": {strconv.FormatUint(permissions, 10)}}
	return fmt.Sprintf("%s/oauth2/authorize?%s", site, q.Encode())
}
