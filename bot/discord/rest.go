package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"
)

// userAgent is what the platform asks of every client.
const userAgent = "DiscordBot (rangepost, 1)"

// client speaks the platform's REST interface. It is safe for concurrent use.
type client struct {
	base  string // ".../api/v10"
	token string

	limits *limits

	quick *http.Client // acknowledgements: little patience with each attempt
	slow  *http.Client // everything else
}

func newClient(platform, token string, l *limits, n network) *client {
	t := &http.Transport{
		DialContext:         n.dial,
		Proxy:               n.proxy,
		MaxIdleConnsPerHost: 32,
		IdleConnTimeout:     90 * time.Second,
		TLSHandshakeTimeout: 10 * time.Second,
		ForceAttemptHTTP2:   true,
	}
	with := func(patience time.Duration) *http.Client {
		return &http.Client{
			Transport:     &careful{next: t, limits: l, patience: patience},
			CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		}
	}
	return &client{
		base:  strings.TrimSuffix(platform, "/") + "/api/v10",
		token: token, limits: l,
		quick: with(1200 * time.Millisecond),
		slow:  with(30 * time.Second),
	}
}

// call is one request. The path is made of the route and the arguments, so
// that errors can name the route and keep the arguments, which hold tokens and
// ids, to themselves.
type call struct {
	method, route string
	args          []string
	body          *body // nil for none
	into          any   // where the answer goes, nil if it is not needed
	quick         bool
	manner        manner
	header        *http.Header // filled with the answer's
}

// body is a request body that can be sent more than once.
type body struct {
	contentType string
	bytes       []byte
}

// do carries out c.
func (cl *client) do(ctx context.Context, c call) error {
	path := c.route
	for _, a := range c.args {
		i := strings.Index(path, "{")
		j := strings.Index(path, "}")
		path = path[:i] + url.PathEscape(a) + path[j+1:]
	}
	var rd io.Reader
	if c.body != nil {
		rd = bytes.NewReader(c.body.bytes)
	}
	req, err := http.NewRequestWithContext(context.WithValue(ctx, mannerKey{}, c.manner), c.method, cl.base+path, rd)
	if err != nil {
		return fmt.Errorf("%s %s: cannot be made into a request", c.method, c.route)
	}
	req.Header.Set("User-Agent", userAgent)
	if c.body != nil {
		req.Header.Set("Content-Type", c.body.contentType)
	}
	if !strings.Contains(c.route, "{token}") {
		req.Header.Set("Authorization", "Bot "+cl.token)
	}
	hc := cl.slow
	if c.quick {
		hc = cl.quick
	}
	resp, err := hc.Do(req)
	if err != nil {
		// The address in a url.Error may hold an interaction's token.
		var ue *url.Error
		if errors.As(err, &ue) {
			err = ue.Err
		}
		return fmt.Errorf("%s %s: %w", c.method, c.route, err)
	}
	defer resp.Body.Close()
	if c.header != nil {
		*c.header = resp.Header
	}
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		return fmt.Errorf("%s %s: read the answer: %w", c.method, c.route, err)
	}
	if resp.StatusCode < 200 || resp.StatusCode > 299 {
		e := &apiError{Method: c.method, Route: c.route, Status: resp.StatusCode}
		if _, e.own = ownRefusal(b); e.own {
			json.Unmarshal(b, e)
		}
		return e
	}
	if c.into == nil {
		return nil
	}
	if err := json.Unmarshal(b, c.into); err != nil {
		return fmt.Errorf("%s %s: %w: %w", c.method, c.route, errGarbled, err)
	}
	if asked, ok := c.into.(interface{ told() bool }); ok && !asked.told() {
		return fmt.Errorf("%s %s: %w: what was asked is not in it", c.method, c.route, errGarbled)
	}
	return nil
}

// identified is an answer that is asked for its id alone.
type identified struct {
	ID string `json:"id"`
}

func (i *identified) told() bool { return i.ID != "" }

// errGarbled is an answer of success that cannot be read.
var errGarbled = errors.New("the answer is garbled")

// application is the id of the bot's application.
func (cl *client) application(ctx context.Context) (string, error) {
	var app identified
	err := cl.do(ctx, call{method: "GET", route: "/applications/@me", into: &app, manner: manner{trusting: true}})
	return app.ID, err
}

// apiError is the platform's refusal.
type apiError struct {
	Method  string `json:"-"`
	Route   string `json:"-"`
	Status  int    `json:"-"`
	Code    int    `json:"code"`
	Message string `json:"message"`
	own     bool   // the platform's own word, and not of something before it
}

func (e *apiError) Error() string {
	return fmt.Sprintf("%s %s: status %d, code %d: %s", e.Method, e.Route, e.Status, e.Code, e.Message)
}

// Codes of the platform that decide what happens next.
const (
	codeUnknownChannel     = 10003
	codeUnknownMessage     = 10008
	codeUnknownWebhook     = 10015
	codeUnknownInteraction = 10062
	codeAcknowledged       = 40060
	codeMissingAccess      = 50001
	codeRefusesDirect      = 50007
	codeMissingPermissions = 50013
	codeDeadToken          = 50027
)

func codeOf(err error) int {
	var e *apiError
	if errors.As(err, &e) {
		return e.Code
	}
	return 0
}

// tokenDead reports whether err says that an interaction's token no longer
// works, or that what it should reach is gone.
func tokenDead(err error) bool {
	switch codeOf(err) {
	case codeUnknownInteraction, codeUnknownWebhook, codeUnknownMessage, codeDeadToken:
		return true
	}
	return false
}

// refused reports whether err is final: asking again would be refused again.
func refused(err error) bool {
	var e *apiError
	return errors.As(err, &e) && e.own && e.Status >= 400 && e.Status < 500 &&
		e.Status != http.StatusTooManyRequests && e.Status != http.StatusRequestTimeout
}

// unauthorized reports whether err says that the bot's own token is no good. A
// new one may be in place at the next start.
func unauthorized(err error) bool {
	var e *apiError
	return errors.As(err, &e) && e.own && e.Status == http.StatusUnauthorized && e.Code != codeDeadToken
}

func jsonBody(v any) *body {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err) // only our own payload types come here
	}
	return &body{"application/json", b}
}
