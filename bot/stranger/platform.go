package stranger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"log"
	"mime"
	"mime/multipart"
	"net"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"time"
)

// A Platform is the chat platform on loopback: three servers (REST, gateway,
// CDN) over one invented world.
type Platform struct {
	*Server // the first, where there is one alone
	servers []*Server
	App     string
	Bot     *Person

	// URL is the address of the REST server and CDN the host of the files.
	URL, CDN, gatewayURL string
	// Token is the bot's.
	Token string

	ids    ids
	drawer *Drawer
	desc   *Description
	record *Transcript
	doors  []*http.Server
	stop   chan struct{}
	once   sync.Once

	mu           sync.Mutex
	people       map[string]*Person
	channels     map[string]*Channel
	messages     map[string]*Message
	order        []*Message
	interactions map[string]*Ask // by token
	commands     []obj
	files        map[string]*posted
	nonces       map[string]*Message
	buckets      map[string]*bucket
	refused      []refusal
	gate         gateway
	judge        *Judge
	arrived      time.Time // of the call that is carried out
	calls        []time.Time
	world        World
	pids         func() []int // the processes that may call; nil where it is one alone
	global       []time.Time  // calls by token of the last second
	overGlobal   int          // calls refused for them
	writes       []act        // all calls that change something, where there are several processes
}

// A posted is a file on the CDN.
type posted struct {
	body []byte
	name string
	kind string // content type
}

// A refusal is an answer in the 400s.
type refusal struct {
	at     time.Time
	status int
	what   string
}

// NewPlatform starts the servers; Close ends them. Without a description
// requests are not checked against it.
func NewPlatform(d *Drawer, desc *Description, record *Transcript) (*Platform, error) {
	return newPlatform(World{Servers: 1, Shards: 1, Concurrency: 1}, d, desc, record)
}

func newPlatform(w World, d *Drawer, desc *Description, record *Transcript) (*Platform, error) {
	p := &Platform{
		world:  w,
		Token:  fmt.Sprintf("MTAx%d.%s.%s", time.Now().Unix()%100000, "Gstrng", randomWord(27)),
		drawer: d, desc: desc, record: record, stop: make(chan struct{}),
		people: map[string]*Person{}, channels: map[string]*Channel{}, messages: map[string]*Message{},
		interactions: map[string]*Ask{}, files: map[string]*posted{}, nonces: map[string]*Message{},
		buckets: map[string]*bucket{}, commands: []obj{},
	}
	p.judge = newJudge(p)
	record.hush = p.redact
	p.populate()
	p.gate.sessions, p.gate.last, p.gate.groups = map[string]*link{}, map[int]*link{}, map[int]time.Time{}
	for _, s := range []struct {
		handler http.HandlerFunc
		address *string
		scheme  string
	}{{p.serveREST, &p.URL, "http://"}, {p.serveCDN, &p.CDN, ""}, {p.serveGateway, &p.gatewayURL, "ws://"}} {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			p.Close()
			return nil, err
		}
		*s.address = s.scheme + l.Addr().String()
		server := &http.Server{Handler: s.handler, ErrorLog: log.New(io.Discard, "", 0), ConnContext: p.caller}
		p.doors = append(p.doors, server)
		go server.Serve(l)
	}
	return p, nil
}

// Close ends all servers and links.
func (p *Platform) Close() {
	p.once.Do(func() { close(p.stop) })
	for _, s := range p.doors {
		s.Close()
	}
}

// A call is one request of the bot's.
type call struct {
	method, path, route string // path without /api/vN
	query               url.Values
	body                []byte // JSON, also of a multipart body
	data                obj    // body, if it is an object
	files               []*posted
	fields              []string // names of the file parts
	bot                 bool     // with the bot's token
	webhook             bool     // a route whose token is in the path
	n                   int
	pid                 int // of the process that calls, 0 where it is one alone
}

// An answer is what the platform makes of a call.
type answer struct {
	status int
	body   any
	header http.Header
}

func ok(body any) answer { return answer{status: 200, body: body} }

var done = answer{status: 204}

// refuse is an error as the platform words it (reference.mdx, "Error
// Messages" [P]).
func refuse(status, code int, message string) answer {
	return answer{status: status, body: obj{"message": message, "code": code}}
}

func badForm(format string, a ...any) answer {
	return answer{status: 400, body: obj{"message": "Invalid Form Body", "code": 50035, "errors": obj{
		"_errors": []obj{{"code": "BASE_TYPE_BAD", "message": fmt.Sprintf(format, a...)}},
	}}}
}

func (p *Platform) serveREST(w http.ResponseWriter, r *http.Request) {
	c, err := p.read(r)
	if err != nil {
		p.record.addf("rest", "%s %s: unreadable: %v", r.Method, p.redact(r.URL.Path), err)
		reply(w, badForm("%v", err))
		return
	}
	what := c.method + " " + c.route
	arrived := time.Now()
	fault := p.drawer.rest(c)
	p.record.addf("rest", "#%d %s%s %s%s %s", c.n, by(c.pid), c.method, p.redact(c.path), brief(c), fault)
	var a answer
	if fault.waitFirst > 0 && !p.pause(r, fault.waitFirst) {
		p.record.addf("rest", "#%d the bot gave up waiting, nothing carried out", c.n)
		return
	}
	carried := false
	if fault.carryOut {
		a = p.carryOut(c, arrived)
		carried = true
	}
	if fault.status != 0 {
		a = fault.answer()
	}
	p.note(c, a, what)
	p.record.addf("rest", "#%d -> %d%s %s", c.n, a.status, map[bool]string{true: "", false: " (not carried out)"}[carried], excerpt(a.body))
	if fault.waitAfter > 0 && !p.pause(r, fault.waitAfter) {
		p.record.addf("rest", "#%d the bot gave up waiting", c.n)
		return
	}
	fault.send(w, a)
}

