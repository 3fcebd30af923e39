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
	Say  string // what was found
	Mend string // if it is not OK, the one command or click that mends it; "" if none does
}

func good(what, say string) Finding { return Finding{What: what, OK: true, Say: say} }

func wrong(what, say, mend string) Finding { return Finding{What: what, Say: say, Mend: mend} }

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

// Check looks at everything the bot needs of the platform, without connecting.
// It changes nothing, but for what it tries in the channel that is named, "" for
// none (see tryChannel). It goes on after a finding that is not OK as far as that
// makes sense.
func Check(ctx context.Context, c Config, channel string) []Finding {
	if c.Token == "" {
		return []Finding{wrong("Token", "There is none.", "put the bot token into the file that RANGEPOST_TOKEN_FILE names")}
	}
	a := newChecker(c)
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()

	var me user
	header := http.Header{}
	asked := time.Now()
	if err := a.rest.do(ctx, call{method: "GET", route: "/users/@me", into: &me, header: &header, manner: manner{trusting: true}}); err != nil {
		err = startError(err)
		if err == errBadToken {
			return []Finding{wrong("Token", "The platform refuses the bot token.", newToken)}
		}
		return []Finding{wrong("Platform", sentence(err.Error()), "check the network, the proxy and, if you set it, RANGEPOST_PLATFORM_URL")}
	}
	a.self.Store(&me)
	out := []Finding{good("Token", "It is the token of "+strconv.Quote(me.Name)+".")}
	out = append(out, clock(header.Get("Date"), asked, time.Now()))
	out = append(out, good("Intents", "Messages of servers and direct messages; neither needs the platform's leave. The text of messages in general is not asked for."))
	out = append(out, a.checkSessions(ctx), a.checkCommands(ctx))
	servers, err := a.servers(ctx)
	if err != nil {
		return append(out, wrong("Servers", sentence(err.Error()), ""))
	}
	out = append(out, checkServers(servers, me.Name)...)
	if channel != "" && len(servers) > 0 {
		out = append(out, a.tryChannel(ctx, channel, servers)...)
	}
	return out
}

// newToken is how a bot gets a token that works.
const newToken = "at " + Portal + " open your application, Bot, press Reset Token, and put the new one into the token file"

// newChecker is an adapter that only asks.
func newChecker(c Config) *Adapter {
	c = c.withDefaults()
	m := newMetrics(nil)
	return &Adapter{cfg: c, log: c.Log, rest: newClient(c.Platform, c.Token, newLimits(m), networkFor(c.Platform)), metrics: m}
}

// clock compares the clocks. The platform's ids carry the time, and so do the
// three seconds it waits.
func clock(date string, asked, answered time.Time) Finding {
	t, err := http.ParseTime(date)
	if err != nil {
		return good("Clock", "The platform did not say what time it is.")
	}
	// The header is cut to whole seconds; its middle and the middle of the
	// exchange are the best guess.
	off := asked.Add(answered.Sub(asked) / 2).Sub(t.Add(500 * time.Millisecond)).Round(time.Second)
	if off.Abs() <= 2*time.Second {
		return good("Clock", "It agrees with the platform's.")
	}
	way := "ahead of"
	if off < 0 {
		way = "behind"
	}
	return wrong("Clock", fmt.Sprintf("This machine is %v %s the platform. Dates of sessions and quiet hours will be wrong.", off.Abs(), way), "sudo timedatectl set-ntp true")
}

func (a *Adapter) checkSessions(ctx context.Context) Finding {
	st, err := a.start(ctx)
	if err != nil {
		return wrong("Gateway", sentence(err.Error()), "")
	}
	left := fmt.Sprintf("%d of %d new sessions are left today; shards recommended: %d.", st.Limit.Remaining, st.Limit.Total, st.Shards)
	if st.Limit.Remaining < 20 {
		wait := time.Duration(st.Limit.ResetAfter) * time.Millisecond
		return wrong("Gateway", left+fmt.Sprintf(" Something restarts the bot very often; the count starts again in %v.", wait.Round(time.Minute)), "journalctl -u rangepost, for what it is")
	}
	return good("Gateway", left)
}

func (a *Adapter) checkCommands(ctx context.Context) Finding {
	app, err := a.rest.application(ctx)
	if err != nil {
		return wrong("Commands", sentence(err.Error()), "")
	}
	have, err := a.registered(ctx, app)
	if err != nil {
		return wrong("Commands", sentence(err.Error()), "")
	}
	want := declarations(a.cfg.Commands)
	if len(have) == 0 {
		return good("Commands", fmt.Sprintf("None is registered yet. The first start registers all %d.", len(want)))
	}
	if sameCommands(want, have) {
		return good("Commands", fmt.Sprintf("All %d are registered as they should be.", len(want)))
	}
	return good("Commands", fmt.Sprintf("%d are registered, %d belong there, and something differs. The next start brings them up to date.", len(have), len(want)))
}

// server is one the bot is on.
type server struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Permissions string `json:"permissions"`
}

func (a *Adapter) servers(ctx context.Context) (all []server, err error) {
	return all, a.rest.do(ctx, call{method: "GET", route: "/users/@me/guilds", into: &all})
}

// checkServers looks at what the bot, of a name, may do on its servers.
func checkServers(servers []server, name string) []Finding {
	if len(servers) == 0 {
		return []Finding{wrong("Servers", "The bot is on no server.", "rangepost invite, and open the link it prints")}
	}
	out := []Finding{}
	for _, s := range servers {
		if missing := lacks(s.Permissions); len(missing) > 0 {
			list := strings.Join(missing, ", ")
			out = append(out, wrong("Permissions", fmt.Sprintf("On %q the bot lacks %s.", s.Name, list),
				fmt.Sprintf("in the server: Server Settings, Roles, %s, Permissions, turn on %s", name, list)))
		}
	}
	if len(out) == 0 {
		out = append(out, good("Permissions", fmt.Sprintf("Servers where the bot has what it needs: %d. A single channel may still withhold it: --channel tries one.", len(servers))))
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
