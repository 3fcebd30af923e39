package stranger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// The judge has to be able to say no: a small client of a third hand connects
// here and misbehaves on purpose, one way at a time.

type rogue struct {
	t  *testing.T
	p  *Platform
	ws *websocket.Conn
}

func description(t *testing.T) *Description {
	t.Helper()
	file := os.Getenv("DISCORD_OPENAPI")
	if file == "" {
		return nil
	}
	d, err := ReadDescription(file)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func connect(t *testing.T, d *Drawer) *rogue {
	t.Helper()
	p, err := NewPlatform(d, description(t), NewTranscript(io.Discard))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	p.started()
	r := &rogue{t: t, p: p}
	r.dial()
	r.send(`{"op":2,"d":{"token":"` + p.Token + `","intents":4609,"properties":{"os":"linux","browser":"x","device":"x"}}}`)
	r.until("GUILD_CREATE")
	r.call("PUT", "/applications/"+p.App+"/commands", obj{}, `[{"name":"post","description":"x","options":[{"type":11,"name":"file","description":"x","required":true}]},{"name":"cause","description":"x"}]`)
	return r
}

func (r *rogue) dial() {
	r.t.Helper()
	ws, _, err := websocket.DefaultDialer.Dial(r.p.gatewayURL+"/?v=10&encoding=json", nil)
	if err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() { ws.Close() })
	r.ws = ws
}

func (r *rogue) send(frame string) { r.ws.WriteMessage(websocket.TextMessage, []byte(frame)) }

// until reads events until one with the name, or with the opcode as "op 9".
func (r *rogue) until(name string) obj {
	r.t.Helper()
	for {
		r.ws.SetReadDeadline(time.Now().Add(3 * time.Second))
		_, b, err := r.ws.ReadMessage()
		if err != nil {
			r.t.Fatalf("waiting for %s: %v", name, err)
		}
		var m obj
		json.Unmarshal(b, &m)
		if str(m, "t") == name || fmt.Sprint("op ", num(m, "op")) == name {
			return m
		}
	}
}

// call calls the platform; files make it multipart.
func (r *rogue) call(method, path string, into obj, body string, files ...string) int {
	r.t.Helper()
	var sent io.Reader = strings.NewReader(body)
	kind := "application/json"
	if len(files) > 0 {
		var b bytes.Buffer
		m := multipart.NewWriter(&b)
		m.WriteField("payload_json", body)
		for i, f := range files {
			w, _ := m.CreateFormFile(fmt.Sprintf("files[%d]", i), fmt.Sprintf("file-%d.csv", i))
			io.WriteString(w, f)
		}
		m.Close()
		sent, kind = &b, m.FormDataContentType()
	}
	req, _ := http.NewRequest(method, r.p.URL+"/api/v10"+path, sent)
	req.Header.Set("Authorization", "Bot "+r.p.Token)
	req.Header.Set("User-Agent", "DiscordBot (https://example.org, 1)")
	if body != "" {
		req.Header.Set("Content-Type", kind)
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0
	}
	defer resp.Body.Close()
	json.NewDecoder(resp.Body).Decode(&into)
	return resp.StatusCode
}

// post lets the first student post a file, and acknowledges it.
func (r *rogue) post(where *Channel, ack string) (*Ask, *Upload) {
	r.t.Helper()
	s := r.p.Students[0]
	u := r.p.upload(s, 1, NewDrawer(0).dice("file"))
	a := r.p.Slash(s, where, "post", option{"file", u})
	r.until("INTERACTION_CREATE")
	if ack != "" {
		if got := r.call("POST", "/interactions/"+a.ID+"/"+a.Token+"/callback", obj{}, ack); got != 204 {
			r.t.Fatalf("callback answered with %d, want 204", got)
		}
	}
	return a, u
}

func (r *rogue) edit(a *Ask, content string) int {
	return r.call("PATCH", "/webhooks/"+r.p.App+"/"+a.Token+"/messages/@original", obj{}, `{"content":"`+content+`"}`)
}

// broken are the kinds of break, once all is said.
func (r *rogue) broken() []string {
	r.p.judge.answers()
	breaks, _ := r.p.judge.all()
	var kinds []string
	for _, b := range breaks {
		kinds = append(kinds, b.Kind)
	}
	slices.Sort(kinds)
	return slices.Compact(kinds)
}

const deferred, deferredAlone = `{"type":5}`, `{"type":5,"data":{"flags":64}}`

