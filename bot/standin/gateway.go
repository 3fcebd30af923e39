package standin

import (
	"encoding/json"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// Gateway operations.
const (
	opDispatch  = 0
	opHeartbeat = 1
	opIdentify  = 2
	opPresence  = 3
	opVoice     = 4
	opResume    = 6
	opReconnect = 7
	opMembers   = 8
	opInvalid   = 9
	opHello     = 10
	opAck       = 11
)

// Intents the stand-in looks at. The privileged ones are not granted to it.
const (
	intentServerMessages = 1 << 9
	intentDirectMessages = 1 << 12
	intentMessageContent = 1 << 15
	intentPrivileged     = 1<<1 | 1<<8 | 1<<15
	intentAll            = 1<<26 - 1
)

// gateway is everything about connections; Stand.mu guards it.
type gateway struct {
	sessions  map[string]*session
	remaining int // identifies left today
	identify  map[int]time.Time
	faults    gatewayFaults
	held      []event
	holding   bool
}

// session is what a client resumes. It outlives its connections.
type session struct {
	id      string
	intents int
	shard   [2]int
	seq     int64
	sent    []envelope // kept to be replayed on a resume
	link    *link      // nil while disconnected
}

// link is one websocket connection.
type link struct {
	conn *websocket.Conn
	out  chan any
	gone chan struct{}
	once sync.Once
	beat time.Time
}

type envelope struct {
	Op   int    `json:"op"`
	Data any    `json:"d"`
	Seq  *int64 `json:"s"`
	Type string `json:"t,omitempty"`
}

type event struct {
	server, name string
	data         any
}

var upgrader = websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}

func (s *Stand) serveGateway(w http.ResponseWriter, r *http.Request) {
	if v := r.URL.Query().Get("v"); v != "10" {
		http.Error(w, "gateway version "+strconv.Quote(v)+" is not 10", http.StatusBadRequest)
		return
	}
	if s.rule(r).apply(w, r) {
		return
	}
	conn, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		return
	}
	l := &link{conn: conn, out: make(chan any, 1024), gone: make(chan struct{}), beat: time.Now()}
	go l.write()
	s.mu.Lock()
	hello := s.gateway.faults.hello
	s.mu.Unlock()
	if hello != "" {
		l.send(verbatim(hello))
	} else {
		l.send(envelope{Op: opHello, Data: map[string]any{"heartbeat_interval": s.cfg.Heartbeat.Milliseconds()}})
	}
	ses := s.converse(l)
	l.cut()
	s.mu.Lock()
	if ses != nil && ses.link == l {
		ses.link = nil
		s.touch()
	}
	s.mu.Unlock()
}

func (l *link) write() {
	for {
		select {
		case v := <-l.out:
			if f, ok := v.(closing); ok {
				l.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(int(f), ""), time.Now().Add(time.Second))
				time.AfterFunc(time.Second, l.cut)
				return
			}
			if f, ok := v.(verbatim); ok {
				if l.conn.WriteMessage(websocket.TextMessage, []byte(f)) != nil {
					l.cut()
					return
				}
				continue
			}
			if l.conn.WriteJSON(v) != nil {
				l.cut()
				return
			}
		case <-l.gone:
			return
		}
	}
}

// verbatim is a text frame that need be no envelope.
type verbatim string

type closing int

func (l *link) send(v any) {
	select {
	case l.out <- v:
	case <-l.gone:
	default: // a client that does not read for 1,024 events is cut off
		l.cut()
	}
}

func (l *link) cut() { l.once.Do(func() { close(l.gone); l.conn.UnderlyingConn().Close() }) }

// converse reads from l until it ends, and returns its session.
func (s *Stand) converse(l *link) *session {
	var ses *session
	reads := 0
	window := time.Now()
	for {
		l.conn.SetReadDeadline(time.Now().Add(s.cfg.Heartbeat*2 + 5*time.Second))
		_, raw, err := l.conn.ReadMessage()
		if err != nil {
			if websocket.IsCloseError(err, 1000, 1001) && ses != nil {
				s.mu.Lock()
				delete(s.gateway.sessions, ses.id)
				s.mu.Unlock()
			}
			return ses
		}
		if time.Since(window) > time.Minute {
			reads, window = 0, time.Now()
		}
		var p struct {
			Op   int             `json:"op"`
			Data json.RawMessage `json:"d"`
		}
		reads++
		switch {
		case reads > 120:
			l.send(closing(4008))
			continue
		case len(raw) > 4096 || json.Unmarshal(raw, &p) != nil:
			l.send(closing(4002))
			continue
		}
		s.mu.Lock()
		switch p.Op {
		case opHeartbeat:
			l.beat = time.Now()
			if !s.gateway.faults.deaf {
				l.send(envelope{Op: opAck})
			}
		case opIdentify:
			if ses != nil {
				l.send(closing(4005))
			} else {
				ses = s.identified(l, p.Data)
			}
		case opResume:
			if got := s.resumed(l, p.Data); got != nil {
				ses = got
			}
		case opPresence, opVoice, opMembers:
			if ses == nil {
				l.send(closing(4003))
			}
		default:
			l.send(closing(4001))
		}
		s.mu.Unlock()
	}
}

