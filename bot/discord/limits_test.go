package discord

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// The forms a 429 takes in the platform's documentation ("Rate Limits") [M],
// and one that does not come from the platform itself.
func TestRetryAfter(t *testing.T) {
	for _, c := range []struct {
		name, header, body string
		want               time.Duration
		global             bool
	}{
		{"of a route", "65", `{"message":"You are being rate limited.","retry_after":64.5,"global":false}`, 64500 * time.Millisecond, false},
		{"of everything", "65", `{"message":"You are being rate limited.","retry_after":64.5,"global":true}`, 64500 * time.Millisecond, true},
		{"from before the platform", "30", `<html>error 1015</html>`, 30 * time.Second, true},
		{"without a time", "", `{"message":"You are being rate limited."}`, time.Second, false},
	} {
		resp := &http.Response{Header: http.Header{"Retry-After": {c.header}}, Body: io.NopCloser(strings.NewReader(c.body))}
		if got, global := retryAfter(resp); got != c.want || global != c.global {
			t.Errorf("%s: %v, global %v, want %v, %v", c.name, got, global, c.want, c.global)
		}
	}
}

// What limits count by holds no message id, so that what is known of them stays
// small, and answers to interactions are exempt from the limit over everything.
func TestRouteKey(t *testing.T) {
	for path, want := range map[string]string{
		"/api/v10/channels/1/messages":             "POST channels/1/messages",
		"/api/v10/channels/1/messages/2":           "POST channels/1/messages",
		"/api/v10/webhooks/9/t/messages/@original": "webhooks/t",
		"/api/v10/webhooks/9/t":                    "webhooks/t",
		"/api/v10/interactions/1/t/callback":       "interactions/t",
		"/api/v10/users/@me":                       "POST users/@me",
	} {
		key, exempt := routeKey(httptest.NewRequest("POST", path, nil))
		if key != want || exempt != (strings.HasPrefix(want, "w") || strings.HasPrefix(want, "i")) {
			t.Errorf("routeKey(%s) = %q, %v, want %q", path, key, exempt, want)
		}
	}
}

// An error names the route and never what fills it: tokens and ids.
func TestErrorsHoldNoSecrets(t *testing.T) {
	l := newLimits(newMetrics(nil))
	refuse := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.WriteHeader(404)
		io.WriteString(w, `{"code":10062,"message":"Unknown interaction"}`)
	}))
	defer refuse.Close()
	gone := httptest.NewServer(nil)
	gone.Close()
	for _, address := range []string{refuse.URL, gone.URL, "http://[::1"} {
		cl := newClient(address, "bot-secret", l, networkFor(address))
		ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
		err := cl.do(ctx, call{method: "PATCH", route: "/webhooks/{app}/{token}/messages/@original", args: []string{"123456789", "interaction-secret"}})
		cancel()
		if err == nil {
			t.Fatal("no error")
		}
		for _, secret := range []string{"bot-secret", "interaction-secret", "123456789"} {
			if strings.Contains(err.Error(), secret) {
				t.Errorf("%q holds %q", err, secret)
			}
		}
	}
}
