package discord

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"
)

// The forms a 429 takes in the platform's documentation ("Rate Limits") [M],
// those that do not come from the platform itself, and nonsense.
func TestRetryAfter(t *testing.T) {
	const key = "POST channels/1/messages"
	for _, c := range []struct {
		name, header, body string
		exempt             bool
		want               time.Duration
		holds              string
	}{
		{"of a route", "65", `{"message":"You are being rate limited.","retry_after":64.5,"global":false}`, false, 64500 * time.Millisecond, key},
		{"of an interaction", "65", `{"message":"You are being rate limited.","retry_after":64.5,"global":false}`, true, 64500 * time.Millisecond, key},
		{"of everything", "65", `{"message":"You are being rate limited.","retry_after":64.5,"global":true}`, false, 64500 * time.Millisecond, ofBot},
		{"of everything, to an interaction", "65", `{"retry_after":64.5,"global":true}`, true, 64500 * time.Millisecond, ofEverything},
		{"from before the platform", "30", `<html>error 1015</html>`, false, 30 * time.Second, ofEverything},
		{"from before the platform, to an interaction", "30", `<html>error 1015</html>`, true, 30 * time.Second, ofEverything},
		{"longer than an hour", "7201", `<html>error 1015</html>`, false, 7201 * time.Second, ofEverything},
		{"a day", "", `{"retry_after":86400}`, false, 24 * time.Hour, key},
		{"without a time", "", `{"message":"You are being rate limited."}`, false, 0, key},
		{"a header where the body says nothing", "3", `{"retry_after":null}`, false, 3 * time.Second, key},
		{"negative", "-5", `{"retry_after":-1}`, false, 0, key},
		{"nothing", "0", `{"retry_after":0}`, false, 0, key},
		{"not a number", "NaN", `{"retry_after":"NaN"}`, false, 0, key},
		{"infinite", "+Inf", `{"retry_after":1e999}`, false, 0, key},
		{"what overflows", "", `{"retry_after":1e18}`, false, beyondBelief, key},
		{"what overflows in the header", "99999999999999999999", "", false, beyondBelief, ofEverything},
		{"a date long past", "Wed, 21 Oct 2015 07:28:00 GMT", "", false, 0, ofEverything},
		{"a date far off", "Wed, 21 Oct 2415 07:28:00 GMT", "", false, beyondBelief, ofEverything},
		{"garbage", "soon", "[1,2", false, 0, ofEverything},
		{"of other types", "2", `{"retry_after":[1],"global":"yes"}`, false, 2 * time.Second, key},
	} {
		got, holds := retryAfter(http.Header{"Retry-After": {c.header}}, []byte(c.body), key, c.exempt)
		if got != c.want || holds != c.holds {
			t.Errorf("%s: %v of %q, want %v of %q", c.name, got, holds, c.want, c.holds)
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

// However many processes share it, no second has more requests than the platform
// allows, all asked for at once, and few fewer.
func TestNoSecondHasTooMany(t *testing.T) {
	for _, processes := range []int{1, 2, 3, 5, 8, 20} {
		at := time.Now()
		var out []time.Time
		for range processes {
			l := newLimits(newMetrics(nil))
			l.shareOut(processes)
			for range 200 {
				out = append(out, at.Add(l.global.ReserveN(at, 1).DelayFrom(at)))
			}
		}
		slices.SortFunc(out, time.Time.Compare)
		most := 0
		for i, from := 0, 0; i < len(out); i++ {
			for out[i].Sub(out[from]) > time.Second {
				from++
			}
			most = max(most, i-from+1)
		}
		if most > 50 || most < 35 {
			t.Errorf("%d processes: a second has %d requests", processes, most)
		}
	}
}

// Together all processes may be refused what one alone may.
func TestRefusalsAreShared(t *testing.T) {
	for _, n := range []int{1, 3, 100} {
		l := newLimits(newMetrics(nil))
		l.shareOut(n)
		if l.refused.left > budgetMost/float64(n) {
			t.Errorf("each of %d may be refused %v times", n, l.refused.left)
		}
	}
}
