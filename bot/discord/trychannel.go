package discord

import (
	"context"
	"fmt"
	"strings"

	"rangepost/bot"
)

// Types of channel (Discord documentation, "Channel Types" [P]).
var channelTypes = map[int]string{
	0: "a text channel", 2: "a voice channel", 4: "a category", 5: "an announcement channel", 10: "a public thread", 11: "a public thread",
	privateThread: "a private thread", 13: "a stage channel", 15: "a forum", 16: "a media channel",
}

// tried is a channel as it is looked for.
type tried struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Type int    `json:"type"`
}

func (c *tried) told() bool { return c.ID != "" }

// trying is what the bot writes where it tries, and takes away again.
const trying = "I am trying whether I can write here. This goes away at once."

// tryChannel does in a channel, for real, all that the bot does in one: it posts,
// shows a file, opens a private thread, posts there, finds that again and pins it.
// Its messages are taken away; the thread, which only moderators see, is archived,
// since deleting one takes a permission the bot has no other use for. In a thread
// it posts and finds that again.
func (a *Adapter) tryChannel(ctx context.Context, named string, servers []server) []Finding {
	c, missing := a.findChannel(ctx, named, servers)
	if missing != nil {
		return []Finding{*missing}
	}
	what := "#" + c.Name
	thread := place{c.Type}.thread()
	if !thread && c.Type != channelText {
		return []Finding{wrong(what, fmt.Sprintf("It is %s, where lesson threads and standings have no place.", channelTypes[c.Type]), "name a text channel")}
	}
	out, undo := []Finding{}, func() {}
	try := func(permission string, do func() error) bool {
		err := do()
		switch {
		case err == nil:
			return true
		case cannotPost(err):
			out = append(out, wrong(what, fmt.Sprintf("The bot lacks %s there.", permission), a.allow(what, permission)))
		default:
			out = append(out, wrong(what, fmt.Sprintf("%s could not be tried: %v.", permission, err), ""))
		}
		return false
	}
	post := func(channel string, files ...bot.File) func() error {
		return func() error {
			var made identified
			p := payloadOf(bot.Reply{Text: trying, Files: files})
			err := a.rest.do(ctx, call{method: "POST", route: "/channels/{channel}/messages", args: []string{channel}, body: p.body(), into: &made})
			if err == nil {
				before := undo
				undo = func() {
					a.onMessage(ctx, "DELETE", "/channels/{channel}/messages/{message}", channel, made.ID)
					before()
				}
			}
			return err
		}
	}
	send := sendMessages
	if thread {
		send = threadMessages
	}
	try(send, post(c.ID))
	try(attachFiles, post(c.ID, bot.File{Name: "try.txt", Bytes: []byte(trying)}))
	in := c.ID
	if !thread {
		in = ""
		try(privateThreads, func() error {
			var made identified
			err := a.rest.do(ctx, call{
				method: "POST", route: "/channels/{channel}/threads", args: []string{c.ID}, into: &made,
				body: jsonBody(map[string]any{"name": "rangepost check", "type": privateThread, "auto_archive_duration": 60}),
			})
			in = made.ID
			return err
		})
	}
	if in != "" && (thread || try(threadMessages, post(in))) {
		a.tryMessages(ctx, in, thread, try)
	}
	undo()
	if in != "" && !thread {
		archive := call{method: "PATCH", route: "/channels/{channel}", args: []string{in}, body: jsonBody(map[string]bool{"archived": true})}
		if err := a.rest.do(ctx, archive); err != nil {
			out = append(out, wrong(what, `The thread "rangepost check" could not be archived.`, "delete it by hand"))
		}
	}
	if len(out) > 0 {
		return out
	}
	if thread {
		return []Finding{good(what, fmt.Sprintf("It is %s. Posting, a file and finding them again were tried and work.", channelTypes[c.Type]))}
	}
	return []Finding{good(what, `Posting, a file, a private thread, posting in it, finding that again and pinning it were tried and work. The thread "rangepost check" is archived; only moderators see it.`)}
}

// tryMessages finds the bot's latest message again and, where nobody looks on,
// pins it: a pin leaves a line behind.
func (a *Adapter) tryMessages(ctx context.Context, channel string, seen bool, try func(string, func() error) bool) {
	var latest []identified
	found := try(readHistory, func() error {
		err := a.rest.do(ctx, call{method: "GET", route: "/channels/{channel}/messages?limit={limit}", args: []string{channel, "1"}, into: &latest})
		if err == nil && len(latest) == 0 { // the platform shows none, rather than refusing
			err = &apiError{Code: codeMissingPermissions}
		}
		return err
	})
	if found && !seen {
		try(pinMessages, func() error {
			return a.rest.do(ctx, call{method: "PUT", route: "/channels/{channel}/messages/pins/{message}", args: []string{channel, latest[0].ID}})
		})
	}
}

// allow is the click that gives the bot a permission in a channel.
func (a *Adapter) allow(what, permission string) string {
	return fmt.Sprintf("in the server: right-click %s, Edit Channel, Permissions, add the role %s, turn on %s", what, a.self.Load().Name, permission)
}

// findChannel finds a channel by its name, its link or its id, if the bot sees it.
func (a *Adapter) findChannel(ctx context.Context, named string, servers []server) (c tried, f *Finding) {
	fail := func(say, mend string) (tried, *Finding) {
		f := wrong("Channel", say, mend)
		return c, &f
	}
	id := strings.TrimPrefix(named[strings.LastIndex(named, "/")+1:], "#") // a link ends in the id
	if !isID(id) {
		var ids []string
		for _, s := range servers {
			var all []tried
			if err := a.rest.do(ctx, call{method: "GET", route: "/guilds/{guild}/channels", args: []string{s.ID}, into: &all}); err != nil {
				return fail(sentence(err.Error()), "")
			}
			for _, there := range all {
				if there.Name == id {
					ids = append(ids, there.ID)
				}
			}
		}
		switch {
		case len(ids) == 0:
			return fail(fmt.Sprintf("No channel of the bot's servers is called %q.", id), "in the server press the + beside Text Channels and make it, or give --channel the name of one that is there")
		case len(ids) > 1:
			return fail(fmt.Sprintf("The bot's servers have %d channels called %q.", len(ids), id), "in the server right-click the channel, Copy Link, and give that to --channel")
		}
		id = ids[0]
	}
	err := a.rest.do(ctx, call{method: "GET", route: "/channels/{channel}", args: []string{id}, into: &c})
	switch {
	case cannotPost(err):
		return fail(fmt.Sprintf("The bot does not see %s.", named), a.allow("the channel", viewChannels)+"; into a private thread it comes when somebody writes a message there with an @ before its name")
	case err != nil:
		return fail(sentence(err.Error()), "")
	}
	return c, nil
}
