package discord

import (
	"encoding/json"
	"log/slog"
	"slices"
	"testing"
	"time"

	"rangepost/bot"
)

// The example id of the platform's documentation ("Snowflakes") [M].
func TestSnowflakeTime(t *testing.T) {
	want := time.Date(2016, 4, 30, 11, 18, 25, 796e6, time.UTC)
	if got := snowflakeTime("175928847299117063"); !got.Equal(want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := snowflakeTime("x"); !got.IsZero() {
		t.Errorf("an id that is none: %v", got)
	}
}

const asker = `"token":"t","member":{"user":{"id":"7","username":"wren","global_name":"Wren"},"nick":"W","roles":["9"],"permissions":"32"}`

// What nobody should send, and somebody will. A component type that is not
// known must not cost the request, as it does in discordgo.
func TestDecodeOddities(t *testing.T) {
	for _, c := range []struct {
		name, event string
		check       func(bot.Request) bool // nil: refused
	}{
		{"a form with labels and parts not known", `{"id":"1","type":5,` + asker + `,"data":{"custom_id":"v1/f","components":[
			{"type":18,"component":{"type":4,"custom_id":"a","value":"x"}},
			{"type":18,"component":{"type":99,"custom_id":"b","values":["y"]}},
			{"type":1,"components":[{"type":4,"custom_id":"c","value":"z"}]},
			{"type":77}]}}`,
			func(r bot.Request) bool {
				return r.Fields["a"] == "x" && r.Fields["c"] == "z" && r.Asker.Name == "W" && r.Manager
			}},
		{"a form with a choice and a file", `{"id":"1","type":5,` + asker + `,"data":{"custom_id":"v1/f","components":[
			{"type":18,"id":1,"component":{"type":3,"id":2,"custom_id":"ball","values":["range"]}},
			{"type":18,"id":3,"component":{"type":19,"id":4,"custom_id":"file","values":["111"]}},
			{"type":18,"id":5,"component":{"type":19,"id":6,"custom_id":"more","values":["112","113"]}},
			{"type":18,"id":7,"component":{"type":3,"id":8,"custom_id":"none","values":[]}}],
			"resolved":{"attachments":{"111":{"id":"111","filename":"s.csv","size":7,"url":"https://cdn.discordapp.com/ephemeral-attachments/1/111/s.csv","ephemeral":true}}}}}`,
			func(r bot.Request) bool {
				f, more := r.Files["111"], r.Files[r.Fields["more"]]
				return r.Fields["ball"] == "range" && r.Fields["file"] == "111" && r.Fields["none"] == "" && f.Name == "s.csv" && f.Size == 7 && f.URL != "" && more == bot.Attachment{}
			}},
		{"a form whose file is nothing", `{"id":"1","type":5,` + asker + `,"data":{"custom_id":"v1/f","components":[
			{"type":18,"component":{"type":19,"custom_id":"file","values":null}}],"resolved":null}}`,
			func(r bot.Request) bool { return r.Fields["file"] == "" && len(r.Files) == 0 }},
		{"a button on a message with parts not known", `{"id":"1","type":3,` + asker + `,"message":{"id":"5","flags":64,"components":[{"type":99}]},"data":{"custom_id":"v1/b","component_type":2}}`,
			func(r bot.Request) bool { return r.Kind == bot.PressRequest && r.Path == "v1/b" }},
		{"a menu of people", `{"id":"1","type":3,` + asker + `,"data":{"custom_id":"v1/m","component_type":5,"values":["8","9"],
			"resolved":{"users":{"8":{"id":"8","username":"u"},"9":{"id":"9","username":"elsewhere"}},"members":{"8":{"nick":"Wren"}}}}}`,
			func(r bot.Request) bool {
				return r.Kind == bot.ChooseRequest && slices.Equal(r.Values, []string{"8"}) && r.People["8"].Name == "Wren"
			}},
		{"a menu of roles, and a role of somewhere else", `{"id":"1","type":3,` + asker + `,"data":{"custom_id":"v1/m","component_type":6,"values":["8","9"],"resolved":{"roles":{"8":{"id":"8"}}}}}`,
			func(r bot.Request) bool { return slices.Equal(r.Values, []string{"8"}) }},
		{"a menu of channels, and a channel made up", `{"id":"1","type":3,` + asker + `,"data":{"custom_id":"v1/m","component_type":8,"values":["9","8"],"resolved":{"channels":{"8":{"id":"8"}}}}}`,
			func(r bot.Request) bool { return slices.Equal(r.Values, []string{"8"}) }},
		{"a channel where the bot may hardly do anything", `{"id":"1","type":2,"guild_id":"5","app_permissions":"3072",` + asker + `,"data":{"name":"help"}}`,
			func(r bot.Request) bool {
				return slices.Contains(r.Lacks, "Attach Files") && !slices.Contains(r.Lacks, "Send Messages")
			}},
		{"options of every type", `{"id":"1","type":2,` + asker + `,"data":{"name":"post","type":1,"options":[
			{"name":"a","type":3,"value":"7i"},{"name":"b","type":4,"value":12},{"name":"c","type":10,"value":1.5},{"name":"d","type":5,"value":true},{"name":"e","type":11,"value":"99"}]}}`,
			func(r bot.Request) bool {
				o := r.Options
				return o["a"] == "7i" && o["b"] == "12" && o["c"] == "1.5" && o["d"] == "true" && o["e"] == "99" && len(r.Files) == 0
			}},
		{"a subcommand of a group", `{"id":"1","type":2,` + asker + `,"data":{"name":"mine","type":1,"options":[{"name":"x","type":2,"options":[{"name":"y","type":1}]}]}}`,
			func(r bot.Request) bool { return r.Command == "mine x y" }},
		{"permissions that are no number", `{"id":"1","type":2,"token":"t","member":{"user":{"id":"7"},"permissions":"all"},"data":{"name":"clubhouse"}}`,
			func(r bot.Request) bool { return !r.Manager }},
		{"permissions beyond 53 bits", `{"id":"1","type":2,"token":"t","member":{"user":{"id":"7"},"permissions":"9007199254740993"},"data":{"name":"clubhouse"}}`,
			func(r bot.Request) bool { return !r.Manager }},
		{"without a token", `{"id":"1","type":2,"user":{"id":"7"},"data":{"name":"post"}}`, nil},
		{"an id that is none", `{"id":"../1","type":2,` + asker + `,"data":{"name":"post"}}`, nil},
		{"null", `null`, nil},
		{"nothing but nulls", `{"id":null,"type":null,"token":null,"member":null,"user":null,"data":null,"message":null}`, nil},
		{"nobody", `{"id":"1","type":2,"data":{"name":"post"}}`, nil},
		{"a type not known", `{"id":"1","type":42,` + asker + `}`, nil},
		{"a message command without its message", `{"id":"1","type":2,` + asker + `,"data":{"name":"Read this session","type":3,"target_id":"5"}}`, nil},
		{"not JSON", `{`, nil},
		{"a list", `[]`, nil},
	} {
		r, _, err := decodeInteraction([]byte(c.event))
		switch {
		case c.check == nil && err == nil:
			t.Errorf("%s: not refused: %+v", c.name, r)
		case c.check != nil && (err != nil || !c.check(r)):
			t.Errorf("%s: %v, %+v", c.name, err, r)
		}
	}
}

// What an event brings down is one event, never the process.
func TestEventPanics(t *testing.T) {
	a, err := New(Config{Token: "x", Bot: panicky{}, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		t.Fatal(err)
	}
	a.event(a.queue, "INTERACTION_CREATE", []byte(`{"id":"1","type":2,`+asker+`,"data":{"name":"post"}}`), func() {})
	a.event(a.queue, "INTERACTION_CREATE", []byte(`{`), func() {})
	a.event(a.queue, "MESSAGE_CREATE", []byte(`{"id":"1"}`), func() {}) // before we know who we are
	a.event(a.queue, "SOMETHING_NEW", []byte(`{}`), func() {})
	if p, u := a.metrics.panics.Get(), a.metrics.undecoded.Get(); p != 2 || u != 1 {
		t.Errorf("%v panics caught and %v events not read, want 2 and 1", p, u)
	}
}

type panicky struct{ Conversation }

func (panicky) Ack(bot.Request) bot.Ack { panic("club,carry") }

// A mention is for us with a file or with rows, and not with talk.
func TestRowsInAMessage(t *testing.T) {
	for text, want := range map[string]bool{
		"<@3>\ncarry 152, 8 right\ncarry 149, 2 left":          true,
		"<@3> see you at 10 on bay 4, and at 12 with 20 balls": false,
		"<@3>": false,
	} {
		raw, err := json.Marshal(map[string]any{"id": "1", "author": map[string]string{"id": "7"}, "guild_id": "4", "content": text, "mentions": []any{map[string]string{"id": "3"}}})
		if err != nil {
			t.Fatal(err)
		}
		if r, _, wanted, err := decodeMessage(raw, "3"); err != nil || wanted != want || wanted && r.Message.Text != text {
			t.Errorf("%q: wanted %v, %v; want %v", text, wanted, err, want)
		}
	}
}