// pause waits for as long as the bot does, and says whether it still does.
func (p *Platform) pause(r *http.Request, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return r.Context().Err() == nil
	case <-r.Context().Done():
		return false
	case <-p.stop:
		return false
	}
}

// read takes a request apart.
func (p *Platform) read(r *http.Request) (*call, error) {
	path := r.URL.Path
	version := ""
	if rest, ok := strings.CutPrefix(path, "/api/"); ok {
		v, after, _ := strings.Cut(rest, "/")
		version, path = v, "/"+after
	}
	body, err := io.ReadAll(http.MaxBytesReader(nil, r.Body, 26<<20))
	if err != nil {
		return nil, err
	}
	c := &call{
		method: r.Method, path: path, query: r.URL.Query(), body: body,
		bot: r.Header.Get("Authorization") == "Bot "+p.Token, n: p.record.count(), pid: pidOf(r.Context()),
	}
	if version != "v10" {
		p.judge.break_("request not valid", "%s %s asks for version %q of the interface, not v10", r.Method, p.redact(path), version)
	}
	if kind, params, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); strings.HasPrefix(kind, "multipart/") {
		if c.body, err = c.parts(multipart.NewReader(bytes.NewReader(body), params["boundary"])); err != nil {
			return nil, err
		}
	} else if len(body) > 0 && kind != "application/json" {
		p.judge.break_("request not valid", "%s %s sends a body as %q", r.Method, p.redact(path), kind)
	}
	json.Unmarshal(c.body, &c.data)
	c.route = follow(path, routes)
	c.webhook = strings.HasPrefix(path, "/interactions/") || strings.HasPrefix(path, "/webhooks/")
	if p.desc != nil {
		if err := p.desc.Check(c.method, path, c.query, c.body); err != nil {
			p.judge.break_("request not valid", "%s", p.redact(err.Error()))
		}
	}
	if c.route == "" {
		c.route = "?"
	}
	if ua := r.Header.Get("User-Agent"); !strings.HasPrefix(ua, "DiscordBot (") {
		// "Clients using the HTTP API must provide a valid User Agent"
		// (reference.mdx, "User Agent" [P]).
		p.judge.break_("request not valid", "%s %s has the user agent %q, which the platform may block", c.method, c.route, ua)
	}
	return c, nil
}

// parts reads a multipart body: payload_json is returned, files are kept
// (reference.mdx, "Uploading Files" [P]).
func (c *call) parts(mr *multipart.Reader) ([]byte, error) {
	var payload []byte
	for {
		part, err := mr.NextPart()
		if err == io.EOF {
			return payload, nil
		}
		if err != nil {
			return nil, err
		}
		b, err := io.ReadAll(part)
		if err != nil {
			return nil, err
		}
		switch name := part.FormName(); {
		case name == "payload_json":
			payload = b
		case strings.HasPrefix(name, "files["):
			c.fields = append(c.fields, strings.Trim(strings.TrimPrefix(name, "files"), "[]"))
			c.files = append(c.files, &posted{body: b, name: part.FileName(), kind: part.Header.Get("Content-Type")})
		default:
			return nil, fmt.Errorf("part %q", name)
		}
	}
}

// note keeps refusals, for the bound on them.
func (p *Platform) note(c *call, a answer, what string) {
	if a.status < 400 || a.status > 499 {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.refused = append(p.refused, refusal{time.Now(), a.status, what})
}

func reply(w http.ResponseWriter, a answer) {
	for k, v := range a.header {
		w.Header()[k] = v
	}
	if raw, ok := a.body.(rawBody); ok {
		w.Header().Set("Content-Type", raw.kind)
		w.WriteHeader(a.status)
		io.WriteString(w, raw.text)
		return
	}
	if a.body == nil {
		w.WriteHeader(a.status)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(a.status)
	json.NewEncoder(w).Encode(a.body)
}

// rawBody is a body that is not the platform's JSON.
type rawBody struct{ kind, text string }

// secretMark begins every interaction token, so that one can be found in any
// text; the five characters behind it number it.
const secretMark = "aW50ZXJhY3Rpb246"

var secret = regexp.MustCompile(secretMark + `([0-9]{5})[0-9A-Za-z]*`)

// redact takes secrets out of what the transcript keeps.
func (p *Platform) redact(s string) string {
	return secret.ReplaceAllString(strings.ReplaceAll(s, p.Token, "BOT-TOKEN"), "TOKEN-$1")
}

func brief(c *call) string {
	s := ""
	if len(c.query) > 0 {
		s += "?" + c.query.Encode()
	}
	if len(c.files) > 0 {
		s += fmt.Sprintf(" +%d files", len(c.files))
	}
	return s + " " + excerpt(rawBody{text: string(c.body)})
}

func excerpt(v any) string {
	var s string
	switch v := v.(type) {
	case nil:
		return ""
	case rawBody:
		s = v.text
	default:
		b, _ := json.Marshal(v)
		s = string(b)
	}
	if len(s) > 700 {
		s = s[:700] + "..."
	}
	return s
}
