package discord

import (
	"context"
	"errors"
	"time"

	"rangepost/bot"
)

const (
	privateThread = 12
	// A thread that nobody writes in for a week leaves the list of channels; it
	// comes back with the next message.
	archiveAfter = 7 * 24 * 60 // minutes
	// How far a clock may be behind the platform's, and a thread still be found
	// again that was opened just now.
	skewed = 2 * time.Minute
)

// Open opens a private thread, puts people into it and says its id. One of the
// bot's of that name, in that channel and since then, is found again: no nonce
// keeps a thread from being opened twice. Its error is bot.ErrNoChannel or
// bot.ErrRefused if the bot may not.
func (a *Adapter) Open(ctx context.Context, t bot.Thread) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, ownWithin)
	defer cancel()
	id, err := a.opened(ctx, t)
	if err == nil && id == "" {
		var made identified
		err = a.rest.do(ctx, call{
			method: "POST", route: "/channels/{channel}/threads", args: []string{t.Channel}, into: &made,
			body:   jsonBody(map[string]any{"name": cut(visible(t.Name), 100), "type": privateThread, "auto_archive_duration": archiveAfter, "invitable": false}),
			manner: manner{once: true},
		})
		id = made.ID
	}
	if err != nil {
		return "", onNotice("open a thread for", err)
	}
	for _, person := range t.People {
		err := a.rest.do(ctx, call{method: "PUT", route: "/channels/{channel}/thread-members/{user}", args: []string{id, person}})
		if err != nil && !refused(err) { // refused: they have left, or do not see the channel
			return "", onNotice("invite somebody to a thread for", err)
		}
	}
	return id, nil
}

// opened is the thread that is there already, "" for none.
func (a *Adapter) opened(ctx context.Context, t bot.Thread) (string, error) {
	me := a.self.Load()
	if me == nil {
		return "", errors.New("the bot does not know itself yet") // the next tick it does
	}
	var active struct {
		Threads []struct {
			ID     string `json:"id"`
			Name   string `json:"name"`
			Parent string `json:"parent_id"`
			Owner  string `json:"owner_id"`
		} `json:"threads"`
	}
	if err := a.rest.do(ctx, call{method: "GET", route: "/guilds/{guild}/threads/active", args: []string{t.Server}, into: &active}); err != nil {
		return "", err
	}
	for _, there := range active.Threads {
		if there.Owner == me.ID && there.Parent == t.Channel && there.Name == cut(visible(t.Name), 100) && snowflakeTime(there.ID).After(t.Since.Add(-skewed)) {
			return there.ID, nil
		}
	}
	return "", nil
}
