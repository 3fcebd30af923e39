package discord_test

import (
	"cmp"
	"context"
	"encoding/base64"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// Check says in words what is wrong, and changes nothing.
func TestCheck(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		token string
		spoil func(*standin.Stand)
		try   string // a channel
		at    string // instead of the stand-in's address
		what  string
		ok    bool
		say   string
		mend  string
	}{
		{name: "token", what: "Token", ok: true, say: "Rangepost"},
		{name: "wrong token", token: "x", what: "Token", say: "refuses the bot token", mend: "Reset Token"},
		{name: "clock", what: "Clock", ok: true, say: "agrees"},
		{name: "clock ahead", spoil: func(s *standin.Stand) { s.SetSkew(-90 * time.Second) }, what: "Clock", say: "1m30s ahead of", mend: "sudo timedatectl set-ntp true"},
		{name: "clock behind", spoil: func(s *standin.Stand) { s.SetSkew(time.Hour) }, what: "Clock", say: "1h0m0s behind"},
		{name: "sessions", what: "Gateway", ok: true, say: "1000 of 1000"},
		{name: "few sessions", spoil: func(s *standin.Stand) { s.SetIdentifies(4) }, what: "Gateway", say: "4 of 1000"},
		{name: "commands differ", spoil: registered(t), what: "Commands", ok: true, say: "1 are registered, 5 belong there, and something differs"},
		{name: "no commands yet", what: "Commands", ok: true, say: "None is registered yet. The first start registers all 5."},
		{name: "no servers", what: "Servers", say: "no server", mend: "rangepost invite"},
		{name: "permissions", spoil: func(s *standin.Stand) { s.Server("Saltmarsh Links") }, what: "Permissions", ok: true, say: "what it needs: 1."},
		{name: "permission missing", spoil: func(s *standin.Stand) {
			s.Server("Saltmarsh Links").Withhold(standin.AttachFiles | standin.SendInThreads)
		}, what: "Permissions", say: `On "Saltmarsh Links" the bot lacks Send Messages in Threads, Attach Files`, mend: "Server Settings, Roles, Rangepost, Permissions, turn on Send Messages in Threads, Attach Files"},
		{name: "no such channel", spoil: court(0), try: "elsewhere", what: "Channel", say: `No channel of the bot's servers is called "elsewhere"`, mend: "the + beside Text Channels"},
		{name: "a channel", spoil: court(0), try: "court", what: "#court", ok: true, say: "pinning it were tried and work"},
		{name: "a channel by its link", spoil: court(0), try: "https://discord.com/channels/1/{court}", what: "#court", ok: true, say: "tried and work"},
		{name: "a channel not seen", spoil: court(standin.ViewChannel), try: "#court", what: "Channel", say: "does not see #court", mend: "turn on View Channels"},
		{name: "a channel not written in", spoil: court(standin.SendMessages), try: "court", what: "#court", say: "lacks Send Messages there", mend: "right-click #court, Edit Channel, Permissions, add the role Rangepost, turn on Send Messages"},
		{name: "no files", spoil: court(standin.AttachFiles), try: "court", what: "#court", say: "lacks Attach Files"},
		{name: "no private threads", spoil: court(standin.PrivateThreads), try: "court", what: "#court", say: "lacks Create Private Threads"},
		{name: "no writing in threads", spoil: court(standin.SendInThreads), try: "court", what: "#court", say: "lacks Send Messages in Threads"},
		{name: "no history", spoil: court(standin.ReadHistory), try: "court", what: "#court", say: "lacks Read Message History"},
		{name: "no pins", spoil: court(standin.PinMessages), try: "court", what: "#court", say: "lacks Pin Messages"},
		{name: "a public thread", spoil: court(0), try: "https://discord.com/channels/1/{public}", what: "#public", ok: true, say: "It is a public thread. Posting, a file"},
		{name: "a private thread without the bot", spoil: court(0), try: "{private}", what: "Channel", say: "does not see", mend: "an @ before its name"},
		// A stand-in that was closed would leave its port to somebody else's.
		{name: "platform down", at: "http://127.0.0.1:1", what: "Platform", say: "Reach the platform", mend: "check the network"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, err := standin.Start(standin.Config{})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			token := s.Token()
			if c.token != "" {
				token = c.token
			}
			if c.spoil != nil {
				c.spoil(s)
			}
			ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
			defer cancel()
			try := c.try
			for name, at := range named(s) {
				try = strings.ReplaceAll(try, "{"+name+"}", at.ID)
			}
			findings := discord.Check(ctx, discord.Config{Token: token, Platform: cmp.Or(c.at, s.URL()), Commands: commands, Log: quiet}, try)
			for name, at := range named(s) { // nothing is left where people read
				if left := at.Messages(s.Bot()); len(left) > 0 {
					t.Errorf("in %s is left: %+v", name, left)
				}
			}
			for _, f := range findings {
				if strings.Contains(f.Say, token) && len(token) > 3 {
					t.Errorf("a finding holds the token: %q", f.Say)
				}
				if f.What == c.what {
					if f.OK != c.ok || !strings.Contains(f.Say, c.say) || !strings.Contains(f.Mend, c.mend) {
						t.Errorf("%+v, want OK %v, %q and %q", f, c.ok, c.say, c.mend)
					}
					return
				}
			}
			t.Errorf("nothing about %s in %+v", c.what, findings)
		})
	}
}

