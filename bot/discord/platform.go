package discord

import (
	"context"
	"fmt"

	"rangepost/bot"
)

// What the bot does of its own accord: an Adapter is a bot.Platform.
var _ bot.Platform = (*Adapter)(nil)

const (
	codeUnknownMember = 10007
	codeUnknownUser   = 10013
)

// Direct sends somebody a message directly.
func (a *Adapter) Direct(ctx context.Context, person, nonce string, reply bot.Reply) error {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	to, err := a.directChannel(ctx, person)
	if err == nil {
		err = a.post(ctx, to, "", nonce, reply)
	}
	return final(err)
}

// Roles are a member's roles. Asking for one member by id takes no privileged
// intent, which hearing of everybody who leaves would.
func (a *Adapter) Roles(ctx context.Context, server, person string) ([]string, error) {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	var member roles
	err := a.rest.do(ctx, call{
		method: "GET", route: "/guilds/{guild}/members/{user}", args: []string{server, person}, into: &member,
	})
	switch codeOf(err) {
	case codeUnknownMember, codeUnknownUser:
		return nil, fmt.Errorf("%w: %w", bot.ErrGone, err)
	}
	return member.Roles, final(err)
}

// roles are a member as far as Roles asks. A member without any has an empty
// list; an answer without one says nothing of them.
type roles struct {
	Roles []string `json:"roles"`
}

func (r *roles) told() bool { return r.Roles != nil }

// final tells a refusal that is final, the bot's token being good, from what
// may work another time.
func final(err error) error {
	if err == nil || !refused(err) || unauthorized(err) {
		return err
	}
	return fmt.Errorf("%w: %w", bot.ErrRefused, err)
}
