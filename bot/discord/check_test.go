package discord_test

import (
	"cmp"
	"context"
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
		at    string // instead of the stand-in's address
		what  string
		ok    bool
		say   string
	}{
		{name: "token", what: "Token", ok: true, say: "Rangepost"},
		{name: "wrong token", token: "x", what: "Token", say: "refuses the bot token"},
		{name: "clock", what: "Clock", ok: true, say: "agrees"},
		{name: "clock ahead", spoil: func(s *standin.Stand) { s.SetSkew(-90 * time.Second) }, what: "Clock", say: "1m30s ahead of"},
		{name: "clock behind", spoil: func(s *standin.Stand) { s.SetSkew(time.Hour) }, what: "Clock", say: "1h0m0s behind"},
		{name: "sessions", what: "Gateway", ok: true, say: "1000 of 1000"},
		{name: "few sessions", spoil: func(s *standin.Stand) { s.SetIdentifies(4) }, what: "Gateway", say: "4 of 1000"},
		{name: "commands differ", what: "Commands", ok: true, say: "0 are registered, 5 belong there"},
		{name: "no servers", what: "Servers", say: "no server"},
		{name: "permissions", spoil: func(s *standin.Stand) { s.Server("Saltmarsh Links") }, what: "Permissions", ok: true, say: "what it needs on 1 servers"},
		{name: "permission missing", spoil: func(s *standin.Stand) {
			s.Server("Saltmarsh Links").Withhold(standin.AttachFiles | standin.SendInThreads)
		}, what: "Permissions", say: `On "Saltmarsh Links" the bot lacks Send Messages in Threads, Attach Files`},
		// A stand-in that was closed would leave its port to somebody else's.
		{name: "platform down", at: "http://127.0.0.1:1", what: "Platform", say: "Check the network"},
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
			findings := discord.Check(ctx, discord.Config{Token: token, Platform: cmp.Or(c.at, s.URL()), Commands: commands, Log: quiet})
			for _, f := range findings {
				if strings.Contains(f.Say, token) && len(token) > 3 {
					t.Errorf("a finding holds the token: %q", f.Say)
				}
				if f.What == c.what {
					if f.OK != c.ok || !strings.Contains(f.Say, c.say) {
						t.Errorf("%+v, want OK %v and %q", f, c.ok, c.say)
					}
					return
				}
			}
			t.Errorf("nothing about %s in %+v", c.what, findings)
		})
	}
}
