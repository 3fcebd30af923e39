package standin

import (
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// A Rule makes requests go wrong. The zero value of each field asks for
// nothing.
type Rule struct {
	Method string // only this method
	Path   string // only paths that contain this
	Times  int    // only so often; 0 means until Heal
	Skip   int    // not the first so many

	Delay    time.Duration // before anything else
	Status   int           // answer with this status and no sense
	Code     int           // the platform's own code in that answer
	Page     string        // with Status: this instead of the platform's own answer, as a proxy gives
	Retry    time.Duration // with status 429: how long to wait
	Scope    string        // with status 429: "user", "shared" or "global"
	Redirect string        // answer with a redirect to this address
	Cut      bool          // cut the connection instead of answering
	CutAfter int           // files only: cut after so many bytes
	Done     bool          // with Cut or Status: only after the request was carried out

	hits int
}

// Break makes requests go wrong by r.
func (s *Stand) Break(r Rule) *Rule {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.rules = append(s.rules, &r)
	return &r
}

// Heal forgets all rules.
func (s *Stand) Heal() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.rules = nil
}

// Hits is how often a rule was used.
func (s *Stand) Hits(r *Rule) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return max(0, r.hits-r.Skip)
}

// rule finds the rule for a request and counts its use.
func (s *Stand) rule(r *http.Request) *Rule {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, u := range s.rules {
		if u.Method != "" && u.Method != r.Method || !strings.Contains(r.URL.Path, u.Path) {
			continue
		}
		u.hits++
		if u.hits <= u.Skip || u.Times > 0 && u.hits > u.Skip+u.Times {
			continue
		}
		copied := *u
		return &copied
	}
	return nil
}

// apply applies u to the request, and reports whether that was the answer.
func (u *Rule) apply(w http.ResponseWriter, r *http.Request) bool {
	if u == nil {
		return false
	}
	select {
	case <-time.After(u.Delay):
	case <-r.Context().Done():
	}
	switch {
	case u.Cut:
		panic(http.ErrAbortHandler)
	case u.Page != "":
		w.Header().Set("Content-Type", "text/html")
		w.WriteHeader(u.Status)
		io.WriteString(w, u.Page)
	case u.Redirect != "":
		http.Redirect(w, r, u.Redirect, http.StatusFound)
	case u.Status == http.StatusTooManyRequests:
		tooMany(w, u.Retry, u.Scope)
	case u.Status != 0:
		writeRefusal(w, &refusal{u.Status, u.Code, http.StatusText(u.Status), ""})
	default:
		return false
	}
	return true
}

func tooMany(w http.ResponseWriter, after time.Duration, scope string) {
	seconds := strconv.FormatFloat(after.Seconds(), 'f', 3, 64)
	w.Header().Set("Retry-After", strconv.Itoa(int(after.Seconds()+0.999)))
	w.Header().Set("X-RateLimit-Scope", or(scope, "user"))
	if scope == "global" {
		w.Header().Set("X-RateLimit-Global", "true")
	} else {
		w.Header().Set("X-RateLimit-Reset-After", seconds)
	}
	writeJSON(w, http.StatusTooManyRequests, map[string]any{
		"message": "You are being rate limited.", "retry_after": after.Seconds(), "global": scope == "global",
	})
}

// bucket counts what is left of a rate limit.
type bucket struct {
	left  int
	reset time.Time
}

// allow applies the rate limits: five requests in two seconds for each
// interaction's answers, five in five seconds for posting to a channel, fifty a
// second for everything that carries the bot's token.
func (s *Stand) allow(w http.ResponseWriter, r *http.Request, pattern string, open bool) bool {
	if s.cfg.Unlimited {
		return true
	}
	limit, per, key := 50, time.Second, "global"
	switch {
	case strings.Contains(pattern, "/webhooks/"):
		limit, per, key = 5, 2*time.Second, r.PathValue("token")
	case pattern == "POST /channels/{channel}/messages":
		limit, per, key = 5, 5*time.Second, "messages "+r.PathValue("channel")
	case open:
		return true
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	now := time.Now()
	b := s.buckets[key]
	if b == nil || now.After(b.reset) {
		b = &bucket{left: limit, reset: now.Add(per)}
		s.buckets[key] = b
	}
	after := b.reset.Sub(now)
	if b.left == 0 {
		scope := "user"
		if key == "global" {
			scope = "global"
		}
		tooMany(w, after, scope)
		return false
	}
	b.left--
	h := w.Header()
	h.Set("X-RateLimit-Limit", strconv.Itoa(limit))
	h.Set("X-RateLimit-Remaining", strconv.Itoa(b.left))
	h.Set("X-RateLimit-Reset", strconv.FormatFloat(float64(b.reset.UnixMilli())/1000, 'f', 3, 64))
	h.Set("X-RateLimit-Reset-After", strconv.FormatFloat(after.Seconds(), 'f', 3, 64))
	h.Set("X-RateLimit-Bucket", key)
	return true
}

// cdnHandler serves files by signed addresses.
func (s *Stand) cdnHandler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		u := s.rule(r)
		if u.apply(w, r) {
			return
		}
		parts := strings.Split(strings.TrimPrefix(r.URL.Path, "/"), "/")
		if len(parts) != 4 || parts[0] != "attachments" {
			http.NotFound(w, r)
			return
		}
		s.mu.Lock()
		f := s.files[parts[2]]
		s.mu.Unlock()
		q := r.URL.Query()
		if f == nil || f.channel != parts[1] || q.Get("ex")+q.Get("is")+q.Get("hm") != f.sign {
			http.Error(w, "This content is no longer available.", http.StatusNotFound)
			return
		}
		w.Header().Set("Content-Type", f.contentType)
		w.Header().Set("Content-Length", strconv.Itoa(len(f.bytes)))
		if u != nil && u.CutAfter > 0 && u.CutAfter < len(f.bytes) {
			w.Write(f.bytes[:u.CutAfter])
			w.(http.Flusher).Flush()
			panic(http.ErrAbortHandler)
		}
		w.Write(f.bytes)
	})
}