// Each row is a way to misbehave, and what has to be said of it.
func TestJudgeSeesMisbehaviour(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*rogue)
		want []string
	}{
		{"nothing wrong", func(r *rogue) {
			a, u := r.post(r.p.Range, deferredAlone)
			r.edit(a, fmt.Sprintf("%d balls, face 3.4° right", u.Balls))
		}, nil},
		{"no answer", func(r *rogue) { r.post(r.p.Range, deferredAlone) }, []string{"never answered"}},
		{"not acknowledged is the platform's to say", func(r *rogue) { r.post(r.p.Range, "") }, nil},
		{"answered in a message instead", func(r *rogue) {
			r.post(r.p.Threads[r.p.Students[0].ID], deferred)
			r.say(r.p.Threads[r.p.Students[0].ID], "I could not read that, <@"+r.p.Students[0].ID+">")
		}, nil},
		{"answered twice", func(r *rogue) {
			th := r.p.Threads[r.p.Students[0].ID]
			a, u := r.post(th, deferred)
			r.edit(a, fmt.Sprintf("%d balls, all well", u.Balls))
			r.say(th, fmt.Sprintf("<@%s> %d balls, all well", r.p.Students[0].ID, u.Balls))
		}, []string{"answered twice"}},
		{"the same follow-up twice", func(r *rogue) {
			a, _ := r.post(r.p.Range, deferredAlone)
			r.edit(a, "see below")
			for range 2 {
				r.call("POST", "/webhooks/"+r.p.App+"/"+a.Token, obj{}, `{"content":"below","flags":64}`)
			}
		}, []string{"answered twice"}},
		{"out of nothing", func(r *rogue) { r.say(r.p.Range, "hello all") }, []string{"a message out of nothing"}},
		{"numbers in a public channel", func(r *rogue) {
			a, u := r.post(r.p.Range, deferred)
			r.edit(a, fmt.Sprintf("%d balls, because the face pointed 3.4° right of target", u.Balls))
		}, []string{"numbers shown"}},
		{"numbers in a file in a public channel", func(r *rogue) {
			a, _ := r.post(r.p.Range, deferred)
			r.call("PATCH", "/webhooks/"+r.p.App+"/"+a.Token+"/messages/@original", obj{}, `{"content":"here","attachments":[{"id":"0"}]}`, "5-iron, carry 171 yards")
		}, []string{"numbers shown"}},
		{"numbers in the student's own thread", func(r *rogue) {
			s := r.p.Students[0]
			r.p.judge.agreed(s)
			a, _ := r.post(r.p.Threads[s.ID], deferred)
			r.edit(a, "because the face pointed 3.4° right of target")
		}, nil},
		{"numbers in the thread when consent is gone", func(r *rogue) {
			s := r.p.Students[0]
			r.p.judge.agreed(s)
			a, _ := r.post(r.p.Threads[s.ID], deferred)
			r.p.judge.withdrawn(s, time.Now())
			r.edit(a, "because the face pointed 3.4° right of target")
		}, []string{"numbers shown"}},
		{"numbers in suggestions to somebody else", func(r *rogue) {
			a := r.p.slash(autocompletes, r.p.Outsider, r.p.Range, "cause")
			r.call("POST", "/interactions/"+a.ID+"/"+a.Token+"/callback", obj{}, `{"type":8,"data":{"choices":[{"name":"tamarack-01.csv","value":"1"}]}}`)
		}, []string{"numbers shown"}},
		{"a wrong version of the gateway", func(r *rogue) {
			ws, _, err := websocket.DefaultDialer.Dial(r.p.gatewayURL+"/?v=9", nil)
			if err == nil {
				ws.Close()
			}
		}, []string{"request not valid"}},
		{"back after a close that forbids it", func(r *rogue) {
			r.p.shake("close 4004")
			r.dial()
		}, []string{"reconnected after a close that forbids it"}},
		{"knocking at a shut door", func(r *rogue) {
			for range 201 {
				r.call("GET", "/channels/1", obj{}, "")
			}
			r.p.judge.refusals(200)
		}, []string{"too many refused requests"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := connect(t, NewDrawer(0))
			c.do(r)
			if got := r.broken(); !slices.Equal(got, c.want) {
				breaks, _ := r.p.judge.all()
				t.Errorf("broken are %v, want %v: %v", got, c.want, breaks)
			}
		})
	}
}

func (r *rogue) say(c *Channel, content string) int {
	return r.call("POST", "/channels/"+c.ID+"/messages", obj{}, `{"content":"`+content+`"}`)
}

