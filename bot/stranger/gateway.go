package stranger

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
)

// Intents (events/gateway.mdx, "List of Intents" [P]).
const (
	intentGuilds         = 1 << 0
	intentGuildMessages  = 1 << 9
	intentDirectMessages = 1 << 12
	privileged           = 1<<1 | 1<<8 | 1<<15
	knownIntents         = 1<<26 - 1
)

// Gateway opcodes (topics/opcodes-and-status-codes.mdx [P]).
const (
	opDispatch  = 0
	opHeartbeat = 1
	opIdentify  = 2
	opResume    = 6
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opACK       = 11
)

// fatal are the close codes after which nobody may reconnect.
var fatal = map[int]bool{4004: true, 4010: true, 4011: true, 4012: true, 4013: true, 4014: true}

// A gateway keeps the sessions. A session outlives its connections: what was
// sent while there was none is sent again after RESUME.
type gateway struct {
	sessions   map[string]*link
	identifies []time.Time
	// notBefore is when a session may be started again, if the limit that
	// /gateway/bot tells is used up.
	notBefore time.Time
	groups    map[int]time.Time // of the last identify, by shard modulo max_concurrency
	gen       int               // of the process: raised whenever one is started
	stopped   map[int]int
	last      map[int]*link // the newest of each shard
	opened    int           // connections so far
}

// A link is one session and the connection it has now.
type link struct {
	id      string
	gen     int
	shard   int
	left    time.Time // since when it has no connection
	intents int
	seq     int
	history []dispatched
	conn    *connection
	invalid bool
}

// A dispatched is an event of a session.
type dispatched struct {
	seq  int
	name string
	data obj
	ask  *Ask
}

// A connection is one websocket.
type connection struct {
	ws      *websocket.Conn
	write   sync.Mutex
	deaf    atomic.Bool // takes what comes and says nothing: a link that died without a close
	silent  atomic.Bool // sends no heartbeat acknowledgements
	opened  time.Time
	beat    atomic.Int64 // of the last heartbeat, in Unix milliseconds
	odd     bool         // was told no interval that can be kept
	path    string
	done    chan struct{}
	once    sync.Once
	started bool
	pid     int // of the process at the other end, if there are several
}

func (c *connection) send(v any) {
	b, err := json.Marshal(v)
	if err == nil {
		c.raw(websocket.TextMessage, b)
	}
}

func (c *connection) raw(kind int, b []byte) {
	c.write.Lock()
	defer c.write.Unlock()
	if c.deaf.Load() {
		return
	}
	c.ws.SetWriteDeadline(time.Now().Add(5 * time.Second))
	c.ws.WriteMessage(kind, b)
}

// close ends a connection with a code, or without one if the code is 0.
func (c *connection) close(code int) {
	c.once.Do(func() { close(c.done) })
	if code != 0 {
		c.write.Lock()
		c.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, ""), time.Now().Add(time.Second))
		c.write.Unlock()
	}
	c.ws.Close()
}

func (p *Platform) getGateway(*call, []string) answer { return ok(obj{"url": p.gatewayURL}) }

func (p *Platform) getGatewayBot(*call, []string) answer {
	remaining, reset := 1000-len(p.gate.identifies), 24*time.Hour
	if time.Now().Before(p.gate.notBefore) {
		remaining, reset = 0, time.Until(p.gate.notBefore)
	}
	return ok(obj{"url": p.gatewayURL, "shards": p.world.Shards, "session_start_limit": obj{
		"total": 1000, "remaining": max(0, remaining), "reset_after": reset.Milliseconds(), "max_concurrency": p.world.Concurrency,
	}})
}

var upgrade = websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}

func (p *Platform) serveGateway(w http.ResponseWriter, r *http.Request) {
	if v := r.URL.Query().Get("v"); v != "10" {
		p.judge.break_("request not valid", "the gateway is opened with version %q", v)
	}
	if e := r.URL.Query().Get("encoding"); e != "json" && e != "" {
		p.judge.break_("request not valid", "the gateway is opened with encoding %q", e)
	}
	how := p.drawer.connect()
	p.record.addf("gateway", "connection %sto %s?%s %s", by(pidOf(r.Context())), r.URL.Path, r.URL.RawQuery, how.name)
	p.mu.Lock()
	gen := p.gate.gen
	p.gate.opened++
	if code := p.gate.stopped[gen]; code != 0 {
		p.judge.break_("reconnected after a close that forbids it", "the bot came back after the close code %d", code)
	}
	p.mu.Unlock()
	if how.refuse != 0 {
		http.Error(w, "<html><body>Bad gateway</body></html>", how.refuse)
		return
	}
	ws, err := upgrade.Upgrade(w, r, nil)
	if err != nil {
		return
	}
	c := &connection{ws: ws, opened: time.Now(), path: r.URL.Path, done: make(chan struct{}), pid: pidOf(r.Context())}
	defer c.close(0)
	ws.SetReadLimit(4096)
	if how.wait > 0 {
		time.Sleep(how.wait)
	}
	for _, frame := range how.first {
		c.raw(websocket.TextMessage, []byte(frame))
	}
	if how.hello {
		c.send(obj{"op": opHello, "d": obj{"heartbeat_interval": p.drawer.interval().Milliseconds(), "_trace": []string{"stranger"}}, "s": nil, "t": nil})
	}
	if how.code != 0 {
		c.close(how.code)
		return
	}
	c.odd = !how.hello
	c.beat.Store(time.Now().UnixMilli())
	go p.watch(c)
	p.listen(c, gen)
}

