package discord

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"syscall"
	"time"
)

type dialFunc func(ctx context.Context, network, address string) (net.Conn, error)

// dialerFor dials for the platform. When the platform is a stand-in on
// loopback, nothing else can be dialled: a demo or a test never talks to the
// outside by mistake.
func dialerFor(platform string) dialFunc {
	d := &net.Dialer{Timeout: 10 * time.Second, KeepAlive: 30 * time.Second}
	if onLoopback(platform) {
		d.Control = func(_, address string, _ syscall.RawConn) error {
			if a, err := netip.ParseAddrPort(address); err != nil || !a.Addr().IsLoopback() {
				return fmt.Errorf("%s is not on this machine, and the platform is", address)
			}
			return nil
		}
	}
	return d.DialContext
}

// proxyFor is the proxy of the environment, except for a stand-in.
func proxyFor(platform string) func(*http.Request) (*url.URL, error) {
	if onLoopback(platform) {
		return nil
	}
	return http.ProxyFromEnvironment
}

func onLoopback(platform string) bool {
	u, err := url.Parse(platform)
	if err != nil {
		return false
	}
	a, err := netip.ParseAddr(u.Hostname())
	return err == nil && a.IsLoopback() || u.Hostname() == "localhost"
}
