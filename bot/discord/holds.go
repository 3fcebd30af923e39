package discord

import (
	"encoding/json"
	"math"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// holds is what must wait, and until when.
type holds struct {
	mu    sync.Mutex
	until map[string]time.Time // by what a rate limit counts
}

// Two holds are not of a route. The platform's limit over all of a bot's
// requests does not count answers to interactions (Discord documentation,
// "Rate Limits: Global Rate Limit" [M]). What stands before the platform holds
// everything, and so does the platform if it says so of an answer to an
// interaction.
const (
	ofBot        = ""
	ofEverything = "*"
)

// A hold of more than a day is taken for a mistake and asked about once an
// hour.
const (
	longestHold  = 24 * time.Hour
	beyondBelief = time.Hour
)

// hold makes requests to key wait for d, and reports whether that is longer than they
// had to: of many that are told so at once, one of the first does.
func (h *holds) hold(key string, d time.Duration) (longer bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	now := time.Now()
	if len(h.until) > 1000 {
		for k, t := range h.until {
			if t.Before(now) {
				delete(h.until, k)
			}
		}
	}
	const same = 250 * time.Millisecond
	t := now.Add(d)
	longer = t.Sub(h.until[key]) > same
	if t.After(h.until[key]) {
		h.until[key] = t
	}
	return longer
}

// left is how long key has to wait still.
func (h *holds) left(key string, exempt bool) time.Duration {
	h.mu.Lock()
	defer h.mu.Unlock()
	latest := h.until[key]
	for _, wider := range []string{ofBot, ofEverything} {
		if wider == ofBot && exempt {
			continue
		}
		if t := h.until[wider]; t.After(latest) {
			latest = t
		}
	}
	return time.Until(latest)
}

// retryAfter reads how long a 429 asks to wait, 0 if it says nothing sensible,
// and what for. The body is more exact than the header.
func retryAfter(h http.Header, body []byte, key string, exempt bool) (after time.Duration, holds string) {
	var j struct {
		After  json.RawMessage `json:"retry_after"`
		Global json.RawMessage `json:"global"`
	}
	own := json.Unmarshal(body, &j) == nil && strings.HasPrefix(strings.TrimSpace(string(body)), "{")
	after, ok := seconds(strings.Trim(string(j.After), `"`))
	if !ok {
		after, ok = seconds(h.Get("Retry-After"))
	}
	if !ok {
		// It may be a date (RFC 9110, section 10.2.3).
		if t, err := http.ParseTime(h.Get("Retry-After")); err == nil {
			after = believed(time.Until(t))
		}
	}
	switch global := string(j.Global) == "true" || h.Get("X-RateLimit-Global") == "true"; {
	case !own || global && exempt:
		return after, ofEverything
	case global:
		return after, ofBot
	}
	return after, key
}

// seconds reads a time to wait. Nonsense is none.
func seconds(s string) (time.Duration, bool) {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(f) || math.IsInf(f, 0) || f <= 0 {
		return 0, false
	}
	if f > longestHold.Seconds() {
		return beyondBelief, true
	}
	return time.Duration(f * float64(time.Second)), true
}

func believed(d time.Duration) time.Duration {
	if d > longestHold {
		return beyondBelief
	}
	return max(d, 0)
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
