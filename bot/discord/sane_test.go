package discord

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"
)

func TestSane(t *testing.T) {
	for _, c := range []struct {
		message, want string // "" is dropped
		err           error
	}{
		{`{"op":10,"d":{"heartbeat_interval":41250,"_trace":["x"]}}`, `{"op":10,"d":{"heartbeat_interval":41250}}`, nil},
		{`{"op":10,"d":{"heartbeat_interval":0}}`, "", errFaulty},
		{`{"op":10,"d":{}}`, "", errFaulty},
		{`{"op":10,"d":null}`, "", errFaulty},
		{`{"op":10}`, "", errFaulty},
		{`{"op":10,"d":{"heartbeat_interval":1e300}}`, "", errFaulty},
		{`{"op":10,"d":{"heartbeat_interval":-5}}`, "", errFaulty},
		{`{"op":10,"d":{"heartbeat_interval":"soon"}}`, "", errFaulty},
		{`null`, "", errOdd},
		{`[]`, "", errOdd},
		{`{}`, "", errOdd},
		{`{"op":null}`, "", errOdd},
		{`{"op":99}`, "", errOdd},
		{`{"op":1e99}`, "", errOdd},
		{`{"op":0,"s":null,"t":"READY","d":{}}`, "", errOdd},
		{`{"op":0,"s":1,"t":null,"d":{}}`, "", errOdd},
		{`{"op":0,"s":99999999999999999999,"t":"X","d":{}}`, "", errOdd},
		{`{"op":0,"s":1,"t":"READY","d":null}`, "", errFaulty},
		{`{"op":0,"s":1,"t":"READY","d":{"session_id":"abc","guilds":[null]}}`, `{"op":0,"s":1,"t":"READY","d":{"session_id":"abc"}}`, nil},
		{`{"op":0,"s":2,"t":"RESUMED","d":[null]}`, `{"op":0,"s":2,"t":"RESUMED","d":{}}`, nil},
		{`{"op":0,"s":3,"t":"GUILD_CREATE","d":[]}`, `{"op":0,"s":3,"t":"~GUILD_CREATE","d":[]}`, nil},
		{`{"op":0,"s":4,"t":"MESSAGE_CREATE","d":null}`, `{"op":0,"s":4,"t":"~MESSAGE_CREATE","d":null}`, nil},
		{`{"op":1,"d":null}`, `{"op":1,"d":null}`, nil},
		{`{"op":11}`, `{"op":11,"d":null}`, nil},
	} {
		_, got, err := sane([]byte(c.message))
		if !errors.Is(err, c.err) || string(got) != c.want {
			t.Errorf("%s: %s, %v, want %s, %v", c.message, got, err, c.want, c.err)
		}
	}
}

// Whatever the gateway sends, what is handed on is something discordgo does not
// decode into types of its own, or one of the few it needs, whole.
func FuzzGatewayMessages(f *testing.F) {
	for _, seed := range []string{
		`null`, `{"op":10,"d":{"heartbeat_interval":0}}`, `{"op":0,"s":1,"t":"GUILD_CREATE","d":[null]}`,
		`{"op":0,"s":1,"t":"READY","d":{"session_id":"x","guilds":[null]}}`, `{"op":9,"d":true}`, `{"op":0,"s":1,"t":"~READY","d":1}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, message []byte) {
		_, handedOn, err := sane(message)
		if err != nil {
			if handedOn != nil {
				t.Fatalf("handed on in spite of %v: %q", err, handedOn)
			}
			return
		}
		var e *discordgo.Event
		if err := json.Unmarshal(handedOn, &e); err != nil || e == nil {
			t.Fatalf("%q: %v", handedOn, err)
		}
		if e.Operation == 0 && !slices.Contains([]string{"READY", "RESUMED"}, e.Type) && !strings.HasPrefix(e.Type, unknownTo) {
			t.Fatalf("discordgo would decode %q", e.Type)
		}
	})
}
