package discord_test

import (
	"strings"
	"testing"
	"time"

	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// What no gateway should send is dropped with a line in the log: the process
// lives, the connection stays, and the next command is answered.
func TestMalformedFrames(t *testing.T) {
	tk := &talk{handle: say("Read.")}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	for _, frame := range []string{
		"null", "", "{", "[]", "7", `"x"`, "{}", `{"op":null}`, `{"op":"x"}`, `{"op":1e99}`, `{"op":0.5}`, `{"op":99}`, `{"op":-1}`,
		`{"op":0}`, `{"op":0,"t":null,"s":null,"d":null}`, `{"op":0,"t":"GUILD_CREATE","s":900,"d":null}`,
		`{"op":0,"t":"GUILD_UPDATE","s":901,"d":null}`, `{"op":0,"t":"READY","s":902,"d":null}`, `{"op":0,"t":"READY","s":902,"d":{"guilds":[null]}}`,
		`{"op":0,"t":"INTERACTION_CREATE","s":903,"d":null}`, `{"op":0,"t":"MESSAGE_CREATE","s":904,"d":null}`,
		`{"op":0,"t":"INTERACTION_CREATE","s":905,"d":{}}`, `{"op":0,"t":"INTERACTION_CREATE","s":906,"d":{"type":1e300}}`,
		`{"op":0,"t":"THREAD_LIST_SYNC","s":907,"d":null}`, `{"op":0,"t":"GUILD_MEMBER_ADD","s":908,"d":null}`,
		`{"op":0,"t":"MESSAGE_CREATE","s":1e300,"d":{}}`, `{"op":0,"t":"MESSAGE_CREATE","s":-5,"d":{}}`,
		`{"op":10,"d":{"heartbeat_interval":0}}`, `{"op":10,"d":null}`, `{"op":10}`, `{"op":11,"d":{"x":[]}}`, `{"op":1,"d":null}`,
		strings.Repeat("[", 20000), `{"op":0,"t":"` + strings.Repeat("x", 70000) + `","s":909,"d":{}}`,
	} {
		s.Send(frame)
	}
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || out.Text != "Read." {
		t.Fatalf("%v: %+v\n%s", err, out, s.log)
	}
	if n := s.Identifies(); n != 1 || strings.Contains(s.log.String(), "the link to the gateway ended") {
		t.Errorf("%d sessions, want one, never interrupted\n%s", n, s.log)
	}
	if !strings.Contains(s.log.String(), "dropped what the gateway sent") {
		t.Errorf("nothing in the log\n%s", s.log)
	}
	s.settled()
}

// A heartbeat interval that makes no sense is replaced by the usual one.
func TestMalformedHello(t *testing.T) {
	t.Parallel()
	for _, hello := range []string{
		`{"op":10,"d":{"heartbeat_interval":0}}`, `{"op":10,"d":{"heartbeat_interval":-1}}`, `{"op":10,"d":{"heartbeat_interval":1e300}}`,
		`{"op":10,"d":{"heartbeat_interval":9223372036854775807}}`, `{"op":10,"d":{"heartbeat_interval":null}}`, `{"op":10,"d":null}`,
		`{"op":10}`, `{"op":10,"d":{"heartbeat_interval":"soon"}}`, `{"op":10,"d":{"heartbeat_interval":1}}`,
	} {
		t.Run(hello, func(t *testing.T) {
			tk := &talk{handle: say("Read.")}
			s := stage(t, tk, standin.Config{}, discord.Config{})
			s.AllowHaste(true)
			s.Greet(hello)
			s.Cut()
			time.Sleep(300 * time.Millisecond)
			s.healthy()
			out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if err != nil || out.Text != "Read." {
				t.Fatalf("%v: %+v\n%s", err, out, s.log)
			}
		})
	}
}
