package discord

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rangepost/bot"
)

// ban is a platform that answers everything alike, and counts.
type ban struct {
	status int
	header http.Header
	body   string

	mu    sync.Mutex
	total int
	first time.Time
	early int // in the first minute
}

func (b *ban) RoundTrip(r *http.Request) (*http.Response, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.total == 0 {
		b.first = time.Now()
	}
	b.total++
	if time.Since(b.first) < time.Minute {
		b.early++
	}
	return &http.Response{StatusCode: b.status, Header: b.header.Clone(), Body: io.NopCloser(strings.NewReader(b.body)), Request: r}, nil
}

// untold answers everything and keeps nothing.
type untold struct{ Conversation }

func (untold) Ack(bot.Request) bot.Ack                           { return bot.AckPublic }
func (untold) Urgent(bot.Request) bool                           { return false }
func (untold) Accept(context.Context, bot.Request) (bool, error) { return true, nil }
func (untold) Handle(context.Context, bot.Request) bot.Reply     { return bot.Reply{Text: "Read."} }
func (untold) Answered(context.Context, string) error            { return nil }
func (untold) Redirect(context.Context, bot.Request) error       { return nil }

// Everything is refused for ten minutes, while four people a second ask, by
// commands and mentions. The platform blocks an address at
// 10,000 refused requests in ten minutes (Discord documentation, "Rate
// Limits" [M]); we stay under an eighth of that, whatever the refusal is, and
// a hold that is announced is kept.
func TestBannedForTenMinutes(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector takes minutes over ten simulated ones")
	}
	const most, perSecond = 1250, 4
	retry := func(s string) http.Header { return http.Header{"Retry-After": {s}} }
	for _, c := range []struct {
		name   string
		status int
		header http.Header
		body   string
		most   int
	}{
		{"a ban page of two hours", 429, retry("7200"), "<html>1015</html>", 40},
		{"a ban page without a time", 429, nil, "<html>1015</html>", most},
		{"a page with 403", 403, nil, "<html>blocked</html>", most},
		{"a page with 401", 401, nil, "<html>who</html>", most},
		{"the platform's 401", 401, nil, `{"message":"401: Unauthorized","code":0}`, most},
		{"the platform's 403", 403, nil, `{"message":"Missing Access","code":50001}`, most},
		{"the platform's 404", 404, nil, `{"message":"Unknown interaction","code":10062}`, most},
		{"a limit of the route", 429, nil, `{"message":"limited","retry_after":0.3,"global":false}`, most},
		{"a limit of everything", 429, nil, `{"message":"limited","retry_after":3700,"global":true}`, 40},
		{"an absurd limit", 429, nil, `{"message":"limited","retry_after":1e18,"global":true}`, 40},
		{"a limit that overflows", 429, nil, `{"message":"limited","retry_after":1e999,"global":false}`, most},
		{"a negative limit", 429, retry("-1"), `{"message":"limited","retry_after":-1,"global":true}`, most},
		{"a limit of NaN", 429, retry("NaN"), `{"retry_after":"NaN"}`, most},
		{"a limit of nothing", 429, retry("0"), `{"retry_after":0}`, most},
		{"a short limit with 0 left", 429, http.Header{"X-Ratelimit-Remaining": {"0"}, "X-Ratelimit-Reset-After": {"1e300"}}, `{"retry_after":0.001}`, most},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				b := &ban{status: c.status, header: c.header, body: c.body}
				a, err := New(Config{Token: "x", Platform: "http://127.0.0.1:1", Bot: untold{}, Log: slog.New(slog.DiscardHandler)})
				if err != nil {
					t.Fatal(err)
				}
				a.rest.quick.Transport.(*careful).next = b
				a.rest.slow.Transport.(*careful).next = b
				ctx, stop := context.WithCancel(t.Context())
				a.queue.start(ctx)
				for second := range 600 {
					for i := range perSecond {
						id := fmt.Sprint(1+second, "0", i)
						n := note{App: "1", Token: "token-" + id}
						if i%3 == 0 {
							n = note{Message: id}
						}
						a.queue.event(bot.Request{ID: id, Kind: bot.CommandRequest, Server: "1", Channel: fmt.Sprint(i % 7), Asker: bot.Person{ID: fmt.Sprint(second*perSecond+i) + "7"}}, n, func() {})
					}
					time.Sleep(time.Second)
				}
				b.mu.Lock()
				total, early := b.total, b.early
				b.mu.Unlock()
				t.Logf("%d requests refused in ten minutes, %d in the first", total, early)
				if total > c.most || total == 0 {
					t.Errorf("%d requests refused in ten minutes, want some and %d at most", total, c.most)
				}
				stop()
				a.queue.close()
				a.queue.wait(time.Hour)
				synctest.Wait()
			})
		})
	}
}

// One reply that is never taken is tried ten times in its first minute at the
// most, and twice in any later one.
func TestPausesGrow(t *testing.T) {
	for attempt := range 100 {
		for range 50 {
			d := backOff(attempt)
			if attempt >= 8 && (d < 30*time.Second || d > time.Minute) || d <= 0 || d > time.Minute {
				t.Fatalf("pause %d is %v", attempt, d)
			}
		}
	}
	tries, at := 0, time.Duration(0)
	for ; at < time.Minute; tries++ {
		at += backOff(tries)
	}
	if tries > 10 {
		t.Errorf("%d tries in the first minute, want 10 at most", tries)
	}
}
