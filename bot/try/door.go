package try

import (
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
)

// A Door lets into a page whoever has the key.
type Door struct {
	inside     http.Handler
	host, port string // as they are listened at
	say        func(address string)

	mu          sync.Mutex
	key         string // of the address said last, "" once it was used
	spent, have map[string]bool
}

// NewDoor is a door before a page that is listened for at an address, of which
// host is the name or number the listener was asked for. say is told the address
// to open: now, and again when an address comes that was used before.
func NewDoor(inside http.Handler, host string, addr net.Addr, say func(address string)) *Door {
	_, port, _ := net.SplitHostPort(addr.String())
	d := &Door{host: host, port: port, say: say, spent: map[string]bool{}, have: map[string]bool{}}
	// Another page could send forms here: the browser says whence they come.
	d.inside = http.NewCrossOriginProtection().Handler(inside)
	d.renew()
	return d
}

// renew says an address with a key that nobody has used. The caller holds d.mu
// or is alone.
func (d *Door) renew() {
	d.key = rand.Text()
	host := d.host
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	d.say("http://" + net.JoinHostPort(host, d.port) + "/?key=" + d.key)
}

// policy is what a page of ours may do: nothing it has not got from here.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'"

// mostBytes is the largest request: a file as large as the platform takes, and
// what is said beside it.
const mostBytes = 11 << 20

func (d *Door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	if !d.named(r.Host) {
		http.Error(w, "This page does not go by that name. Open it at the address that rangepost printed.", http.StatusMisdirectedRequest)
		return
	}
	if key := r.URL.Query().Get("key"); key != "" && r.Method == http.MethodGet {
		session, err := d.redeem(key)
		if err != nil {
			http.Error(w, err.Error(), http.StatusForbidden)
			return
		}
		http.SetCookie(w, &http.Cookie{Name: d.cookie(), Value: session, Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode})
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	if !d.in(r) {
		http.Error(w, "Open this page at the address that rangepost printed: it has the key.", http.StatusForbidden)
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBytes)
	d.inside.ServeHTTP(w, r)
}

// named reports whether a browser that asks for host means us. A name that
// somebody made point here is not ours (DNS rebinding); a number cannot be made
// to point anywhere.
func (d *Door) named(asked string) bool {
	host, port, err := net.SplitHostPort(asked)
	if err != nil || port != d.port {
		return false
	}
	return host == "localhost" || host == d.host || net.ParseIP(host) != nil
}

// redeem turns the key into a session.
func (d *Door) redeem(key string) (session string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	switch {
	case d.key != "" && subtle.ConstantTimeCompare([]byte(key), []byte(d.key)) == 1:
		d.spent[key], d.key = true, ""
		session = rand.Text()
		d.have[session] = true
		return session, nil
	case d.spent[key]:
		if d.key == "" {
			d.renew()
		}
		return "", errors.New("That address was used already, and works once. rangepost has printed another.")
	}
	return "", errors.New("That is not the key. Open the address that rangepost printed.")
}

func (d *Door) in(r *http.Request) bool {
	c, err := r.Cookie(d.cookie())
	if err != nil {
		return false
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.have[c.Value]
}

// cookie is the name of ours: cookies are shared among the ports of a host.
func (d *Door) cookie() string { return fmt.Sprintf("rangepost-%s", d.port) }
