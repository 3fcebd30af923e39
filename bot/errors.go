package bot

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// explain is the one place where errors become replies. What it does not know
// becomes a fixed sentence with an incident id, and one line in the log.
func (b *Bot) explain(ctx context.Context, r Request, err error) Reply {
	reply := b.explained(ctx, r, err)
	reply.Away = b.db.Shared() && (errors.Is(err, store.ErrUnreachable) || errors.Is(err, store.ErrInDoubt) || errors.Is(err, context.DeadlineExceeded) && b.db.There() != nil)
	return reply
}

func (b *Bot) explained(ctx context.Context, r Request, err error) Reply {
	var refusal *analysis.Refusal
	switch {
	case errors.As(err, &refusal):
		return private(refusal.Say(words.Escape))
	case errors.Is(err, errSetAside):
		return private(fmt.Sprintf("I have set this aside: each time I began on it I broke down. Nothing else is lost. Tell the server's managers the incident number %s, and what you asked.", r.Incident))
	case errors.Is(err, store.ErrExpired):
		return private("That button is too old to use. Ask again with the command and you get a fresh one.")
	case errors.Is(err, store.ErrNotFound):
		return private("I do not have that any more: it was deleted, or it never was here. `/cause` and `/timeline` offer what there is.")
	case errors.Is(err, context.DeadlineExceeded):
		return private("That took too long and I stopped. Nothing is lost; try it again in a minute.")
	}
	b.log.ErrorContext(ctx, "request failed", "incident", r.Incident, "kind", r.Kind, "what", r.what(), "err", err)
	if reply, ok := databaseFault(err, r.Incident); ok {
		return reply
	}
	return private(fmt.Sprintf("Something went wrong on my side, and it has been noted as incident %s. What was kept before is safe; try it again in a minute.", r.Incident))
}

// databaseFaults are what can be wrong with the database, as the person who
// asked is told. The log tells the operator, under the incident's number.
var databaseFaults = []struct {
	err   error
	lasts bool // until somebody mends it, rather than passing
	say   string
}{
	{store.ErrFull, true, "The disk I write to is full, so nothing of this was kept; what was kept before is safe. Tell whoever runs me, and ask again once there is room."},
	{store.ErrBusy, false, "Another program is holding my database, so nothing of this was kept; what was kept before is safe. Ask again in a minute."},
	{store.ErrCrowded, false, "Too much is being written to my database at once, so nothing of this was kept; what was kept before is safe. Ask again in a minute."},
	{store.ErrUnreachable, false, "I cannot reach my database, so nothing of this was kept; what was kept before is safe. Ask again in a minute."},
	{store.ErrInDoubt, false, "I lost my database while I kept this, so it may be kept or not; what was kept before is safe. Look in a minute, and ask again if it is not there."},
	{store.ErrReadOnly, true, "My database cannot be written, so nothing of this was kept; what was kept before is safe. Tell whoever runs me."},
	{store.ErrDamaged, true, "My database is damaged, so I could not do this. Whoever runs me has to restore a backup; until then asking again does not help."},
	{store.ErrNewer, true, "My database was written by a newer version of me, so I leave it alone. Whoever runs me has to update me; until then asking again does not help."},
}

// Lasting reports whether err is a fault of the database that stays until somebody
// mends it, rather than one that passes.
func Lasting(err error) bool {
	for _, f := range databaseFaults {
		if errors.Is(err, f.err) {
			return f.lasts
		}
	}
	return false
}

func databaseFault(err error, incident string) (reply Reply, ok bool) {
	for _, f := range databaseFaults {
		if errors.Is(err, f.err) {
			return private(fmt.Sprintf("%s It has been noted as incident %s.", f.say, incident)), true
		}
	}
	return Reply{}, false
}

// NotTakenIn is the reply to a request that could not be written to the intake
// and was therefore not begun.
func NotTakenIn(err error, incident string) Reply {
	if reply, ok := databaseFault(err, incident); ok {
		return reply
	}
	return private(fmt.Sprintf("I could not save your request, so I have not started on it. Nothing was kept. Please try again in a minute; if it fails again, tell the server's managers the incident number %s.", incident))
}

// Broken is the reply to a request on which the conversation panicked.
func Broken(incident string) Reply {
	return private("Something went wrong on my side. Please try again. If it happens twice, tell the server's managers the incident number " + incident + ".")
}

// Stuck is the reply to a request that goes on past its deadline.
func Stuck(incident string) Reply {
	return private("That took longer than I allow, so I stopped waiting for it. Please try again. If it happens twice, tell the server's managers the incident number " + incident + ".")
}

func private(text string) Reply { return Reply{Text: text, Private: true} }

// NewIncident is a new incident number: it joins what somebody saw to a line in
// the log.
func NewIncident() string { return strings.ToLower(rand.Text()[:6]) }

// what names what was asked, without anything a person typed.
func (r Request) what() string {
	if r.Command != "" {
		return r.Command
	}
	name, _, _ := strings.Cut(strings.TrimPrefix(r.Path, pathVersion+"/"), "/")
	return name
}
