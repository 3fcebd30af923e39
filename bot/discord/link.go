package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"sync"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"
)

// What the bot listens to: messages of servers and direct ones, for files
// posted with a mention or directly. Both are free to ask for. Commands,
// buttons and forms need no intent, and neither does the text of a message
// that mentions the bot.
const intents = discordgo.IntentGuildMessages | discordgo.IntentDirectMessages

func init() {
	discordgo.APIVersion = "10"
	// Its own log holds tokens and whole events.
	discordgo.Logger = func(int, int, string, ...any) {}
}

// link is one gateway session of discordgo: opened, lost, opened again to
// resume, and given up when it cannot be resumed.
type link struct {
	dg        *discordgo.Session
	down      chan struct{} // something ended the connection
	confirmed chan struct{} // READY or RESUMED came
	event     func(name string, data json.RawMessage, settle func())
	dropped   func(why string)
	ledger    *ledger // nil for none; a session that is in it is resumed

	mu      sync.Mutex
	conn    net.Conn
	beat    time.Duration // how often the gateway wants a heartbeat
	heard   time.Time     // last sign of life
	known   bool          // the gateway gave us a session once
	greeted bool          // it said hello on this connection, and so heard from us
	code    int           // close code, 0 if none came
	invalid bool          // the gateway does not know the session any more
	over    bool          // close was called; a dial that ends later is in vain
}

// newLink prepares a session on the gateway at address, as one of count shards: the
// one that is in the ledger, or a new one.
func newLink(token, address string, shard, count int, n network, event func(string, json.RawMessage, func()), dropped func(string), led *ledger) (*link, error) {
	dg, err := discordgo.New("Bot " + token)
	if err != nil {
		return nil, err
	}
	l := &link{dg: dg, down: make(chan struct{}, 1), confirmed: make(chan struct{}, 1), event: event, dropped: dropped, ledger: led}
	session, _ := led.resumes()
	l.known = session != ""
	dg.Identify.Intents = intents
	dg.Identify.Compress, dg.Compress = false, false
	dg.ShardID, dg.ShardCount = shard, count
	dg.StateEnabled = false
	dg.SyncEvents = true // our handlers only put things in queues
	dg.ShouldReconnectOnError = false
	dg.ShouldRetryOnRateLimit = false
	dg.Client = &http.Client{Transport: gatewayAddress(address)}
	dg.Dialer = &websocket.Dialer{
		HandshakeTimeout: 10 * time.Second,
		NetDialContext: func(ctx context.Context, _, address string) (net.Conn, error) {
			c, err := n.dial(ctx, "tcp", address)
			if err != nil {
				return nil, err
			}
			return l.watch(c), nil
		},
		NetDialTLSContext: func(ctx context.Context, _, address string) (net.Conn, error) {
			c, err := n.secure(ctx, address)
			if err != nil {
				return nil, err
			}
			return l.watch(c), nil
		},
	}
	dg.AddHandler(func(_ *discordgo.Session, e *discordgo.Event) {
		if e.Type == "READY" || e.Type == "RESUMED" {
			l.mu.Lock()
			l.known = true
			l.mu.Unlock()
			select {
			case l.confirmed <- struct{}{}:
			default:
			}
		}
	})
	dg.AddHandler(func(*discordgo.Session, *discordgo.Disconnect) { l.fall() })
	return l, nil
}

func (l *link) fall() {
	select {
	case l.down <- struct{}{}:
	default:
	}
}

// watch begins a new connection on c.
func (l *link) watch(c net.Conn) net.Conn {
	w := newWire(c, ears{heard: l.hear, event: l.event, dropped: l.dropped, ledger: l.ledger, closed: func(code int) {
		l.mu.Lock()
		l.code = code
		l.mu.Unlock()
	}})
	l.mu.Lock()
	defer l.mu.Unlock()
	l.conn, l.heard, l.greeted, l.code, l.invalid = w, time.Now(), false, 0, false
	if l.over {
		c.Close()
	}
	return w
}

func (l *link) hear(op int, data json.RawMessage) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.heard = time.Now()
	switch op {
	case opHello:
		l.greeted = true
		var d struct {
			Interval int64 `json:"heartbeat_interval"`
		}
		if json.Unmarshal(data, &d) == nil {
			l.beat = time.Duration(d.Interval) * time.Millisecond
		}
	case opInvalid:
		l.invalid = string(data) != "true"
	}
}

