package discord

import (
	"context"
	"crypto/x509"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// The platform's gateway speaks TLS, and may have to be reached through a
// proxy. Both ways a link opens, hears what is said, and resumes after a cut.
func TestSecureLink(t *testing.T) {
	var proxied atomic.Int64
	proxy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodConnect || r.Header.Get("Proxy-Authorization") != "Basic Y2x1Yjpob3VzZQ==" {
			http.Error(w, "no", http.StatusProxyAuthRequired)
			return
		}
		proxied.Add(1)
		out, err := net.Dial("tcp", r.Host)
		if err != nil {
			http.Error(w, err.Error(), http.StatusBadGateway)
			return
		}
		w.WriteHeader(http.StatusOK)
		in, read, err := http.NewResponseController(w).Hijack()
		if err != nil {
			t.Error(err)
			return
		}
		// The server may have read of what follows already.
		go func() { io.Copy(out, read); out.Close() }()
		io.Copy(in, out)
		in.Close()
	}))
	defer proxy.Close()
	through, err := url.Parse(proxy.URL)
	if err != nil {
		t.Fatal(err)
	}
	through.User = url.UserPassword("club", "house")

	for name, by := range map[string]*url.URL{"straight": nil, "through a proxy": through} {
		t.Run(name, func(t *testing.T) {
			stand, err := standin.Start(standin.Config{})
			if err != nil {
				t.Fatal(err)
			}
			defer stand.Close()
			behind, err := url.Parse(stand.URL())
			if err != nil {
				t.Fatal(err)
			}
			front := httptest.NewTLSServer(httputil.NewSingleHostReverseProxy(behind))
			defer front.Close()
			n := networkFor(stand.URL())
			n.proxy = func(*http.Request) (*url.URL, error) { return by, nil }
			n.roots = x509.NewCertPool()
			n.roots.AddCert(front.Certificate())

			heard := make(chan string, 10)
			l, err := newLink(stand.Token(), "wss"+strings.TrimPrefix(front.URL, "https")+"/gateway", 0, 1, n, func(name string, _ json.RawMessage, _ func()) {
				heard <- name
			}, func(why string) { t.Errorf("dropped %s", why) }, nil)
			if err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
			defer cancel()
			if err := l.open(ctx, 10*time.Second); err != nil {
				t.Fatal(err)
			}
			defer l.close(2 * time.Second)
			place, wren := stand.Server("Saltmarsh Links").Channel("range"), stand.User("Wren")
			wren.Say(place, "@Rangepost")
			stand.Cut()
			<-l.down
			wren.Say(place, "@Rangepost again")
			if err := l.open(ctx, 10*time.Second); err != nil {
				t.Fatal(err)
			}
			messages := 0
			for messages < 2 {
				select {
				case e := <-heard:
					if e == "MESSAGE_CREATE" {
						messages++
					}
				case <-ctx.Done():
					t.Fatalf("%d messages arrived, want 2", messages)
				}
			}
			if n := stand.Identifies(); n != 1 {
				t.Errorf("%d sessions, want 1", n)
			}
		})
	}
	if n := proxied.Load(); n != 2 {
		t.Errorf("the proxy was used %d times, want 2", n)
	}
}

// A certificate that nobody vouches for is refused, and a proxy that refuses
// is named.
func TestSecureLinkRefused(t *testing.T) {
	front := httptest.NewTLSServer(http.NotFoundHandler())
	defer front.Close()
	address := strings.TrimPrefix(front.URL, "https://")
	n := networkFor(front.URL)
	if _, err := n.secure(t.Context(), address); err == nil || !strings.Contains(err.Error(), "certificate") {
		t.Errorf("an unknown certificate: %v", err)
	}
	closed := httptest.NewServer(http.NotFoundHandler())
	defer closed.Close()
	u, err := url.Parse(closed.URL)
	if err != nil {
		t.Fatal(err)
	}
	n.proxy = func(*http.Request) (*url.URL, error) { return u, nil }
	if _, err := n.secure(t.Context(), address); err == nil || !strings.Contains(err.Error(), "the proxy refuses the gateway: 404") {
		t.Errorf("a proxy that refuses: %v", err)
	}
}

// A connection cut as the first heartbeat goes out is noticed by who writes
// and who reads, and still ends once: told a second time, the connection after
// it would be taken for broken.
func TestConnectionEndsOnce(t *testing.T) {
	stand, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer stand.Close()
	n := networkFor(stand.URL())
	dial := n.dial
	n.dial = func(ctx context.Context, network, address string) (net.Conn, error) {
		c, err := dial(ctx, network, address)
		return &cutAfter{Conn: c, writes: 2}, err // the opening and the identify
	}
	l, err := newLink(stand.Token(), "ws"+strings.TrimPrefix(stand.URL(), "http")+"/gateway", 0, 1, n,
		func(string, json.RawMessage, func()) {}, func(why string) { t.Errorf("dropped %s", why) }, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.open(t.Context(), 10*time.Second); err != nil {
		t.Fatal(err)
	}
	defer l.close(2 * time.Second)
	<-l.down
	select {
	case <-l.down:
		t.Error("the connection ended twice")
	case <-time.After(300 * time.Millisecond):
	}
}

// cutAfter is a connection that breaks at the write after so many.
type cutAfter struct {
	net.Conn
	writes int
}

func (c *cutAfter) Write(p []byte) (int, error) {
	if c.writes--; c.writes < 0 {
		c.Conn.Close()
		return 0, net.ErrClosed
	}
	return c.Conn.Write(p)
}
