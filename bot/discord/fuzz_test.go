package discord

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"rangepost/bot"
)

// No event makes us panic, and none becomes a request by nobody.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"id":"1","type":5,` + asker + `,"data":{"custom_id":"a","components":[{"type":18,"component":{"type":4,"custom_id":"a"}}]}}`))
	f.Add([]byte(`{"id":"1","type":5,` + asker + `,"data":{"custom_id":"a","components":[{"type":18,"component":{"type":19,"custom_id":"f","values":["9"]}}],"resolved":{"attachments":{"9":{"id":"9"}}}}}`))
	f.Add([]byte(`{"id":"1","type":2,` + asker + `,"data":{"name":"a","type":3,"target_id":"5","resolved":{"messages":{"5":{"id":"5"}}}}}`))
	f.Add([]byte(`{"id":"1","author":{"id":"7"},"attachments":[{"id":"2"}],"mentions":[{"id":"3"}],"guild_id":"4"}`))
	f.Add([]byte(`null`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if r, n, err := decodeInteraction(raw); err == nil {
			if r.Kind == "" || !isID(r.ID) || !isID(r.Asker.ID) || n.Token == "" {
				t.Errorf("a request of no kind, or that nobody can be answered to: %+v", r)
			}
			if _, err := json.Marshal(n); err != nil {
				t.Error(err)
			}
		}
		r, _, wanted, err := decodeMessage(raw, "3")
		if err == nil && wanted && (len(r.Message.Files) == 0 && !bot.HasRows(r.Message.Text) || !isID(r.Asker.ID)) {
			t.Errorf("a message without a file or rows, or of nobody, was wanted: %+v", r)
		}
	})
}

// Whatever comes over a connection, what the gateway library is given is made
// of frames it can bear: a known operation, data that is an object, a heartbeat
// interval that can be kept.
func FuzzGateway(f *testing.F) {
	f.Add([]byte("null"), []byte(`{"op":0,"t":"GUILD_CREATE","s":1,"d":null}`))
	f.Add([]byte(`{"op":10,"d":{"heartbeat_interval":0}}`), []byte(`{"op":10}`))
	f.Add([]byte(hello), []byte(`{"op":0,"t":"READY","s":1,"d":{"session_id":"x"}}`))
	f.Add([]byte(hello), []byte(`{"op":9,"d":false}`))
	f.Fuzz(func(t *testing.T, one, two []byte) {
		for _, sent := range [][]byte{
			append(frame(1, one), frame(1, two)...),
			append(frame(1, []byte(hello)), frame(1, two)...),
			append(append(frame(1, []byte(hello)), one...), two...), // not even frames
		} {
			w := newWire(fakeConn{Reader: io.MultiReader(strings.NewReader(opening), bytes.NewReader(sent))}, ears{
				heard:   func(int, json.RawMessage) {},
				event:   func(name string, data json.RawMessage, _ func()) { decodeInteraction(data) },
				dropped: func(string) {},
				closed:  func(int) {},
			})
			got, _ := io.ReadAll(w)
			in := bytes.NewReader(got[len(opening):])
			for in.Len() > 0 {
				var head [2]byte
				io.ReadFull(in, head[:])
				kind, size := head[0]&0x0f, int(head[1])
				if size == 126 {
					var wide [2]byte
					io.ReadFull(in, wide[:])
					size = int(wide[0])<<8 | int(wide[1])
				}
				payload := make([]byte, size)
				io.ReadFull(in, payload)
				if kind != frameText {
					continue
				}
				var m struct {
					Op   *int             `json:"op"`
					Data *json.RawMessage `json:"d"`
				}
				err := json.Unmarshal(payload, &m)
				if err != nil || m.Op == nil || *m.Op == opEvent && (m.Data == nil || (*m.Data)[0] != '{') {
					t.Fatalf("handed on %q: %v", payload, err)
				}
				if *m.Op == opHello {
					if ms, ok := interval(*m.Data); !ok || ms < 250 {
						t.Fatalf("handed on %q", payload)
					}
				}
			}
		}
	})
}

// Whatever answers, a hold is between nothing and a day, only the platform's
// own word is final, and an error says nothing of what was sent.
func FuzzAnswer(f *testing.F) {
	f.Add(429, "65", "1", `{"message":"limited","retry_after":64.5,"global":true}`)
	f.Add(429, "NaN", "1e999", `{"retry_after":1e999}`)
	f.Add(403, "", "", "<html>")
	f.Add(401, "", "", `{"code":50027,"message":"Invalid Webhook Token"}`)
	f.Add(200, "", "", "null")
	f.Fuzz(func(t *testing.T, status int, after, reset, body string) {
		h := http.Header{"Retry-After": {after}, "X-Ratelimit-Remaining": {"0"}, "X-Ratelimit-Reset-After": {reset}}
		resp := &http.Response{StatusCode: status, Header: h}
		l := newLimits(newMetrics(nil))
		c := &careful{limits: l}
		for _, exempt := range []bool{false, true} {
			c.obey(resp, []byte(body), "key", exempt, 3)
			d, what := retryAfter(h, []byte(body), "key", exempt)
			if d < 0 || d > longestHold || what == ofBot && exempt {
				t.Errorf("holds %q for %v", what, d)
			}
			if left := l.left("key", exempt); left > longestHold {
				t.Errorf("held for %v", left)
			}
		}
		v := judge(resp, []byte(body), nil, manner{trusting: true})
		_, own := ownRefusal([]byte(body))
		if !v.again && (status < 200 || status > 299) && !own {
			t.Errorf("status %d and %q are final", status, body)
		}
		if b := backOff(status & 0xff); b <= 0 || b > time.Minute {
			t.Errorf("a pause of %v", b)
		}
	})
}

// A custom id is whatever a client sends: it comes through as it is, and the
// request can be kept and taken up again.
func FuzzCustomID(f *testing.F) {
	f.Add("v1/post/8f3k/cause")
	f.Add("\u202e/../\x00")
	f.Fuzz(func(t *testing.T, id string) {
		quoted, err := json.Marshal(id)
		if err != nil {
			t.Skip()
		}
		r, _, err := decodeInteraction([]byte(`{"id":"1","type":3,` + asker + `,"data":{"component_type":2,"custom_id":` + string(quoted) + `}}`))
		if err != nil {
			t.Fatal(err)
		}
		kept, err := json.Marshal(r)
		var again bot.Request
		if err != nil || json.Unmarshal(kept, &again) != nil || again.Path != r.Path {
			t.Errorf("%q comes back as %q: %v", r.Path, again.Path, err)
		}
	})
}