// open connects and identifies, or resumes what there was. It returns nil when
// the gateway has confirmed that. After an error the connection is to be
// killed.
func (l *link) open(ctx context.Context, within time.Duration) error {
	select {
	case <-l.down: // of the connection before
	default:
	}
	select {
	case <-l.confirmed:
	default:
	}
	opened := make(chan error, 1)
	go func() { opened <- l.dg.Open() }()
	late := time.After(within)
	for {
		// On a resume the events that were missed come before RESUMED, so Open
		// may return before it.
		select {
		case err := <-opened:
			if err != nil {
				return l.explain(err)
			}
			opened = nil
		case <-l.confirmed:
			if opened != nil {
				if err := <-opened; err != nil {
					return l.explain(err)
				}
			}
			return l.beating(ctx, late)
		case <-l.down:
			return l.explain(errors.New("the connection broke"))
		case <-late:
			return errors.New("the gateway does not answer")
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// beating waits for discordgo's first heartbeat. Were a connection lost before it, the
// heartbeat would find it closed and close it again, which by then is the next one.
func (l *link) beating(ctx context.Context, late <-chan time.Time) error {
	for {
		l.dg.RLock()
		beats := l.dg.DataReady // set when it was sent
		l.dg.RUnlock()
		if beats {
			return nil
		}
		select {
		case <-l.down: // it was open; whoever attends to it hears that it is not
			l.fall()
			return nil
		case <-late:
			return errors.New("the gateway does not answer")
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(time.Millisecond):
		}
	}
}

// stale reports whether the connection looks alive but is not: heartbeats
// went unanswered twice.
func (l *link) stale() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.beat > 0 && time.Since(l.heard) > 2*l.beat+min(l.beat, 5*time.Second)
}

// kill ends the connection without a word, which keeps the session for a
// resume. A close frame from discordgo would say 1000, which ends it.
func (l *link) kill() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.conn != nil {
		l.conn.Close()
	}
}

// hangUp ends the connection for good without a word, which keeps the session for
// another process.
func (l *link) hangUp() {
	l.mu.Lock()
	l.over = true
	l.mu.Unlock()
	l.kill()
}

// close says goodbye and ends the session.
func (l *link) close(within time.Duration) {
	l.mu.Lock()
	l.over = true
	l.mu.Unlock()
	done := make(chan struct{})
	go func() { l.dg.Close(); close(done) }()
	select {
	case <-done:
	case <-time.After(within):
	}
	l.kill()
}

// worthKeeping reports whether opening again makes sense: to resume the
// session, or because nothing was spent yet on getting one.
func (l *link) worthKeeping() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.known {
		return !l.greeted
	}
	return !l.invalid && l.code != 4007 && l.code != 4009
}

// final is the reason why connecting again makes no sense, nil if it does.
func (l *link) final() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return finalError(l.code)
}

func finalError(code int) error {
	switch code {
	case 4004:
		return errBadToken
	case 4010, 4011:
		return fmt.Errorf("the gateway refuses the shards (%d): start with more, or let the platform choose", code)
	case 4012:
		return fmt.Errorf("the gateway no longer speaks version 10 (%d): a newer Rangepost is needed", code)
	case 4013, 4014:
		return fmt.Errorf("the gateway refuses the intents (%d): the application may not read messages of servers and direct ones", code)
	}
	return nil
}

// explain adds to err what the gateway itself said.
func (l *link) explain(err error) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case l.code != 0:
		return fmt.Errorf("the gateway closed the connection with code %d", l.code)
	case l.invalid:
		return errors.New("the gateway does not know the session any more")
	}
	return err
}

// gatewayAddress answers discordgo's one question of the REST interface, where
// the gateway is, with what we know already.
type gatewayAddress string

func (g gatewayAddress) RoundTrip(r *http.Request) (*http.Response, error) {
	w := jsonBody(map[string]string{"url": string(g)})
	return &http.Response{
		Status: "200 OK", StatusCode: http.StatusOK, Proto: "HTTP/1.1", ProtoMajor: 1, ProtoMinor: 1,
		Header: http.Header{"Content-Type": {w.contentType}}, Body: io.NopCloser(bytes.NewReader(w.bytes)), Request: r,
	}, nil
}