// watch closes a connection whose heartbeats stay away ("If your app fails to
// send a heartbeat event in time, your connection will be closed"
// (events/gateway.mdx [P]); how long that takes is not said). A link that is
// to look dead is not closed, either.
func (p *Platform) watch(c *connection) {
	for t := time.NewTicker(time.Second); ; {
		select {
		case <-c.done:
			t.Stop()
			return
		case <-p.stop:
			t.Stop()
			return
		case <-t.C:
		}
		if !c.deaf.Load() && time.Since(time.UnixMilli(c.beat.Load())) > 3*p.drawer.Beat+4*time.Second {
			p.record.addf("gateway", "no heartbeat: closing")
			c.close(4000)
			return
		}
	}
}

// listen takes what the bot sends until the connection ends.
func (p *Platform) listen(c *connection, gen int) {
	var l *link
	sent, since := 0, time.Now()
	for {
		kind, b, err := c.ws.ReadMessage()
		if err != nil {
			p.record.addf("gateway", "connection %sended: %v", by(c.pid), err)
			p.mu.Lock()
			if l != nil && l.conn == c {
				l.conn, l.left = nil, time.Now()
				if websocket.IsCloseError(err, 1000, 1001) {
					l.invalid = true // (events/gateway.mdx, "Initiating a Disconnect" [P])
				}
			}
			p.mu.Unlock()
			return
		}
		if c.deaf.Load() {
			continue
		}
		if time.Since(since) > time.Minute {
			sent, since = 0, time.Now()
		}
		if sent++; sent > 120 {
			p.judge.break_("gateway limit", "more than 120 events a minute to the gateway")
			c.close(4008)
			return
		}
		var m obj
		if kind != websocket.TextMessage || json.Unmarshal(b, &m) != nil {
			c.close(4002)
			return
		}
		switch op := num(m, "op"); op {
		case opHeartbeat:
			c.beat.Store(time.Now().UnixMilli())
			if !c.silent.Load() {
				c.send(obj{"op": opACK})
			}
		case opIdentify:
			if l != nil {
				c.close(4005)
				return
			}
			var code int
			if l, code = p.identify(c, m, gen); code != 0 {
				p.record.addf("gateway", "identify closed with %d", code)
				if fatal[code] {
					p.forbid(gen, code)
				}
				c.close(code)
				return
			}
		case opResume:
			l = p.resume(c, m, gen)
		case 3, 4, 8, 31, 43:
			if l == nil {
				c.close(4003)
				return
			}
		default:
			p.judge.break_("request not valid", "the gateway was sent opcode %d", op)
			c.close(4001)
			return
		}
	}
}

// forbid notes that this process may not connect again.
func (p *Platform) forbid(gen, code int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.gate.stopped == nil {
		p.gate.stopped = map[int]int{}
	}
	p.gate.stopped[gen] = code
}

