package discord

import "testing"

// Addresses a name may turn out to mean. The ranges are those of the IANA
// special-purpose address registries (RFC 6890) [M].
func TestControl(t *testing.T) {
	f := &fetcher{FetchConfig: FetchConfig{Hosts: []string{"127.0.0.1:4000", "cdn.discordapp.com"}}}
	for address, want := range map[string]bool{
		"162.159.130.233:443":            true,
		"[2606:4700::6810:1]:443":        true,
		"127.0.0.1:4000":                 true, // the stand-in named in the configuration
		"127.0.0.1:4001":                 false,
		"127.0.0.2:4000":                 false,
		"[::1]:443":                      false,
		"0.0.0.0:80":                     false,
		"10.1.2.3:443":                   false,
		"172.16.0.1:443":                 false,
		"192.168.1.1:443":                false,
		"169.254.169.254:80":             false,
		"100.64.0.1:443":                 false,
		"192.0.0.8:443":                  false,
		"198.18.0.1:443":                 false,
		"203.0.113.9:443":                false,
		"224.0.0.1:443":                  false,
		"255.255.255.255:443":            false,
		"[::ffff:10.0.0.1]:443":          false,
		"[::ffff:127.0.0.1]:443":         false,
		"[fe80::1]:443":                  false,
		"[fd00::1]:443":                  false,
		"[64:ff9b::a00:1]:443":           false, // 10.0.0.1 through NAT64
		"[2002:a00:1::1]:443":            false, // 10.0.0.1 through 6to4
		"[2001:db8::1]:443":              false,
		"cdn.discordapp.com:443":         false, // not an address at all
		"[2606:4700::6810:1%eth0]:80:80": false,
	} {
		if got := f.control("tcp", address, nil) == nil; got != want {
			t.Errorf("control(%s) allows: %v, want %v", address, got, want)
		}
	}
}