// What is not in the description, or not as described, is seen.
func TestDescriptionRefuses(t *testing.T) {
	d := description(t)
	if d == nil {
		t.Skip("DISCORD_OPENAPI names no copy of the platform's description")
	}
	for _, c := range []struct {
		method, path, query, body string
		valid                     bool
	}{
		{"POST", "/channels/12/messages", "", `{"content":"x"}`, true},
		{"POST", "/channels/12/messages", "", `{"content":5}`, false},
		{"POST", "/channels/x/messages", "", `{"content":"x"}`, false},
		{"POST", "/channels/12/message", "", `{}`, false},
		{"PUT", "/channels/12/messages", "", `{}`, false},
		{"POST", "/channels/12/messages", "colour", `{"content":"x"}`, false},
		{"PATCH", "/webhooks/12/tok/messages/@original", "", `{"content":"x","attachments":[{"id":0}]}`, true},
		{"POST", "/interactions/12/tok/callback", "", `{"type":5}`, true},
		{"POST", "/interactions/12/tok/callback", "", `{"type":99}`, false},
		{"POST", "/interactions/12/tok/callback", "", ``, false},
		{"GET", "/users/@me", "", ``, true},
		{"GET", "/users/@me", "", `{"a":1}`, false},
	} {
		q := map[string][]string{}
		if c.query != "" {
			q[c.query] = []string{"1"}
		}
		err := d.Check(c.method, c.path, q, []byte(c.body))
		if (err == nil) != c.valid {
			t.Errorf("Check(%s %s %s) = %v, want valid %v", c.method, c.path, c.body, err, c.valid)
		}
	}
}

// The stand-in's own objects are held to the description, so that the bot is
// not tested on what the platform would never send.
func TestOwnObjectsFollowTheDescription(t *testing.T) {
	r := connect(t, NewDrawer(0))
	d := r.p.desc
	if d == nil {
		t.Skip("DISCORD_OPENAPI names no copy of the platform's description")
	}
	r.post(r.p.Range, `{"type":4,"data":{"content":"hello"}}`)
	p := r.p
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range []struct {
		schema string
		value  any
	}{
		{"GuildWithCountsResponse", p.guild(p.Server)},
		{"GuildRoleResponse", p.roles(p.Server)[1]},
		{"GuildChannelResponse", p.object(p.Range)},
		{"ThreadResponse", p.object(p.Threads[p.Students[0].ID])},
		{"PrivateChannelResponse", p.object(p.direct(p.Coach))},
		{"GuildMemberResponse", p.Coach.member(true)},
		{"UserResponse", p.Coach.user()},
		{"MessageResponse", p.messageObject(p.order[len(p.order)-1])},
		{"GatewayBotResponse", p.getGatewayBot(nil, nil).body},
		{"PrivateApplicationResponse", p.getApplication(nil, nil).body},
		{"ApplicationCommandResponse", p.commands[0]},
	} {
		if err := d.Describes(c.schema, c.value); err != nil {
			t.Errorf("%s: %v", c.schema, err)
		}
	}
}

// A session that ends without a close is resumed with what was missed, in
// order (events/gateway.mdx, "Resuming" [P]); an unknown one is refused.
func TestResumeReplays(t *testing.T) {
	r := connect(t, NewDrawer(0))
	var session string
	r.p.mu.Lock()
	session = r.p.gate.last[0].id
	seq := r.p.gate.last[0].seq
	r.p.mu.Unlock()
	r.ws.Close()
	time.Sleep(50 * time.Millisecond)
	r.p.Slash(r.p.Students[0], r.p.Range, "cause")
	r.p.Slash(r.p.Students[1], r.p.Range, "cause")
	r.dial()
	r.send(fmt.Sprintf(`{"op":6,"d":{"token":%q,"session_id":%q,"seq":%d}}`, r.p.Token, session, seq))
	first, second := r.until("INTERACTION_CREATE"), r.until("INTERACTION_CREATE")
	if num(second, "s") != num(first, "s")+1 || str(first, "d", "member", "user", "id") != r.p.Students[0].ID {
		t.Errorf("replayed %d then %d, of %s first", num(first, "s"), num(second, "s"), str(first, "d", "member", "user", "username"))
	}
	r.until("RESUMED")
	r.dial()
	r.send(fmt.Sprintf(`{"op":6,"d":{"token":%q,"session_id":"unknown","seq":1}}`, r.p.Token))
	if m := r.until("op 9"); m["d"] != false {
		t.Errorf("an unknown session is answered with %v, want false", m["d"])
	}
}

// First responses: once, within three seconds, of a fitting kind
// (interactions/receiving-and-responding.mdx [P]).
func TestFirstResponse(t *testing.T) {
	r := connect(t, NewDrawer(0))
	a, _ := r.post(r.p.Range, deferred)
	got := obj{}
	if status := r.call("POST", "/interactions/"+a.ID+"/"+a.Token+"/callback", got, deferred); status != 400 || num(got, "code") != 40060 {
		t.Errorf("a second response is answered with %d, code %d, want 400, 40060", status, num(got, "code"))
	}
	b, _ := r.post(r.p.Range, "")
	if status := r.edit(b, "early"); status != 404 {
		t.Errorf("an edit before the response is answered with %d, want 404", status)
	}
	r.p.mu.Lock()
	b.sent = b.sent.Add(-4 * time.Second)
	r.p.mu.Unlock()
	got = obj{}
	if status := r.call("POST", "/interactions/"+b.ID+"/"+b.Token+"/callback", got, deferred); status != 404 || num(got, "code") != 10062 {
		t.Errorf("a late response is answered with %d, code %d, want 404, 10062", status, num(got, "code"))
	}
	c, _ := r.post(r.p.Range, "")
	if status := r.call("POST", "/interactions/"+c.ID+"/"+c.Token+"/callback", obj{}, `{"type":7,"data":{"content":"x"}}`); status != 400 {
		t.Errorf("an update in answer to a command is answered with %d, want 400", status)
	}
}

