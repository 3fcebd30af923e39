package discord

import (
	"bufio"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"syscall"
	"time"

	"rangepost/bot"
)

// network is how the platform is reached.
type network struct {
	dial  func(ctx context.Context, network, address string) (net.Conn, error)
	proxy func(*http.Request) (*url.URL, error) // nil for none
	roots *x509.CertPool                        // nil for the system's
}

// networkFor is the network to a platform: the proxy of the environment is
// used. When the platform is a stand-in on loopback nothing else can be
// reached, so that a demo or a test never talks to the outside by mistake.
func networkFor(platform string) network {
	d := &net.Dialer{Timeout: 10 * time.Second, KeepAlive: 30 * time.Second}
	if !onLoopback(platform) {
		return network{dial: d.DialContext, proxy: http.ProxyFromEnvironment}
	}
	d.Control = func(_, address string, _ syscall.RawConn) error {
		if a, err := netip.ParseAddrPort(address); err != nil || !a.Addr().IsLoopback() {
			return fmt.Errorf("%s is not on this machine, and the platform is", address)
		}
		return nil
	}
	return network{dial: d.DialContext}
}

// while is this network for as long as alive says so: what is sent later does not
// leave this process, however long it was stopped before it could send.
func (n network) while(alive func() bool) network {
	dial := n.dial
	n.dial = func(ctx context.Context, network, address string) (net.Conn, error) {
		c, err := dial(ctx, network, address)
		if err != nil {
			return nil, err
		}
		return &living{c, alive}, nil
	}
	return n
}

// living is a connection that sends nothing once the process's life is over.
type living struct {
	net.Conn
	alive func() bool
}

func (l *living) Write(p []byte) (int, error) {
	if !l.alive() {
		return 0, bot.ErrLapsed
	}
	return l.Conn.Write(p)
}

func onLoopback(platform string) bool {
	u, err := url.Parse(platform)
	if err != nil {
		return false
	}
	a, err := netip.ParseAddr(u.Hostname())
	return err == nil && a.IsLoopback() || u.Hostname() == "localhost"
}

// secure connects to address with TLS, through the proxy if there is one.
func (n network) secure(ctx context.Context, address string) (net.Conn, error) {
	c, err := n.plain(ctx, address)
	if err != nil {
		return nil, err
	}
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		host = address
	}
	t := tls.Client(c, &tls.Config{ServerName: host, RootCAs: n.roots, MinVersion: tls.VersionTLS12})
	if err := t.HandshakeContext(ctx); err != nil {
		c.Close()
		return nil, err
	}
	return t, nil
}

func (n network) plain(ctx context.Context, address string) (net.Conn, error) {
	if n.proxy == nil {
		return n.dial(ctx, "tcp", address)
	}
	proxy, err := n.proxy(&http.Request{URL: &url.URL{Scheme: "https", Host: address}})
	switch {
	case err != nil:
		return nil, fmt.Errorf("find the proxy: %w", err)
	case proxy == nil:
		return n.dial(ctx, "tcp", address)
	case proxy.Scheme != "http":
		return nil, fmt.Errorf("the gateway can be reached through an http proxy, not one of %q", proxy.Scheme)
	}
	host := proxy.Host
	if proxy.Port() == "" {
		host = net.JoinHostPort(proxy.Hostname(), "80")
	}
	c, err := n.dial(ctx, "tcp", host)
	if err != nil {
		return nil, fmt.Errorf("reach the proxy: %w", err)
	}
	if err := tunnel(ctx, c, proxy.User, address); err != nil {
		c.Close()
		return nil, err
	}
	return c, nil
}

// tunnel asks the proxy at the other end of c to connect to address (CONNECT,
// RFC 9110, section 9.3.6).
func tunnel(ctx context.Context, c net.Conn, who *url.Userinfo, address string) error {
	req := &http.Request{Method: http.MethodConnect, URL: &url.URL{Opaque: address}, Host: address, Header: http.Header{"User-Agent": {userAgent}}}
	if who != nil {
		password, _ := who.Password()
		req.Header.Set("Proxy-Authorization", "Basic "+base64.StdEncoding.EncodeToString([]byte(who.Username()+":"+password)))
	}
	if deadline, ok := ctx.Deadline(); ok {
		c.SetDeadline(deadline)
		defer c.SetDeadline(time.Time{})
	}
	if err := req.Write(c); err != nil {
		return fmt.Errorf("ask the proxy: %w", err)
	}
	in := bufio.NewReader(c)
	resp, err := http.ReadResponse(in, req)
	if err != nil {
		return fmt.Errorf("ask the proxy: %w", err)
	}
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("the proxy refuses the gateway: %s", resp.Status)
	}
	if in.Buffered() > 0 {
		return fmt.Errorf("the proxy speaks before it is spoken to")
	}
	return nil
}
