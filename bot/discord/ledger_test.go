package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"rangepost/bot"
)

// Whatever is settled in whatever order, the place where another process resumes is
// before every event that is not, and at the last one when all are.
func TestPlaceIsNeverAhead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newLedger(bot.Place{Session: "s", Address: "wss://gateway", Seq: 40})
		settle := map[int64]func(){}
		last := int64(40)
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0, 1:
				last++
				settle[last], _ = l.begin(last)
			case 2:
				last++
				l.passed(last)
			case 3:
				for seq, done := range settle {
					done()
					delete(settle, seq)
					break
				}
			}
			want := last
			for seq := range settle {
				want = min(want, seq-1)
			}
			if got := l.place(); got.Seq != want || got.Session != "s" {
				t.Fatalf("place %+v with %d open of %d, want %d", got, len(settle), last, want)
			}
		}
		// An event of a session before is none of the next one's.
		old, _ := l.begin(last + 1)
		l.opened("next", "wss://another", 1)
		if done, ok := l.begin(2); ok {
			old()
			if p := l.place(); p != (bot.Place{Session: "next", Address: "wss://another", Seq: 1}) {
				t.Fatalf("place %+v", p)
			}
			done()
		}
		l.close()
		if _, ok := l.begin(3); ok || l.place().Seq != 2 {
			t.Fatalf("an event was taken in after the shard was handed over: %+v", l.place())
		}
	})
}

// said is a connection that keeps what is sent.
type said struct {
	net.Conn
	bytes.Buffer
}

func (s *said) Write(p []byte) (int, error) { return s.Buffer.Write(p) }
func (s *said) Read([]byte) (int, error)    { return 0, io.EOF }

// Where there is a session to resume, that is what the gateway is asked for,
// whatever discordgo says; all else goes out as it is.
func TestWireResumes(t *testing.T) {
	long := strings.Repeat("x", 300)
	for _, c := range []struct {
		name, session, says string
		want                map[string]any // nil for as it is
	}{
		{"identify", "s", `{"op":2,"d":{"token":"secret","properties":{"x":"` + long + `"}}}`, map[string]any{"token": "secret", "session_id": "s", "seq": 7.0}},
		{"a resume of nothing", "s", `{"op":6,"d":{"token":"secret","session_id":"","seq":9}}`, map[string]any{"token": "secret", "session_id": "s", "seq": 7.0}},
		{"a heartbeat", "s", `{"op":1,"d":5}`, nil},
		{"identify anew", "", `{"op":2,"d":{"token":"secret"}}`, nil},
	} {
		out := &said{}
		w := newWire(out, ears{ledger: newLedger(bot.Place{Session: c.session, Seq: 7})})
		f := masked(textFrame(json.RawMessage(c.says)))
		if n, err := w.Write(f); n != len(f) || err != nil {
			t.Errorf("%s: %d, %v", c.name, n, err)
		}
		if c.want == nil {
			if !bytes.Equal(out.Bytes(), f) {
				t.Errorf("%s became %q", c.name, out.Bytes())
			}
			continue
		}
		i := bytes.IndexByte(out.Bytes(), '{') // the key is nothing
		var m struct {
			Op   int            `json:"op"`
			Data map[string]any `json:"d"`
		}
		if err := json.Unmarshal(out.Bytes()[i:], &m); err != nil || m.Op != opResume {
			t.Errorf("%s became %q, %v", c.name, out.Bytes(), err)
		}
		for k, v := range c.want {
			if m.Data[k] != v {
				t.Errorf("%s: %s is %v, want %v", c.name, k, m.Data[k], v)
			}
		}
	}
}

// A request that was being sent when the process's life ended does not leave it,
// by whatever connection.
func TestNothingLeavesAfterLife(t *testing.T) {
	var came atomic.Int64
	there := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		came.Add(1)
		w.Write([]byte(`{"id":"1"}`))
	}))
	defer there.Close()
	var over atomic.Bool
	n := networkFor(there.URL).while(func() bool { return !over.Load() })
	cl := newClient(there.URL, "x", newLimits(newMetrics(nil)), n)
	ask := func() error {
		ctx, cancel := context.WithTimeout(t.Context(), 300e6)
		defer cancel()
		return cl.do(ctx, call{method: "POST", route: "/channels/{channel}/typing", args: []string{"1"}})
	}
	if err := ask(); err != nil || came.Load() != 1 {
		t.Fatalf("%v, %d came", err, came.Load())
	}
	over.Store(true) // the connection from before is kept open
	if err := ask(); err == nil || came.Load() != 1 {
		t.Errorf("%v, %d came after its life", err, came.Load())
	}
}
