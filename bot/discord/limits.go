package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptrace"
	"strconv"
	"sync/atomic"
	"time"

	"golang.org/x/time/rate"

	"rangepost/bot"
)

// limits is what all requests of a bot share: the platform allows fifty a
// second in all, fewer to each route, and blocks an address that is refused too
// often.
type limits struct {
	holds
	global  *rate.Limiter
	refused *budget
	metrics *metrics

	// tell says to the others that all the bot's requests are to wait; nil where one
	// process serves alone.
	tell atomic.Pointer[func(time.Duration)]
}

func newLimits(m *metrics) *limits {
	return &limits{
		holds:  holds{until: map[string]time.Time{}},
		global: rate.NewLimiter(perSecond-atOnce, atOnce), refused: newBudget(), metrics: m,
	}
}

// perSecond is how many requests any second has at most, two fewer than the
// platform allows; atOnce of them may come at once, and the others evenly.
const (
	perSecond = 48
	atOnce    = 5
)

// shareOut keeps to this process's part of what the platform allows them all.
func (l *limits) shareOut(processes int) {
	burst := max(1, atOnce/processes)
	l.global.SetLimit(max(0.5, perSecond/rate.Limit(processes)-rate.Limit(burst)))
	l.global.SetBurst(burst)
	l.refused.shareOut(processes)
}

// begin waits for key's turn. What cannot have it before ctx ends is not sent.
func (l *limits) begin(ctx context.Context, key string, exempt bool) error {
	for {
		d := l.left(key, exempt)
		if d <= 0 {
			if d = l.refused.begin(); d == 0 {
				break
			}
		}
		if err := sleepWithin(ctx, d); err != nil {
			return err
		}
	}
	if exempt {
		return nil
	}
	err := l.global.Wait(ctx)
	if err != nil {
		l.refused.end(false)
	}
	return err
}

// manner is how a request differs from others.
type manner struct {
	// once: not to be sent again when it may have been carried out.
	once bool
	// trusting: a 401 is believed at once. Elsewhere it may pass, and the
	// gateway or the next start tells if it does not.
	trusting bool
}

type mannerKey struct{}

// errUncertain is what became of a request that may or may not have been
// carried out and is not sent again.
var errUncertain = errors.New("the answer to a request was lost")

// careful is a RoundTripper that keeps to the rate limits and repeats what
// failed for no fault of the request: limits met, servers in trouble, broken
// connections, and whatever is not the platform's own word. It stops when the
// request's context ends and never before, so every request must have a
// deadline.
//
// Everything is repeated, also what may have been carried out already. That is
// safe by what we send: edits and deletions are the same twice, a second
// acknowledgement is refused by its own code, messages carry a nonce the
// platform enforces. A follow-up alone could appear twice; manner.once is for
// it.
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
	m, _ := ctx.Value(mannerKey{}).(manner)
	key, exempt := routeKey(req)
	for attempt := 0; ; attempt++ {
		if err := c.limits.begin(ctx, key, exempt); err != nil {
			return nil, err
		}
		if !bot.Alive(ctx) {
			c.limits.refused.end(false)
			return nil, bot.ErrLapsed
		}
		if still, ok := ctx.Value(stillKey{}).(func(context.Context) bool); ok && !still(ctx) {
			c.limits.refused.end(false)
			return nil, errOvertaken
		}
		resp, body, sent, err := c.once(req)
		v := judge(resp, body, err, m)
		c.limits.refused.end(v.refused)
		if err == nil {
			c.obey(resp, body, key, exempt, attempt)
		}
		if !v.again {
			return resp, err
		}
		if m.once && v.doubtful && sent {
			return nil, errUncertain
		}
		reason := "connection"
		if err == nil {
			reason = strconv.Itoa(resp.StatusCode)
		}
		c.limits.metrics.retried(reason)
		wait := backOff(attempt)
		if err == nil && resp.StatusCode == http.StatusTooManyRequests {
			wait = 0 // the hold does the waiting
		}
		if sleepWithin(ctx, max(wait, c.limits.left(key, exempt))) != nil {
			// Out of time: what the last attempt said is worth more than that.
			return resp, err
		}
	}
}