// registered has one command registered, as by an older version: the application's id
// is the first part of the token.
func registered(t *testing.T) func(*standin.Stand) {
	return func(s *standin.Stand) {
		first, _, _ := strings.Cut(s.Token(), ".")
		app, err := base64.RawURLEncoding.DecodeString(first)
		if err != nil {
			t.Fatal(err)
		}
		req, err := http.NewRequest(http.MethodPut, s.URL()+"/api/v10/applications/"+string(app)+"/commands", strings.NewReader(`[{"name":"older","description":"Of an older version","type":1}]`))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Authorization", "Bot "+s.Token())
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("User-Agent", "DiscordBot (https://example.org, 1)")
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		if resp.StatusCode != http.StatusOK {
			said, _ := io.ReadAll(resp.Body)
			t.Fatalf("%s: %s", resp.Status, said)
		}
	}
}

// court is a server with a channel where the bot lacks something, and two threads
// in it, of which it is in one.
func court(denied int) func(*standin.Stand) {
	return func(s *standin.Stand) {
		c := s.Server("Saltmarsh Links").Channel("court")
		c.Deny(denied)
		c.Thread("public")
		c.PrivateThread("private", s.User("Wren"))
	}
}

// named are the channels of all servers that have them, by name.
func named(s *standin.Stand) map[string]*standin.Channel {
	all := map[string]*standin.Channel{}
	for _, c := range s.Channels() {
		if c.Name != "rangepost check" {
			all[c.Name] = c
		}
	}
	return all
}

// The link asks for what Check looks for, and a bot that came by it lacks
// nothing.
func TestInvite(t *testing.T) {
	t.Parallel()
	s, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	config := discord.Config{Token: s.Token(), Platform: s.URL(), Commands: commands, Log: quiet}
	in, err := discord.Invite(t.Context(), config)
	if err != nil {
		t.Fatal(err)
	}
	srv := s.NewServer("Saltmarsh Links")
	steward := srv.Join(s.User("Steward"), srv.Role("Stewards", standin.ManageServer))
	srv.Channel("practice")
	if len(in.Servers) > 0 || len(in.Asks) != 7 {
		t.Errorf("before: %+v", in)
	}
	if err := srv.Join(s.User("Wren")).Authorize(in.Link, srv); err == nil {
		t.Error("somebody who does not manage the server brought the bot in")
	}
	if err := steward.Authorize(in.Link, srv); err != nil {
		t.Fatal(err)
	}
	for _, f := range discord.Check(t.Context(), config, "practice") {
		if !f.OK {
			t.Errorf("with the link's permissions: %+v", f)
		}
	}
	if in, err = discord.Invite(t.Context(), config); err != nil || len(in.Servers) != 1 {
		t.Errorf("after: %+v, %v", in, err)
	}
	strict, err := standin.Start(standin.Config{CodeGrant: true})
	if err != nil {
		t.Fatal(err)
	}
	defer strict.Close()
	if in, err = discord.Invite(t.Context(), discord.Config{Token: strict.Token(), Platform: strict.URL()}); err != nil || !in.CodeGrant {
		t.Errorf("an application that asks for a code: %+v, %v", in, err)
	}
	config.Token = "x"
	if _, err := discord.Invite(t.Context(), config); err == nil || !strings.Contains(err.Error(), "refuses the bot token") {
		t.Errorf("a wrong token: %v", err)
	}
}