func (p *Platform) identify(c *connection, m obj, gen int) (*link, int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	d := dig(m, "d")
	now := time.Now()
	if now.Before(p.gate.notBefore) {
		p.judge.break_("identify limit", "identified %v before the session start limit resets", time.Until(p.gate.notBefore).Round(time.Millisecond))
	}
	shard := list(d, "shard")
	i, n := 0, 1
	if len(shard) == 2 {
		i, n = num(obj{"n": shard[0]}, "n"), num(obj{"n": shard[1]}, "n")
	}
	tooSoon := p.startsTooSoon(c, i, now)
	intents := num(d, "intents")
	p.record.addf("gateway", "IDENTIFY %sintents=%d shard=%v tooSoon=%v", by(c.pid), intents, d["shard"], tooSoon)
	if str(d, "token") != p.Token && str(d, "token") != "Bot "+p.Token {
		return nil, 4004
	}
	if _, given := d["intents"]; !given || intents&^knownIntents != 0 {
		return nil, 4013
	}
	if intents&privileged != 0 {
		return nil, 4014
	}
	if dig(d, "properties") == nil {
		return nil, 4002
	}
	if n != p.world.Shards || i < 0 || i >= n {
		return nil, 4010
	}
	if tooSoon || p.drawer.refuseIdentify() {
		c.send(obj{"op": opInvalid, "d": false, "s": nil, "t": nil})
		p.record.addf("gateway", "INVALID SESSION false")
		return nil, 0
	}
	l := &link{id: randomWord(32), gen: gen, intents: intents, conn: c, shard: i}
	p.succeed(l, c)
	p.gate.sessions[l.id], p.gate.last[i] = l, l
	guilds := []obj{}
	for _, s := range p.servers {
		if p.shardOf(s) == i {
			guilds = append(guilds, obj{"id": s.Guild, "unavailable": true})
		}
	}
	c.started = true
	ready := obj{
		"v": 10, "user": p.Bot.user(), "guilds": guilds, "session_id": l.id,
		"resume_gateway_url": p.gatewayURL + "/resume", "application": obj{"id": p.App, "flags": 0},
		"session_type": "normal", "private_channels": []obj{}, "presences": []obj{}, "relationships": []obj{}, "_trace": []string{"stranger"},
	}
	if len(shard) == 2 {
		ready["shard"] = shard
	}
	ready["user"].(obj)["bot"] = true
	p.deliver(l, "READY", ready, nil)
	if intents&intentGuilds != 0 {
		for _, s := range p.servers {
			if p.shardOf(s) == i {
				p.deliver(l, "GUILD_CREATE", p.guildCreate(s), nil)
			}
		}
	}
	return l, 0
}

func (p *Platform) resume(c *connection, m obj, gen int) *link {
	p.mu.Lock()
	defer p.mu.Unlock()
	d := dig(m, "d")
	l := p.gate.sessions[str(d, "session_id")]
	seq := num(d, "seq")
	p.record.addf("gateway", "RESUME %sseq=%d at %s known=%v", by(c.pid), seq, c.path, l != nil)
	if str(d, "token") != p.Token && str(d, "token") != "Bot "+p.Token {
		p.mu.Unlock()
		p.forbid(gen, 4004)
		p.mu.Lock()
		c.close(4004)
		return nil
	}
	trouble := p.drawer.resume()
	if l == nil || l.invalid || trouble == "invalid" || l.conn == nil && !l.left.IsZero() && time.Since(l.left) > keepEvents {
		if l != nil {
			l.invalid = true
		}
		c.send(obj{"op": opInvalid, "d": false, "s": nil, "t": nil})
		p.record.addf("gateway", "INVALID SESSION false")
		return nil
	}
	if seq > l.seq {
		l.invalid = true
		p.judge.break_("request not valid", "resumed at %d, behind the last event %d", seq, l.seq)
		c.close(4007)
		return nil
	}
	if trouble == "reconnect" {
		c.send(obj{"op": opReconnect, "d": nil, "s": nil, "t": nil})
		p.record.addf("gateway", "RECONNECT right behind RESUME")
		return nil
	}
	if trouble == "invalid, resumable" {
		c.send(obj{"op": opInvalid, "d": true, "s": nil, "t": nil})
		p.record.addf("gateway", "INVALID SESSION true")
		return nil
	}
	p.succeed(l, c)
	l.conn = c
	p.gate.last[l.shard] = l
	c.started = true
	for _, e := range l.history {
		if e.seq > seq {
			c.send(obj{"op": opDispatch, "t": e.name, "s": e.seq, "d": e.data})
			if e.ask != nil {
				e.ask.delivered = true
				e.ask.taken = append(e.ask.taken, taking{c.pid, time.Now()})
				p.record.addf("gateway", "ask %d delivered again, %d", e.ask.N, e.seq)
			}
		}
	}
	p.deliver(l, "RESUMED", obj{"_trace": []string{"stranger"}}, nil)
	return l
}

// dispatch sends an event of a channel to every session of its shard that is up,
// and keeps it for the newest one if that is between two connections. An event
// without an intent goes to all of them. Without a session it is lost, as on the
// platform.
func (p *Platform) dispatch(name string, data obj, intent int, ch *Channel, a *Ask) {
	sent := false
	shard := p.shardOf(ch.in)
	for _, l := range p.gate.sessions {
		if l.shard != shard || l.invalid || intent != 0 && l.intents&intent == 0 || l.conn == nil && l != p.gate.last[shard] {
			continue
		}
		p.deliver(l, name, data, a)
		sent = true
	}
	if !sent && a != nil {
		p.record.addf("gateway", "ask %d goes to nobody", a.N)
	}
}

