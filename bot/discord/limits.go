package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"math/rand/v2"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// limits is what all requests of a bot share: the platform allows fifty a
// second in all, fewer to each route, and blocks an address after 10,000
// refused ones in ten minutes (Discord documentation, "Rate Limits").
type limits struct {
	global *rate.Limiter

	mu    sync.Mutex
	until map[string]time.Time // routes that must wait, "" for all of them

	metrics *metrics
}

func newLimits(m *metrics) *limits {
	return &limits{global: rate.NewLimiter(45, 45), until: map[string]time.Time{}, metrics: m}
}

// hold makes requests to key wait for d.
func (l *limits) hold(key string, d time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	if len(l.until) > 1000 {
		for k, t := range l.until {
			if t.Before(now) {
				delete(l.until, k)
			}
		}
	}
	if t := now.Add(d); t.After(l.until[key]) {
		l.until[key] = t
	}
}

// wait waits for key's turn.
func (l *limits) wait(ctx context.Context, key string, exempt bool) error {
	for {
		l.mu.Lock()
		t := l.until[key]
		if all := l.until[""]; !exempt && all.After(t) {
			t = all
		}
		l.mu.Unlock()
		if d := time.Until(t); d > 0 {
			if err := sleepWithin(ctx, d); err != nil {
				return err
			}
			continue
		}
		if exempt {
			return nil
		}
		return l.global.Wait(ctx)
	}
}

// careful is a RoundTripper that keeps to the rate limits and repeats what
// failed for no fault of the request: limits met, server errors, broken
// connections. It stops when the request's context ends and never before, so
// every request must have a deadline.
//
// Everything is repeated, also what may have been carried out already. That is
// safe by what we send: edits and deletions are the same twice, a second
// acknowledgement is refused by its own code, messages carry a nonce the
// platform enforces. A follow-up alone could appear twice; it only ever
// carries a private notice, and twice is better than never.
type careful struct {
	next     http.RoundTripper
	limits   *limits
	patience time.Duration // with one attempt
}

// RoundTrip implements http.RoundTripper. The body of its answer is already in
// memory.
func (c *careful) RoundTrip(req *http.Request) (*http.Response, error) {
	if req.Body != nil {
		defer req.Body.Close() // each attempt takes a copy of its own
	}
	ctx := req.Context()
	key, exempt := routeKey(req)
	for attempt := 0; ; attempt++ {
		if err := c.limits.wait(ctx, key, exempt); err != nil {
			return nil, err
		}
		resp, err := c.once(req)
		wait, again := c.judge(key, exempt, resp, err, attempt)
		if !again {
			return resp, err
		}
		reason := "connection"
		if err == nil {
			reason = strconv.Itoa(resp.StatusCode)
		}
		c.limits.metrics.retried(reason)
		if sleepWithin(ctx, wait) != nil {
			// Out of time: what the last attempt said is worth more than that.
			return resp, err
		}
	}
}

func (c *careful) once(req *http.Request) (*http.Response, error) {
	ctx, cancel := context.WithTimeout(req.Context(), c.patience)
	defer cancel()
	r := req.Clone(ctx)
	if req.GetBody != nil {
		b, err := req.GetBody()
		if err != nil {
			return nil, err
		}
		r.Body = b
	}
	resp, err := c.next.RoundTrip(r)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(io.LimitReader(resp.Body, 8<<20))
	if err != nil {
		return nil, err
	}
	resp.Body = io.NopCloser(bytes.NewReader(b))
	return resp, nil
}

// judge decides whether to try again, and after how long.
func (c *careful) judge(key string, exempt bool, resp *http.Response, err error, attempt int) (time.Duration, bool) {
	if err != nil {
		return backOff(attempt), true
	}
	h := resp.Header
	if h.Get("X-RateLimit-Remaining") == "0" {
		c.limits.hold(key, seconds(h.Get("X-RateLimit-Reset-After")))
	}
	switch resp.StatusCode {
	case http.StatusTooManyRequests:
		after, global := retryAfter(resp)
		if global && !exempt {
			key = ""
		}
		c.limits.hold(key, after)
		return 0, true // wait does the waiting
	case 500, 502, 503, 504:
		return backOff(attempt), true
	}
	return 0, false
}

// backOff grows from a quarter of a second to eight, with full jitter so that
// many who failed together do not come back together.
func backOff(attempt int) time.Duration {
	most := 250 * time.Millisecond << min(attempt, 5)
	return time.Duration(rand.Int64N(int64(most))) + 20*time.Millisecond
}

// retryAfter reads how long a 429 asks to wait, and whether it holds for
// everything. The body is more exact than the header. An answer that is not
// JSON comes from what stands before the platform, and holds for everything.
func retryAfter(resp *http.Response) (time.Duration, bool) {
	b, _ := io.ReadAll(resp.Body)
	resp.Body = io.NopCloser(bytes.NewReader(b))
	var j struct {
		After  float64 `json:"retry_after"`
		Global bool    `json:"global"`
	}
	foreign := json.Unmarshal(b, &j) != nil
	if foreign || j.After <= 0 {
		j.After = 1
		if d := seconds(resp.Header.Get("Retry-After")); d > 0 {
			j.After = d.Seconds()
		}
	}
	global := foreign || j.Global || resp.Header.Get("X-RateLimit-Global") == "true"
	return time.Duration(j.After * float64(time.Second)), global
}

func seconds(s string) time.Duration {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || f < 0 || f > 3600 {
		return 0
	}
	return time.Duration(f * float64(time.Second))
}

// routeKey is what a rate limit counts by: the method, the route and its major
// parameter (channel, or webhook and token). The answers to interactions are
// exempt from the limit over everything.
func routeKey(req *http.Request) (key string, exempt bool) {
	_, path, _ := strings.Cut(req.URL.Path, "/api/v10/")
	parts := strings.Split(path, "/")
	switch {
	case parts[0] == "webhooks" && len(parts) > 2:
		return "webhooks/" + parts[2], true
	case parts[0] == "interactions" && len(parts) > 2:
		return "interactions/" + parts[2], true
	case parts[0] == "channels" && len(parts) > 2:
		return req.Method + " channels/" + parts[1] + "/" + parts[2], false
	}
	return req.Method + " " + path, false
}

// sleepWithin sleeps for d, or not at all if ctx ends before.
func sleepWithin(ctx context.Context, d time.Duration) error {
	if deadline, ok := ctx.Deadline(); ok && time.Until(deadline) < d {
		return errNoTime
	}
	return sleep(ctx, d)
}

var errNoTime = errors.New("the platform asks to wait longer than there is time")
