package discord

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"syscall"
	"time"

	"rangepost/bot"
)

// FetchConfig says where files may come from, and how much of them.
type FetchConfig struct {
	// Hosts serve the platform's files: cdn.discordapp.com and
	// media.discordapp.net if empty. A host with a port matches that port
	// only. A loopback address, such as a stand-in's, may be fetched without
	// TLS; nothing else may.
	Hosts  []string
	Max    int64         // bytes: 10 MiB
	Within time.Duration // 20 s
}

// NewFetcher returns a fetcher for bot.Config. An attachment is whatever
// somebody made the platform, or a program that pretends to be its client,
// say: only the named hosts are asked, whatever their name resolves to must be
// a public address, no redirect is followed, and the declared type is not
// believed. Of the declared size only that less is not the whole file.
//
// While a request of an Adapter waits for its file, it leaves its place at work
// to others.
func NewFetcher(c FetchConfig) bot.Fetcher {
	if len(c.Hosts) == 0 {
		c.Hosts = []string{"cdn.discordapp.com", "media.discordapp.net"}
	}
	if c.Max == 0 {
		c.Max = 10 << 20
	}
	if c.Within == 0 {
		c.Within = 20 * time.Second
	}
	f := &fetcher{FetchConfig: c}
	dialer := &net.Dialer{Timeout: 5 * time.Second, Control: f.control}
	f.http = &http.Client{
		Transport: &http.Transport{
			DialContext:            dialer.DialContext,
			Proxy:                  nil, // a proxy would resolve names for us, unchecked
			DisableCompression:     true,
			TLSHandshakeTimeout:    5 * time.Second,
			MaxResponseHeaderBytes: 64 << 10,
			MaxIdleConnsPerHost:    4,
		},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	return f.fetch
}

type fetcher struct {
	FetchConfig
	http *http.Client
}

var (
	errForeign = errors.New("I only read files that were posted here. Post the file itself, not a link to it.")
	errGone    = errors.New("The platform no longer has that file. Post it again.")
	errShort   = errors.New("The platform handed over only a part of that file, so I have not read it. Please post it again.")
	errSlow    = errors.New("The platform did not hand over that file in time. Please try again in a minute.")
)

func (f *fetcher) fetch(ctx context.Context, a bot.Attachment) ([]byte, error) {
	u, err := url.Parse(a.URL)
	if err != nil || !f.allowed(u) {
		return nil, errForeign
	}
	var b []byte
	err = aside(ctx, func() error {
		b, err = f.insist(ctx, u, a.Size)
		return err
	})
	return b, err
}

// insist asks a few times for a file that does not come, or not whole.
func (f *fetcher) insist(ctx context.Context, u *url.URL, declared int64) ([]byte, error) {
	ctx, cancel := context.WithTimeout(ctx, f.Within)
	defer cancel()
	for attempt := 0; ; attempt++ {
		b, err := f.once(ctx, u, declared)
		if err == nil || err != errSlow && err != errShort || attempt == 2 {
			return b, err
		}
		if sleepWithin(ctx, backOff(attempt)) != nil {
			return nil, err
		}
	}
}

func (f *fetcher) allowed(u *url.URL) bool {
	if u.User != nil || u.Host == "" || !slices.Contains(f.Hosts, strings.ToLower(u.Host)) {
		return false
	}
	return u.Scheme == "https" || u.Scheme == "http" && loopbackHost(u.Host)
}

func (f *fetcher) once(ctx context.Context, u *url.URL, declared int64) ([]byte, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, u.String(), nil)
	if err != nil {
		return nil, errForeign
	}
	req.Header.Set("User-Agent", userAgent)
	resp, err := f.http.Do(req)
	if errors.Is(err, errPrivate) {
		return nil, errForeign
	}
	if err != nil {
		return nil, errSlow
	}
	defer resp.Body.Close()
	switch {
	case resp.StatusCode >= 500 || resp.StatusCode == http.StatusTooManyRequests:
		return nil, errSlow
	case resp.StatusCode >= 300 && resp.StatusCode < 400:
		return nil, errForeign
	case resp.StatusCode != http.StatusOK:
		return nil, errGone
	case resp.ContentLength > f.Max:
		return nil, f.tooBig(megabytes(resp.ContentLength))
	}
	b, err := io.ReadAll(io.LimitReader(resp.Body, f.Max+1))
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, errShort
	case err != nil:
		return nil, errSlow
	case int64(len(b)) > f.Max:
		return nil, f.tooBig("more than " + megabytes(f.Max))
	case int64(len(b)) < declared:
		return nil, errShort
	}
	return b, nil
}

func (f *fetcher) tooBig(size string) error {
	return fmt.Errorf("That file is %s; the most I read is %s. Split it or zip it.", size, megabytes(f.Max))
}

func megabytes(n int64) string {
	mb := float64(n) / (1 << 20)
	if mb == float64(int64(mb)) || mb >= 100 {
		return fmt.Sprintf("%.0f MB", mb)
	}
	return fmt.Sprintf("%.1f MB", mb)
}

var errPrivate = errors.New("not a public address")

// control refuses a connection by the address it is about to be made to, after
// every name has been resolved.
func (f *fetcher) control(_, address string, _ syscall.RawConn) error {
	ap, err := netip.ParseAddrPort(address)
	if err != nil {
		return errPrivate
	}
	ip := ap.Addr().Unmap()
	if ip.IsLoopback() {
		if slices.ContainsFunc(f.Hosts, func(h string) bool { return h == address || h == ip.String() }) {
			return nil
		}
		return errPrivate
	}
	if !public(ip) {
		return errPrivate
	}
	return nil
}

// Ranges that net/netip does not count as private but that lead nowhere public
// (IANA special-purpose address registries, RFC 6890): shared address space,
// protocol assignments, documentation, benchmarking, reserved, and the ways to
// write an IPv4 address inside an IPv6 one.
var special = []netip.Prefix{
	netip.MustParsePrefix("0.0.0.0/8"),
	netip.MustParsePrefix("100.64.0.0/10"),
	netip.MustParsePrefix("192.0.0.0/24"),
	netip.MustParsePrefix("192.0.2.0/24"),
	netip.MustParsePrefix("198.18.0.0/15"),
	netip.MustParsePrefix("198.51.100.0/24"),
	netip.MustParsePrefix("203.0.113.0/24"),
	netip.MustParsePrefix("240.0.0.0/4"),
	netip.MustParsePrefix("64:ff9b::/96"),
	netip.MustParsePrefix("64:ff9b:1::/48"),
	netip.MustParsePrefix("2001::/23"),
	netip.MustParsePrefix("2001:db8::/32"),
	netip.MustParsePrefix("2002::/16"),
	netip.MustParsePrefix("fec0::/10"),
}

func public(ip netip.Addr) bool {
	if !ip.IsGlobalUnicast() || ip.IsPrivate() {
		return false
	}
	return !slices.ContainsFunc(special, func(p netip.Prefix) bool { return p.Contains(ip) })
}

func loopbackHost(hostport string) bool {
	host := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		host = h
	}
	a, err := netip.ParseAddr(strings.Trim(host, "[]"))
	return err == nil && a.IsLoopback()
}