// deliver is dispatch to one session, with what the drawer adds.
func (p *Platform) deliver(l *link, name string, data obj, a *Ask) {
	l.seq++
	e := dispatched{l.seq, name, clone(data), a}
	l.history = append(l.history, e)
	c := l.conn
	if c == nil {
		if a != nil {
			p.record.addf("gateway", "ask %d waits for RESUME", a.N)
		}
		return
	}
	frame := obj{"op": opDispatch, "t": name, "s": e.seq, "d": e.data}
	before, times, after, hold := p.drawer.event(name)
	if a != nil && !c.deaf.Load() {
		a.delivered = true
		a.taken = append(a.taken, taking{c.pid, time.Now()})
	}
	send := func() {
		for _, f := range before {
			p.record.addf("gateway", "odd frame %.120s", f)
			c.raw(websocket.TextMessage, []byte(f))
		}
		for range times {
			c.send(frame)
		}
		for _, f := range after {
			p.record.addf("gateway", "odd frame %.120s", f)
			c.raw(websocket.TextMessage, []byte(f))
		}
	}
	if times != 1 || hold > 0 {
		p.record.addf("gateway", "%s %d sent %d times, held %v", name, e.seq, times, hold)
	}
	if hold > 0 { // others overtake it
		time.AfterFunc(hold, send)
		return
	}
	send()
}

// announce tells the gateway of a message.
func (p *Platform) announce(m *Message) {
	o := p.asSeenByBot(m)
	delete(o, "interaction_metadata")
	intent := intentGuildMessages
	if m.Channel.Type == directMessage {
		intent = intentDirectMessages
		o["channel_type"] = 1
	} else {
		o["guild_id"] = m.Channel.in.Guild
		member := m.Author.member(false)
		o["member"] = member
	}
	p.dispatch("MESSAGE_CREATE", o, intent, m.Channel, m.Ask)
}

// Ready says whether the process there is has a session that is up.
func (p *Platform) Ready() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, l := range p.gate.sessions {
		if l.gen == p.gate.gen && l.conn != nil && !l.conn.deaf.Load() && !l.invalid {
			return true
		}
	}
	return false
}

// started notes that a new process begins: closes of an old one bind it no
// more.
func (p *Platform) started() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.gate.gen++
	p.record.addf("process", "generation %d", p.gate.gen)
}

// shake does something to the connection there is.
func (p *Platform) shake(how string) {
	p.mu.Lock()
	l := p.gate.last[0]
	var c *connection
	if l != nil {
		c = l.conn
	}
	gen := p.gate.gen
	p.mu.Unlock()
	if c == nil {
		return
	}
	if c.odd && (how == "dead" || how == "no acknowledgements") {
		how = "cut" // without heartbeats nobody can notice
	}
	p.record.addf("gateway", "trouble: %s", how)
	var code int
	switch {
	case how == "reconnect":
		c.send(obj{"op": opReconnect, "d": nil, "s": nil, "t": nil})
		time.AfterFunc(3*time.Second, func() { c.close(4000) }) // "A few seconds after ... the connection may be closed"
	case how == "invalid":
		p.mu.Lock()
		l.invalid = true
		p.mu.Unlock()
		c.send(obj{"op": opInvalid, "d": false, "s": nil, "t": nil})
	case how == "invalid, resumable":
		c.send(obj{"op": opInvalid, "d": true, "s": nil, "t": nil})
		p.mu.Lock()
		l.conn = nil
		p.mu.Unlock()
	case how == "no acknowledgements":
		c.silent.Store(true)
	case how == "dead":
		c.deaf.Store(true)
	case how == "cut":
		c.close(0)
	case how == "beat":
		c.send(obj{"op": opHeartbeat, "d": nil, "s": nil, "t": nil})
	case strings.HasPrefix(how, "close "):
		fmt.Sscanf(how, "close %d", &code)
		p.mu.Lock()
		if code == 4007 || code == 4009 || code == 1000 || code == 1001 || fatal[code] {
			l.invalid = true
		}
		l.conn = nil
		p.mu.Unlock()
		if fatal[code] {
			p.forbid(gen, code)
		}
		c.close(code)
	case strings.HasPrefix(how, "frame "):
		c.raw(websocket.TextMessage, []byte(strings.TrimPrefix(how, "frame ")))
	case how == "binary":
		c.raw(websocket.BinaryMessage, []byte{0x78, 0x9c, 0, 1, 2, 3})
	}
}

// connections are how many there have been.
func (p *Platform) connections() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.gate.opened
}
