package discord

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// A Finding is one thing that was checked, in words for the operator.
type Finding struct {
	What string // "Token"
	OK   bool
	Say  string // what was found, and if it is not OK what to do
}

// Permissions the bot needs in a server, in the platform's words.
// Numbers and names: Discord documentation, "Permissions" [P].
var needed = []struct {
	bit       uint64
	name, why string
}{
	{1 << 10, viewChannels, "to be in a channel at all"},
	{1 << 11, sendMessages, "to post standings and certificates"},
	{1 << 36, privateThreads, "to open a lesson thread that only student and coach read"},
	{1 << 38, threadMessages, "to answer in lesson threads"},
	{1 << 15, attachFiles, "to show pictures"},
	{1 << 16, readHistory, "to find its own messages again"},
	{1 << 51, pinMessages, "to keep a student's buttons at hand"},
}

const (
	viewChannels   = "View Channels"
	sendMessages   = "Send Messages"
	privateThreads = "Create Private Threads"
	threadMessages = "Send Messages in Threads"
	attachFiles    = "Attach Files"
	readHistory    = "Read Message History"
	pinMessages    = "Pin Messages"
)

// Check looks at everything the bot needs of the platform, without connecting
// or changing anything. It goes on after a finding that is not OK as far as
// that makes sense.
func Check(ctx context.Context, c Config) []Finding {
	c = c.withDefaults()
	if c.Token == "" {
		return []Finding{{"Token", false, "There is none. Put the bot token in the token file or the environment."}}
	}
	m := newMetrics(nil)
	cl := newClient(c.Platform, c.Token, newLimits(m), networkFor(c.Platform))
	a := &Adapter{cfg: c, log: c.Log, rest: cl, metrics: m}
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()

	var me user
	header := http.Header{}
	asked := time.Now()
	if err := cl.do(ctx, call{method: "GET", route: "/users/@me", into: &me, header: &header, manner: manner{trusting: true}}); err != nil {
		err = startError(err)
		if err == errBadToken {
			return []Finding{{"Token", false, sentence(err.Error())}}
		}
		return []Finding{{"Platform", false, sentence(err.Error()) + " Check the network, the proxy and the platform's address."}}
	}
	out := []Finding{{"Token", true, "It is the token of " + strconv.Quote(me.Name) + "."}}
	out = append(out, clock(header.Get("Date"), asked, time.Now()))
	out = append(out, Finding{"Intents", true, "Messages of servers and direct messages; neither needs the platform's leave. The text of messages in general is not asked for."})
	out = append(out, a.checkSessions(ctx), a.checkCommands(ctx))
	return append(out, a.checkServers(ctx)...)
}

// clock compares the clocks. The platform's ids carry the time, and so do the
// three seconds it waits.
func clock(date string, asked, answered time.Time) Finding {
	t, err := http.ParseTime(date)
	if err != nil {
		return Finding{"Clock", true, "The platform did not say what time it is."}
	}
	// The header is cut to whole seconds; its middle and the middle of the
	// exchange are the best guess.
	off := asked.Add(answered.Sub(asked) / 2).Sub(t.Add(500 * time.Millisecond)).Round(time.Second)
	if off.Abs() <= 2*time.Second {
		return Finding{"Clock", true, "It agrees with the platform's."}
	}
	way := "ahead of"
	if off < 0 {
		way = "behind"
	}
	return Finding{"Clock", false, fmt.Sprintf("This machine is %v %s the platform. Dates of sessions and quiet hours will be wrong; turn on time synchronisation.", off.Abs(), way)}
}

func (a *Adapter) checkSessions(ctx context.Context) Finding {
	st, err := a.start(ctx)
	if err != nil {
		return Finding{"Gateway", false, sentence(err.Error())}
	}
	left := fmt.Sprintf("%d of %d new sessions are left today, %d shards are recommended.", st.Limit.Remaining, st.Limit.Total, st.Shards)
	if st.Limit.Remaining < 20 {
		wait := time.Duration(st.Limit.ResetAfter) * time.Millisecond
		return Finding{"Gateway", false, left + fmt.Sprintf(" Find out what restarts the bot so often; the count starts again in %v.", wait.Round(time.Minute))}
	}
	return Finding{"Gateway", true, left}
}

func (a *Adapter) checkCommands(ctx context.Context) Finding {
	app, err := a.rest.application(ctx)
	if err != nil {
		return Finding{"Commands", false, sentence(err.Error())}
	}
	have, err := a.registered(ctx, app)
	if err != nil {
		return Finding{"Commands", false, sentence(err.Error())}
	}
	want := declarations(a.cfg.Commands)
	if sameCommands(want, have) {
		return Finding{"Commands", true, fmt.Sprintf("All %d are registered as they should be.", len(want))}
	}
	return Finding{"Commands", true, fmt.Sprintf("%d are registered, %d belong there, and something differs. The next start brings them up to date.", len(have), len(want))}
}

func (a *Adapter) checkServers(ctx context.Context) []Finding {
	var servers []struct {
		Name        string `json:"name"`
		Permissions string `json:"permissions"`
	}
	if err := a.rest.do(ctx, call{method: "GET", route: "/users/@me/guilds", into: &servers}); err != nil {
		return []Finding{{"Servers", false, sentence(err.Error())}}
	}
	if len(servers) == 0 {
		return []Finding{{"Servers", false, "The bot is on no server. Invite it with the scopes bot and applications.commands."}}
	}
	out := []Finding{}
	for _, s := range servers {
		if missing := lacks(s.Permissions); len(missing) > 0 {
			out = append(out, Finding{"Permissions", false, fmt.Sprintf("On %q the bot lacks %s. Give them to its role.", s.Name, strings.Join(missing, ", "))})
		}
	}
	if len(out) == 0 {
		out = append(out, Finding{"Permissions", true, fmt.Sprintf("The bot has what it needs on %d servers. Single channels may still withhold it.", len(servers))})
	}
	return out
}

func lacks(permissions string) []string {
	p, err := strconv.ParseUint(permissions, 10, 64)
	if err != nil || p&permissionAdministrator != 0 {
		return nil
	}
	var missing []string
	for _, n := range needed {
		if p&n.bit == 0 {
			missing = append(missing, n.name)
		}
	}
	return missing
}

// sentence makes an error a sentence.
func sentence(s string) string {
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