// A nonce that is enforced makes one message of two requests
// (resources/message.mdx [P]).
func TestNonce(t *testing.T) {
	r := connect(t, NewDrawer(0))
	first, second, third := obj{}, obj{}, obj{}
	r.call("POST", "/channels/"+r.p.Range.ID+"/messages", first, `{"content":"a","nonce":"7","enforce_nonce":true}`)
	r.call("POST", "/channels/"+r.p.Range.ID+"/messages", second, `{"content":"a","nonce":"7","enforce_nonce":true}`)
	r.call("POST", "/channels/"+r.p.Range.ID+"/messages", third, `{"content":"a","nonce":"8","enforce_nonce":true}`)
	if first["id"] != second["id"] || first["id"] == third["id"] {
		t.Errorf("ids %v, %v, %v: want the first two the same", first["id"], second["id"], third["id"])
	}
}

// The same seed draws the same trouble, another one other trouble, and over
// many calls every kind comes up.
func TestDrawer(t *testing.T) {
	draw := func(seed uint64) []string {
		d := NewDrawer(seed)
		d.REST = 1
		d.open.Store(true)
		var names []string
		for range 400 {
			f := d.rest(&call{method: "PATCH", route: "/x"})
			names = append(names, f.String())
		}
		return names
	}
	a, b, c := draw(5), draw(5), draw(6)
	if !slices.Equal(a, b) || slices.Equal(a, c) {
		t.Errorf("a seed must draw the same, another seed other trouble")
	}
	kinds := map[string]bool{}
	for _, n := range a {
		kinds[n] = true
	}
	for _, want := range []string{"{delay before}", "{hang, carried out}", "{cut before, not carried out}", "{cut after}", "{429 shared retry 2, not carried out}", "{429 global retry 1, not carried out}", "{429 user retry 7200, not carried out}", "{a passing 401, not carried out}", "{403 of a proxy, not carried out}", "{garbled}", "{truncated}", "{slow}"} {
		if !kinds[want] {
			t.Errorf("400 calls never met %s", want)
		}
	}
	plain := NewDrawer(0)
	plain.open.Store(true)
	if f := plain.rest(&call{method: "GET", route: "/x"}); f.String() != "" {
		t.Errorf("seed 0 draws %v, want nothing", f)
	}
}

// A file's numbers give their student away, and nobody else.
func TestFingerprints(t *testing.T) {
	p, err := NewPlatform(NewDrawer(0), nil, NewTranscript(io.Discard))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	for _, c := range []struct {
		text string
		who  int
	}{
		{"because the face pointed 3.4° right of target", 0},
		{"carry 171 yards", 0},
		{"because the face pointed 3.0° left of target", 0},
		{"because the face pointed 6.2° left of target", 1},
		{"quillwort-03.csv, 27 balls", 1},
		{"6-iron: 151 yards", 2},
		{"path (the way the club was moving) 4.6° right of target", 2},
		{"the 5-iron between 2 and 3", -1},
		{"Those numbers are not yours to see.", -1},
	} {
		for i, s := range p.Students {
			if got := p.judge.tells(s, c.text); got != (i == c.who) {
				t.Errorf("tells(%s, %q) = %v, want %v", s.Name, c.text, got, i == c.who)
			}
		}
	}
}

// Log and transcript: a token in one is found, in the other it never stands.
func TestSecrets(t *testing.T) {
	var b bytes.Buffer
	p, err := NewPlatform(NewDrawer(0), nil, NewTranscript(&b))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	token := secretMark + "00042abcDEF"
	p.record.addf("x", "%s and %s", p.Token, token)
	if s := b.String(); strings.Contains(s, p.Token) || strings.Contains(s, token) || !strings.Contains(s, "TOKEN-00042") {
		t.Errorf("the transcript says %q", s)
	}
	s, err := newProcess(p, "nothing", t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(s.log, "all well")
	if got := s.secrets(); len(got) != 0 {
		t.Errorf("secrets() = %v, want none", got)
	}
	fmt.Fprintln(s.log, p.Token, token)
	if got := s.secrets(); len(got) != 2 {
		t.Errorf("secrets() = %v, want two", got)
	}
}
