package discord_test

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

// Files come only from the platform's own file hosts, whole, and not too big;
// whatever else happens is said in words.
func TestFetch(t *testing.T) {
	t.Parallel()
	s, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	place := s.Server("Saltmarsh Links").Channel("range")
	wren := s.User("Wren")
	elsewhere := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		t.Errorf("%s was asked", r.Host)
	}))
	defer elsewhere.Close()
	other := strings.TrimPrefix(elsewhere.URL, "http://")
	const (
		foreign = "I only read files that were posted here. Post the file itself, not a link to it."
		gone    = "The platform no longer has that file. Post it again."
		part    = "The platform handed over only a part of that file, so I have not read it. Please post it again."
		slow    = "The platform did not hand over that file in time. Please try again in a minute."
	)
	// What the stand-in's file host serves at an address is posted there first.
	posted := func(f standin.File) string {
		t.Helper()
		return wren.PostedURL(wren.Say(place, "", f), 0)
	}
	good := posted(standin.File{Name: "a.csv", Bytes: []byte("club,carry")})
	for _, c := range []struct {
		name, url string
		declared  int64
		rule      standin.Rule
		want      string // the error, "" for success
	}{
		{name: "good", url: good},
		{name: "as long as declared", url: good, declared: 10},
		{name: "longer than declared", url: good, declared: 3},
		{name: "declared as nonsense", url: good, declared: -1},
		{name: "shorter than declared", url: good, declared: 11, want: part},
		{name: "declared far too big", url: good, declared: 1 << 40, want: part},
		{name: "12 MB, declared small", url: posted(standin.File{Name: "b.csv", Bytes: make([]byte, 12<<20)}), declared: 5, want: "That file is 12 MB; the most I read is 10 MB. Split it or zip it."},
		{name: "exactly 10 MB", url: posted(standin.File{Name: "b.csv", Bytes: make([]byte, 10<<20)})},
		{name: "another host", url: elsewhere.URL + "/a.csv", want: foreign},
		{name: "another port of the host", url: "http://127.0.0.1:1/a.csv", want: foreign},
		{name: "the host as a user name", url: "http://" + s.CDNHost() + "@" + other + "/a.csv", want: foreign},
		{name: "a host that begins with it", url: "https://cdn.discordapp.com.saltmarsh.example/a.csv", want: foreign},
		{name: "the platform without TLS", url: "http://cdn.discordapp.com/a.csv", want: foreign},
		{name: "a file on this machine", url: "file:///etc/passwd", want: foreign},
		{name: "a name for this machine", url: "https://localhost/a.csv", want: foreign},
		{name: "cloud metadata", url: "http://169.254.169.254/latest", want: foreign},
		{name: "no address", url: "", want: foreign},
		{name: "nonsense", url: "http://[::1", want: foreign},
		{name: "redirect to another host", url: good, rule: standin.Rule{Path: "/attachments", Redirect: elsewhere.URL}, want: foreign},
		{name: "redirect to itself", url: good, rule: standin.Rule{Path: "/attachments", Redirect: good}, want: foreign},
		{name: "unsigned", url: strings.SplitN(good, "?", 2)[0], want: gone},
		{name: "gone", url: good, rule: standin.Rule{Path: "/attachments", Status: 404}, want: gone},
		{name: "server error, then fine", url: good, rule: standin.Rule{Path: "/attachments", Status: 503, Times: 1}},
		{name: "server error for good", url: good, rule: standin.Rule{Path: "/attachments", Status: 503}, want: slow},
		{name: "cut in the middle, then fine", url: good, rule: standin.Rule{Path: "/attachments", CutAfter: 4, Times: 1}},
		{name: "cut for good", url: good, rule: standin.Rule{Path: "/attachments", CutAfter: 4}, want: part},
		{name: "slow", url: good, rule: standin.Rule{Path: "/attachments", Delay: 3 * time.Second}, want: slow},
	} {
		t.Run(c.name, func(t *testing.T) {
			fetch := discord.NewFetcher(discord.FetchConfig{
				Hosts: []string{s.CDNHost(), "cdn.discordapp.com", "localhost"}, Within: 2 * time.Second,
			})
			if c.rule.Path != "" {
				s.Break(c.rule)
				defer s.Heal()
			}
			b, err := fetch(t.Context(), bot.Attachment{ID: "1", Name: "a.csv", URL: c.url, Size: c.declared})
			switch {
			case c.want == "" && err != nil:
				t.Errorf("got %v", err)
			case c.want != "" && (err == nil || err.Error() != c.want):
				t.Errorf("got %v, want %s", err, c.want)
			case c.want == "" && !bytes.HasPrefix(b, []byte("club,carry")) && len(b) != 10<<20:
				t.Errorf("read %d bytes", len(b))
			}
		})
	}
}