func (s *Stand) identified(l *link, raw json.RawMessage) *session {
	var d struct {
		Token      string          `json:"token"`
		Intents    *int            `json:"intents"`
		Properties json.RawMessage `json:"properties"`
		Shard      *[2]int         `json:"shard"`
	}
	g := &s.gateway
	code := 0
	switch {
	case json.Unmarshal(raw, &d) != nil || d.Properties == nil:
		code = 4002
	case g.faults.refuse != 0:
		code = g.faults.refuse
	case d.Token != s.cfg.Token && d.Token != "Bot "+s.cfg.Token:
		code = 4004
	case d.Shard != nil && (d.Shard[1] < 1 || d.Shard[0] < 0 || d.Shard[0] >= d.Shard[1]):
		code = 4010
	case d.Intents == nil || *d.Intents < 0 || *d.Intents > intentAll:
		code = 4013
	case *d.Intents&intentPrivileged != 0:
		code = 4014
	}
	if code != 0 {
		l.send(closing(code))
		return nil
	}
	shard := [2]int{0, 1}
	if d.Shard != nil {
		shard = *d.Shard
	}
	if g.identify == nil {
		g.identify = map[int]time.Time{}
	}
	key := shard[0] % s.cfg.Gate
	if !g.faults.hasty && time.Since(g.identify[key]) < 4*time.Second || g.remaining <= 0 {
		l.send(envelope{Op: opInvalid, Data: false})
		return nil
	}
	g.identify[key] = time.Now()
	g.remaining--
	ses := &session{id: secret(16), intents: *d.Intents, shard: shard, link: l}
	g.sessions[ses.id] = ses
	servers := []any{}
	for _, srv := range s.servers {
		if ours(srv.ID, shard) {
			servers = append(servers, map[string]any{"id": srv.ID, "unavailable": true})
		}
	}
	s.dispatch(ses, "READY", map[string]any{
		"v": 10, "user": s.botUser.json(), "guilds": servers, "session_id": ses.id, "shard": shard,
		"resume_gateway_url": "ws://" + s.apiAddr + "/gateway",
		"application":        map[string]any{"id": s.app, "flags": 0},
	})
	if ses.intents&1 != 0 {
		for _, srv := range s.servers {
			if ours(srv.ID, shard) {
				s.dispatch(ses, "GUILD_CREATE", s.serverJSON(srv))
			}
		}
	}
	s.touch()
	return ses
}

func (s *Stand) resumed(l *link, raw json.RawMessage) *session {
	var d struct {
		Token   string `json:"token"`
		Session string `json:"session_id"`
		Seq     int64  `json:"seq"`
	}
	g := &s.gateway
	if json.Unmarshal(raw, &d) != nil {
		l.send(closing(4002))
		return nil
	}
	if g.faults.refuse != 0 {
		l.send(closing(g.faults.refuse))
		return nil
	}
	if g.faults.turnAway > 0 {
		g.faults.turnAway--
		l.send(envelope{Op: opReconnect})
		return nil
	}
	ses := g.sessions[d.Session]
	switch {
	case d.Token != s.cfg.Token && d.Token != "Bot "+s.cfg.Token:
		l.send(closing(4004))
		return nil
	case ses == nil || g.faults.forget > 0:
		g.faults.forget = max(0, g.faults.forget-1)
		delete(g.sessions, d.Session)
		l.send(envelope{Op: opInvalid, Data: false})
		return nil
	case d.Seq > ses.seq:
		l.send(closing(4007))
		return nil
	}
	if ses.link != nil {
		ses.link.cut()
	}
	ses.link = l
	for _, e := range ses.sent {
		if *e.Seq > d.Seq {
			l.send(e)
		}
	}
	s.dispatch(ses, "RESUMED", map[string]any{})
	s.touch()
	return ses
}

// dispatch sends an event to ses, or keeps it for its resume.
func (s *Stand) dispatch(ses *session, name string, data any) {
	ses.seq++
	seq := ses.seq
	e := envelope{Op: opDispatch, Data: data, Seq: &seq, Type: name}
	ses.sent = append(ses.sent, e)
	if len(ses.sent) > 1000 {
		ses.sent = ses.sent[len(ses.sent)-1000:]
	}
	if ses.link != nil {
		ses.link.send(e)
	}
}

// announce sends an event to the session that serves the server, and reports
// whether any does.
func (s *Stand) announce(server, name string, data any) bool {
	g := &s.gateway
	if g.holding && name != "GUILD_CREATE" {
		g.held = append(g.held, event{server, name, data})
		return true
	}
	served := false
	g.each(server, func(ses *session) {
		if name == "GUILD_CREATE" && ses.intents&1 == 0 {
			return
		}
		served = true
		for range 1 + g.faults.repeat {
			s.dispatch(ses, name, data)
		}
	})
	return served
}

func (g *gateway) each(server string, f func(*session)) {
	for _, ses := range g.sessions {
		if ours(server, ses.shard) {
			f(ses)
		}
	}
}

// ours reports whether a server belongs to a shard: (id >> 22) mod shards, and
// direct messages to shard 0.
func ours(server string, shard [2]int) bool {
	if server == "" {
		return shard[0] == 0
	}
	id, _ := strconv.ParseUint(server, 10, 64)
	return int(id>>22%uint64(shard[1])) == shard[0]
}