// stillKey is where a context has what says whether a reply may yet be shown. It
// is asked before each attempt, which may come hours after the first.
type stillKey struct{}

var errOvertaken = errors.New("what may be shown has changed since the reply was made")

// obey holds what an answer says is to be held.
func (c *careful) obey(resp *http.Response, body []byte, key string, exempt bool, attempt int) {
	h := resp.Header
	if h.Get("X-RateLimit-Remaining") == "0" {
		if d, ok := seconds(h.Get("X-RateLimit-Reset-After")); ok {
			c.limits.hold(key, d)
		}
	}
	if resp.StatusCode == http.StatusTooManyRequests {
		after, what := retryAfter(h, body, key, exempt)
		if after == 0 {
			after = max(time.Second, backOff(attempt))
		}
		if tell := c.limits.tell.Load(); c.limits.hold(what, after) && what == ofBot && tell != nil {
			go (*tell)(after)
		}
	}
}

// once makes one attempt, and reports whether anything of it left.
func (c *careful) once(req *http.Request) (resp *http.Response, body []byte, sent bool, err error) {
	ctx, cancel := context.WithTimeout(req.Context(), c.patience)
	defer cancel()
	var left atomic.Bool
	ctx = httptrace.WithClientTrace(ctx, &httptrace.ClientTrace{WroteHeaders: func() { left.Store(true) }})
	r := req.Clone(ctx)
	if req.GetBody != nil {
		b, err := req.GetBody()
		if err != nil {
			return nil, nil, false, err
		}
		r.Body = b
	}
	resp, err = c.next.RoundTrip(r)
	if err != nil {
		return nil, nil, left.Load(), err
	}
	defer resp.Body.Close()
	body, err = io.ReadAll(io.LimitReader(resp.Body, 8<<20))
	if err != nil {
		return nil, nil, true, err
	}
	resp.Body = io.NopCloser(bytes.NewReader(body))
	return resp, body, true, nil
}

// verdict is what is made of one attempt.
type verdict struct {
	again    bool // try it again
	doubtful bool // it may have been carried out all the same
	refused  bool // it counts as a refused request
}

// judge says what to make of an attempt. Only the platform's own word, which is
// JSON, is ever final: a page of HTML with whatever status comes from something
// that stands before it.
func judge(resp *http.Response, body []byte, err error, m manner) verdict {
	if err != nil {
		return verdict{again: true, doubtful: true}
	}
	status := resp.StatusCode
	switch {
	case status >= 200 && status < 300:
		foreign := len(body) > 0 && !json.Valid(body)
		return verdict{again: foreign, doubtful: foreign}
	case status >= 500 || status == http.StatusRequestTimeout || status == http.StatusTooEarly:
		return verdict{again: true, doubtful: true}
	case status == http.StatusTooManyRequests:
		return verdict{again: true, refused: true}
	}
	code, own := ownRefusal(body)
	passing := status == http.StatusUnauthorized && code != codeDeadToken && !m.trusting
	return verdict{again: !own || passing, refused: true}
}

// ownRefusal reports whether body is the platform's own refusal, and its code.
func ownRefusal(body []byte) (code int, ok bool) {
	var e struct {
		Code    int     `json:"code"`
		Message *string `json:"message"`
	}
	if json.Unmarshal(body, &e) != nil || e.Message == nil {
		return 0, false
	}
	return e.Code, true
}

// backOff is the pause after a failed attempt: it grows from a quarter of a
// second to a minute, so that no request is sent oftener than ten times in its
// first minute and twice in any later one, with jitter so that many who failed
// together do not come back together.
func backOff(attempt int) time.Duration {
	most := min(250*time.Millisecond<<min(attempt, 8), time.Minute)
	return most/2 + time.Duration(rand.Int64N(int64(most/2)))
}

// sleepWithin sleeps for d, or not at all if ctx ends before.
func sleepWithin(ctx context.Context, d time.Duration) error {
	if deadline, ok := ctx.Deadline(); ok && time.Until(deadline) < d {
		return errNoTime
	}
	return sleep(ctx, d)
}

var errNoTime = errors.New("the platform asks to wait longer than there is time")
