package stranger

import (
	"fmt"
	"hash/fnv"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// A Drawer is the seeded trouble. What it does to the n-th call of a route,
// the n-th event of a name or the n-th connection depends on the seed and n
// alone, so that a seed replays as far as the bot itself does.
type Drawer struct {
	Seed uint64
	// REST, Gateway, CDN and Process are how likely trouble is, per call,
	// event, download and turn of the script; zero leaves that side alone.
	REST, Gateway, CDN, Process float64
	// Without leaves out what is known already, so that it does not hide the
	// rest: trouble whose name holds one of these.
	Without []string
	// Beat is the heartbeat interval that the gateway asks for.
	Beat time.Duration
	// identifyGap is how far apart identifies must be (5 s by the
	// documentation).
	identifyGap time.Duration

	open   atomic.Bool
	shut   atomic.Bool  // the CDN hands nothing out
	hours  atomic.Int64 // 429s that said to come back in hours
	mu     sync.Mutex
	counts map[string]uint64
}

// NewDrawer draws which sides are troubled. Seed 0 is a plain day.
func NewDrawer(seed uint64) *Drawer {
	d := &Drawer{Seed: seed, counts: map[string]uint64{}, Beat: 41250 * time.Millisecond}
	r := d.dice("drawer")
	if seed == 0 {
		return d
	}
	for d.REST+d.Gateway+d.CDN+d.Process == 0 {
		if r.Float64() < 0.6 {
			d.REST = 0.1 + 0.3*r.Float64()
		}
		if r.Float64() < 0.5 {
			d.Gateway = 0.1 + 0.3*r.Float64()
		}
		if r.Float64() < 0.3 {
			d.CDN = 0.2 + 0.5*r.Float64()
		}
		if r.Float64() < 0.5 {
			d.Process = 0.1 + 0.25*r.Float64()
		}
	}
	if d.Gateway > 0 {
		d.Beat = time.Duration(600+r.IntN(1500)) * time.Millisecond
		d.identifyGap = []time.Duration{0, time.Second, 5 * time.Second}[r.IntN(3)]
	}
	return d
}

func (d *Drawer) String() string {
	return fmt.Sprintf("seed %d: rest %.2f, gateway %.2f (heartbeat %v, identifies %v apart), cdn %.2f, process %.2f",
		d.Seed, d.REST, d.Gateway, d.Beat, d.identifyGap, d.CDN, d.Process)
}

func (d *Drawer) out(name string) bool {
	return slices.ContainsFunc(d.Without, func(w string) bool { return w != "" && strings.Contains(name, w) })
}

// frame draws an odd frame.
func (d *Drawer) frame(r *rand.Rand) string {
	f := odd[r.IntN(len(odd))]
	if d.out(f) || f == "null" && d.out("null frame") {
		return odd[5]
	}
	return f
}

// dice are the dice of the next use of a key.
func (d *Drawer) dice(key string) *rand.Rand {
	h := fnv.New64a()
	io.WriteString(h, key)
	d.mu.Lock()
	d.counts[key]++
	n := d.counts[key]
	d.mu.Unlock()
	return rand.New(rand.NewPCG(d.Seed, h.Sum64()+n*0x9e3779b97f4a7c15))
}

// A restFault is what happens to one call.
type restFault struct {
	name      string
	waitFirst time.Duration // before it is carried out
	carryOut  bool
	waitAfter time.Duration // before it is answered
	status    int           // in place of the real one
	header    http.Header
	body      any
	how       string // "", cut, truncated, slow or garbled
	garbage   string
}

func (f *restFault) String() string {
	if f.name == "" {
		return ""
	}
	if !f.carryOut {
		return "{" + f.name + ", not carried out}"
	}
	return "{" + f.name + "}"
}

func (f *restFault) answer() answer {
	return answer{status: f.status, header: f.header, body: f.body}
}

// send answers, or fails to.
func (f *restFault) send(w http.ResponseWriter, a answer) {
	switch f.how {
	case "cut":
		cut(w)
	case "truncated", "slow":
		var b strings.Builder
		reply(&discard{&b, http.Header{}}, a)
		text := b.String()
		for k, v := range a.header {
			w.Header()[k] = v
		}
		w.Header().Set("Content-Type", "application/json")
		if a.status != 204 && len(text) > 0 {
			w.Header().Set("Content-Length", strconv.Itoa(len(text)))
		}
		w.WriteHeader(a.status)
		step := len(text)/2 + 1
		if f.how == "slow" {
			step = len(text)/10 + 1
		}
		for i := 0; i < len(text); i += step {
			io.WriteString(w, text[i:min(len(text), i+step)])
			w.(http.Flusher).Flush()
			if f.how == "truncated" {
				cut(w)
				return
			}
			time.Sleep(150 * time.Millisecond)
		}
	case "garbled":
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(200)
		io.WriteString(w, f.garbage)
	default:
		reply(w, a)
	}
}

type discard struct {
	io.Writer
	h http.Header
}

func (d *discard) Header() http.Header { return d.h }
func (d *discard) WriteHeader(int)     {}

const page = "<!DOCTYPE html><html><head><title>%d</title></head><body><center><h1>%d</h1></center></body></html>"

// gateways are the statuses of a proxy in front of the platform.
var proxies = []int{500, 502, 503, 504, 507, 520, 522, 524, 530, 408}

// rest draws what happens to a call.
func (d *Drawer) rest(c *call) *restFault {
	f := &restFault{carryOut: true}
	if !d.open.Load() || d.REST == 0 {
		return f
	}
	r := d.dice("rest " + c.method + " " + c.route)
	if r.Float64() > d.REST {
		return f
	}
	limited := func(scope string, retry string, body any) {
		f.carryOut, f.status, f.header, f.body = false, 429, http.Header{"X-Ratelimit-Scope": {scope}}, body
		if retry != "" {
			f.header["Retry-After"] = []string{retry}
		}
		if scope == "global" {
			f.header["X-Ratelimit-Global"] = []string{"true"}
		}
		f.name = "429 " + scope + " retry " + retry
	}
	told := func(after float64, global bool) obj {
		return obj{"message": "You are being rate limited.", "retry_after": after, "global": global}
	}
	html := func(status int) rawBody {
		return rawBody{"text/html; charset=UTF-8", fmt.Sprintf(page, status, status)}
	}
	switch k := r.IntN(20); k {
	case 0:
		f.name, f.waitFirst = "delay before", time.Duration(200+r.IntN(2600))*time.Millisecond
	case 1:
		f.name, f.waitAfter = "delay after", time.Duration(200+r.IntN(4000))*time.Millisecond
	case 2:
		f.name, f.waitFirst, f.carryOut, f.how = "hang", 25*time.Second, false, "cut"
	case 3:
		f.name, f.waitAfter, f.how = "hang, carried out", 25*time.Second, "cut"
	case 4:
		f.name, f.carryOut, f.how = "cut before", false, "cut"
	case 5:
		f.name, f.how = "cut after", "cut"
	case 6:
		limited("user", "1", told(0.64, false))
	case 7:
		limited("shared", "2", told(1.57, false))
	case 8:
		limited("global", "1", told(0.9, true))
	case 9:
		limited("user", "0.35", told(0.35, false))
	case 10:
		d.hours.Add(1)
		limited("user", "7200", told(7199.5, false))
	case 11:
		limited("user", []string{"soon", "-5", "99999999999999999999", "Wed, 21 Oct 2026 07:28:00 GMT", "NaN"}[r.IntN(5)], told(0.2, false))
	case 12:
		limited("user", "", told(0.5, false))
	case 13:
		limited("", []string{"", "1", "3"}[r.IntN(3)], rawBody{"text/html", "<html><body>error code: 1015</body></html>"})
	case 14, 15:
		status := proxies[r.IntN(len(proxies))]
		f.carryOut = r.IntN(2) == 0
		f.name, f.status, f.body = strconv.Itoa(status), status, html(status)
	case 16:
		f.name, f.carryOut, f.status, f.body = "a passing 401", false, 401, obj{"message": "401: Unauthorized", "code": 0}
	case 17:
		f.name, f.carryOut, f.status, f.body = "403 of a proxy", false, 403, html(403)
	case 18:
		f.name, f.how = "garbled", "garbled"
		f.garbage = []string{"[]", "{", "null", "", "<html></html>", `{"id":7}`, `"` + strings.Repeat("x", 1<<20) + `"`}[r.IntN(7)]
	case 19:
		f.how = []string{"truncated", "slow"}[r.IntN(2)]
		f.name = f.how
	}
	return f
}

// A connecting is what happens to a new connection to the gateway.
type connecting struct {
	name   string
	refuse int
	wait   time.Duration
	hello  bool
	first  []string
	code   int
}

func (d *Drawer) interval() time.Duration { return d.Beat }

func (d *Drawer) connect() connecting {
	c := connecting{hello: true}
	if !d.open.Load() || d.Gateway == 0 {
		return c
	}
	r := d.dice("connect")
	if r.Float64() > d.Gateway {
		return c
	}
	switch r.IntN(9) {
	case 0:
		c.name, c.refuse = "{refused}", []int{502, 503, 429, 520}[r.IntN(4)]
	case 1:
		c.name, c.wait = "{slow hello}", time.Duration(r.IntN(4000))*time.Millisecond
	case 2:
		c.name, c.hello, c.first = "{op 7 in place of hello}", false, []string{`{"op":7,"d":null}`}
	case 3:
		c.name, c.hello, c.first = "{heartbeat interval 0}", false, []string{`{"op":10,"d":{"heartbeat_interval":0},"s":null,"t":null}`}
	case 4:
		c.name, c.hello, c.first = "{no heartbeat interval}", false, []string{`{"op":10,"d":{},"s":null,"t":null}`}
	case 5:
		c.name, c.hello, c.first = "{hello without data}", false, []string{`{"op":10,"d":null,"s":null,"t":null}`}
	case 6:
		c.name, c.first = "{null opcode first}", []string{`{"op":null,"d":null,"s":null,"t":null}`, d.frame(r)}
	case 7:
		c.name, c.code = "{closed behind hello}", []int{1011, 1012, 4000, 4008}[r.IntN(4)]
	case 8:
		c.name, c.hello, c.first = "{odd heartbeat interval}", false, []string{`{"op":10,"d":{"heartbeat_interval":` + []string{"-1", "1e300", `"soon"`, "99999999999"}[r.IntN(4)] + `},"s":null,"t":null}`}
	}
	if d.out(c.name) {
		return connecting{hello: true}
	}
	return c
}

// refuseIdentify draws an INVALID SESSION in place of READY.
func (d *Drawer) refuseIdentify() bool {
	return d.open.Load() && d.Gateway > 0 && d.dice("identify").Float64() < d.Gateway/3
}

// resume draws what follows a RESUME.
func (d *Drawer) resume() string {
	if !d.open.Load() || d.Gateway == 0 {
		return ""
	}
	r := d.dice("resume")
	if r.Float64() > 2*d.Gateway {
		return ""
	}
	return []string{"invalid", "reconnect", "invalid, resumable"}[r.IntN(3)]
}

// odd are frames that no client expects. They are ours, not the platform's:
// the documentation promises none of them.
var odd = []string{
	`{"op":null,"d":null,"s":null,"t":null}`,
	`{"op":0,"d":null,"s":null,"t":"INTERACTION_CREATE"}`,
	`{"op":0,"d":null,"s":null,"t":"MESSAGE_CREATE"}`,
	`{"op":0,"d":{},"s":null,"t":"INTERACTION_CREATE"}`,
	`{"op":0,"d":{"id":"1","type":3,"token":"","data":null,"version":1},"s":null,"t":"INTERACTION_CREATE"}`,
	`{"op":0,"d":{"something":["new"]},"s":null,"t":"A_NEW_KIND_OF_EVENT"}`,
	`{"op":0,"d":[1,2,3],"s":null,"t":"GUILD_CREATE"}`,
	`{"op":0,"d":"text","s":null,"t":"MESSAGE_CREATE"}`,
	`{"op":0,"d":{"id":"5","channel_id":"6","author":null,"mentions":null,"attachments":null},"s":null,"t":"MESSAGE_CREATE"}`,
	`{"op":99,"d":{},"s":null,"t":null}`,
	`{"op":0,"d":{"components":[{"type":250,"components":[{"type":251}]}],"id":"7","channel_id":"8","type":0,"author":{"id":"9"}},"s":null,"t":"MESSAGE_CREATE"}`,
	`{`,
	`[]`,
	`null`,
	`{"op":0,"s":null,"t":null}`,
	`{"op":"0","d":{},"s":null,"t":"A_NEW_KIND_OF_EVENT"}`,
	`{"op":11}`,
	`{"op":1,"d":null}`,
	`{"op":0,"d":{"id":"10","type":250,"token":"x","data":{"component_type":250,"custom_id":"x"}},"s":null,"t":"INTERACTION_CREATE"}`,
}

// event draws what happens to an event on its way: frames before and behind
// it, how many times it is sent, and how long it is held so that others
// overtake it.
func (d *Drawer) event(name string) (before []string, times int, after []string, hold time.Duration) {
	times = 1
	if !d.open.Load() || d.Gateway == 0 {
		return
	}
	r := d.dice("event " + name)
	if r.Float64() > d.Gateway {
		return
	}
	switch r.IntN(5) {
	case 0:
		times = 2
	case 1:
		times = 3
	case 2:
		if name != "READY" && name != "RESUMED" {
			hold = time.Duration(50+r.IntN(1200)) * time.Millisecond
		}
	case 3:
		before = []string{d.frame(r)}
	case 4:
		after = []string{d.frame(r), d.frame(r)}
	}
	return
}

// cdn draws what happens to a download.
func (d *Drawer) cdn(string) string {
	if d.shut.Load() {
		return "shut"
	}
	if !d.open.Load() || d.CDN == 0 {
		return ""
	}
	r := d.dice("cdn")
	if r.Float64() > d.CDN {
		return ""
	}
	return []string{"hang", "slow", "short", "longer", "redirect", "404", "500", "503", "429"}[r.IntN(9)]
}

// shake draws trouble for the link that stands.
func (d *Drawer) shake() string {
	if !d.open.Load() || d.Gateway == 0 {
		return ""
	}
	r := d.dice("shake")
	if r.Float64() > d.Gateway {
		return ""
	}
	switch k := r.IntN(14); k {
	case 0, 1:
		return "reconnect"
	case 2:
		return "invalid"
	case 3:
		return "invalid, resumable"
	case 4:
		return "no acknowledgements"
	case 5:
		return "dead"
	case 6:
		return "cut"
	case 7:
		return "beat"
	case 8:
		return "binary"
	case 9:
		return "frame " + d.frame(r)
	}
	codes := []int{1000, 1001, 1006, 1011, 1012, 4000, 4001, 4002, 4003, 4004, 4005, 4006, 4007, 4008, 4009, 4010, 4011, 4012, 4013, 4014}
	code := codes[r.IntN(len(codes))]
	if code == 1006 { // never on the wire (RFC 6455, 7.4.1 [M])
		return "cut"
	}
	return fmt.Sprintf("close %d", code)
}

// disturb draws what happens to the process.
func (d *Drawer) disturb() string {
	if !d.open.Load() || d.Process == 0 {
		return ""
	}
	r := d.dice("process")
	if r.Float64() > d.Process {
		return ""
	}
	how := []string{"kill", "kill", "three restarts", "terminate", "second"}[r.IntN(5)]
	if d.out(how) {
		return ""
	}
	return how
}
