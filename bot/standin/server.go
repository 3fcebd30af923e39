package standin

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// Config is what a stand-in is started with. Zero values are the platform's
// own: three seconds to acknowledge, a heartbeat every 41.25 s.
type Config struct {
	Token     string           // the bot's token; invented if empty
	Name      string           // the bot's name; "Rangepost" if empty
	Now       func() time.Time // what messages are dated by; nil means time.Now
	AckWithin time.Duration    // how long an interaction waits for its first answer
	TokenLife time.Duration    // how long an interaction's token lives
	Heartbeat time.Duration    // what the gateway asks for
	Shards    int              // what the gateway recommends; 1 if 0
	Gate      int              // max_concurrency of identifies; 1 if 0
	CodeGrant bool             // the application asks for a code, so that no link alone brings the bot
	Lean      bool             // keep neither requests nor transcript: for a world that is played in for hours
	Unlimited bool             // apply no rate limits: for a world where days pass in a second

	skew time.Duration
}

// A Stand is a running stand-in.
type Stand struct {
	cfg Config

	mu      sync.Mutex
	changed chan struct{} // closed and replaced at every change; see wait
	done    chan struct{}
	lastID  uint64

	app          string // the application's id
	botUser      *User
	servers      []*Server
	channels     map[string]*Channel
	users        map[string]*User
	messages     map[string]*message
	files        map[string]*upload
	interactions map[string]*interaction // by id
	commands     []command
	transcript   []Entry

	rules    []*Rule
	buckets  map[string]*bucket
	requests []Request
	hooks    []func(method, path, contentType string, body []byte)
	gateway  gateway

	api, cdn         *http.Server
	apiAddr, cdnAddr string
}

// Start serves on two free loopback ports, one for the interface and the
// gateway, one for files.
func Start(c Config) (*Stand, error) {
	c.Name = or(c.Name, "Rangepost")
	c.AckWithin = or(c.AckWithin, 3*time.Second)
	c.TokenLife = or(c.TokenLife, 15*time.Minute)
	c.Heartbeat = or(c.Heartbeat, 41250*time.Millisecond)
	c.Shards = or(c.Shards, 1)
	c.Gate = or(c.Gate, 1)
	if c.Now == nil {
		c.Now = time.Now
	}
	s := &Stand{
		cfg:          c,
		changed:      make(chan struct{}),
		done:         make(chan struct{}),
		channels:     map[string]*Channel{},
		users:        map[string]*User{},
		messages:     map[string]*message{},
		files:        map[string]*upload{},
		interactions: map[string]*interaction{},
		buckets:      map[string]*bucket{},
	}
	s.gateway.sessions = map[string]*session{}
	s.gateway.remaining = 1000
	s.botUser = &User{ID: s.newID(), Name: c.Name, bot: true, stand: s}
	s.app = s.newID() // of old applications it is not the bot's own id
	s.users[s.botUser.ID] = s.botUser
	// Client libraries read the application's id out of a token's first part.
	s.cfg.Token = or(c.Token, base64.RawURLEncoding.EncodeToString([]byte(s.app))+"."+secret(3)+"."+secret(12))

	var err error
	if s.api, s.apiAddr, err = serve(s.apiHandler()); err != nil {
		return nil, err
	}
	if s.cdn, s.cdnAddr, err = serve(s.cdnHandler()); err != nil {
		s.api.Close()
		return nil, err
	}
	return s, nil
}

func serve(h http.Handler) (*http.Server, string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, "", fmt.Errorf("standin: listen on loopback: %w", err)
	}
	srv := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second}
	go srv.Serve(l)
	return srv, l.Addr().String(), nil
}

// Close stops serving and cuts every connection.
func (s *Stand) Close() error {
	s.mu.Lock()
	select {
	case <-s.done:
		s.mu.Unlock()
		return nil
	default:
		close(s.done)
	}
	s.mu.Unlock()
	s.Cut()
	return errors.Join(s.api.Close(), s.cdn.Close())
}

// URL is the platform's address, for RANGEPOST_PLATFORM_URL.
func (s *Stand) URL() string { return "http://" + s.apiAddr }

// CDNHost is the host and port that serve files, for RANGEPOST_CDN_HOSTS.
func (s *Stand) CDNHost() string { return s.cdnAddr }

// Token is the bot's token.
func (s *Stand) Token() string { return s.cfg.Token }

// Bot is the bot's own user.
func (s *Stand) Bot() *User { return s.botUser }

// newID makes a snowflake: milliseconds since 2015 and a counter, always
// growing. The caller holds s.mu or is Start.
func (s *Stand) newID() string {
	const epoch = 1420070400000 // 2015-01-01 UTC in milliseconds
	id := uint64(s.cfg.Now().UnixMilli()-epoch) << 22
	if id <= s.lastID {
		id = s.lastID + 1
	}
	s.lastID = id
	return strconv.FormatUint(id, 10)
}

// touch wakes everybody who waits for the world to change. The caller holds
// s.mu.
func (s *Stand) touch() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// Changed is closed at the next change of anything somebody could see.
func (s *Stand) Changed() <-chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.changed
}

// wait blocks until cond, called with s.mu held, is true.
func (s *Stand) wait(ctx context.Context, cond func() bool) error {
	for {
		s.mu.Lock()
		ok, changed := cond(), s.changed
		s.mu.Unlock()
		if ok {
			return nil
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return ctx.Err()
		case <-s.done:
			return errors.New("standin: closed")
		}
	}
}

// A Request is one the bot made.
type Request struct {
	At          time.Time
	Method      string
	Path        string
	ContentType string
	Body        []byte
}

// Requests are all requests made so far to the REST interface.
func (s *Stand) Requests() []Request {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Request(nil), s.requests...)
}

// OnRequest calls f with every request to the REST interface, before it is
// answered. Calls may be concurrent.
func (s *Stand) OnRequest(f func(method, path, contentType string, body []byte)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hooks = append(s.hooks, f)
}

func or[T comparable](v, otherwise T) T {
	var zero T
	if v == zero {
		return otherwise
	}
	return v
}

func secret(n int) string {
	b := make([]byte, n)
	rand.Read(b)
	return hex.EncodeToString(b)
}
