package try

import (
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

// A door of a test has a page behind it that says who was let in.
func door(t *testing.T) (d *Door, said *[]string) {
	t.Helper()
	said = &[]string{}
	inside := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusTeapot) })
	d = NewDoor(inside, "127.0.0.1", &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8082}, func(address string) { *said = append(*said, address) })
	return d, said
}

// knock is what somebody gets who asks at the door.
func knock(d *Door, method, address string, with func(*http.Request)) *http.Response {
	r := httptest.NewRequest(method, address, nil)
	if with != nil {
		with(r)
	}
	w := httptest.NewRecorder()
	d.ServeHTTP(w, r)
	return w.Result()
}

func TestKeyWorksOnce(t *testing.T) {
	d, said := door(t)
	first := (*said)[0]
	got := knock(d, "GET", first, nil)
	if got.StatusCode != http.StatusSeeOther || got.Header.Get("Location") != "/" || len(got.Cookies()) != 1 {
		t.Fatalf("the key gives %d to %q with %d cookies", got.StatusCode, got.Header.Get("Location"), len(got.Cookies()))
	}
	cookie := got.Cookies()[0]
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteLaxMode {
		t.Errorf("the cookie is %+v", cookie)
	}
	if strings.Contains(first, cookie.Value) {
		t.Error("the cookie is the key")
	}
	if got := knock(d, "GET", "http://127.0.0.1:8082/", func(r *http.Request) { r.AddCookie(cookie) }); got.StatusCode != http.StatusTeapot {
		t.Errorf("with the cookie: %d", got.StatusCode)
	}
	if got := knock(d, "GET", first, nil); got.StatusCode != http.StatusForbidden || len(got.Cookies()) != 0 {
		t.Errorf("the key a second time: %d", got.StatusCode)
	}
	if len(*said) != 2 || (*said)[1] == first {
		t.Fatalf("after a key was used twice these were said: %q", *said)
	}
	knock(d, "GET", first, nil)
	if len(*said) != 2 {
		t.Errorf("whoever knocks again and again has another address said each time")
	}
	if got := knock(d, "GET", (*said)[1], nil); got.StatusCode != http.StatusSeeOther {
		t.Errorf("the second key: %d", got.StatusCode)
	}
}

func TestDoorIsClosedToOthers(t *testing.T) {
	d, said := door(t)
	cookie := knock(d, "GET", (*said)[0], nil).Cookies()[0]
	in := func(r *http.Request) { r.AddCookie(cookie) }
	for _, c := range []struct {
		what, method, address string
		with                  func(*http.Request)
		want                  int
	}{
		{"nobody", "GET", "http://127.0.0.1:8082/", nil, http.StatusForbidden},
		{"a wrong key", "GET", "http://127.0.0.1:8082/?key=ABC", nil, http.StatusForbidden},
		{"an empty key", "GET", "http://127.0.0.1:8082/?key=", nil, http.StatusForbidden},
		{"another cookie", "GET", "http://127.0.0.1:8082/", func(r *http.Request) {
			r.AddCookie(&http.Cookie{Name: cookie.Name, Value: "x"})
		}, http.StatusForbidden},
		{"a name made to point here", "GET", "http://rebound.example:8082/", in, http.StatusMisdirectedRequest},
		{"another port", "GET", "http://127.0.0.1:8083/", in, http.StatusMisdirectedRequest},
		{"localhost", "GET", "http://localhost:8082/", in, http.StatusTeapot},
		{"a form of ours", "POST", "http://127.0.0.1:8082/", func(r *http.Request) {
			in(r)
			r.Header.Set("Sec-Fetch-Site", "same-origin")
		}, http.StatusTeapot},
		{"a form of another page", "POST", "http://127.0.0.1:8082/", func(r *http.Request) {
			in(r)
			r.Header.Set("Sec-Fetch-Site", "cross-site")
		}, http.StatusForbidden},
		{"a form of another page, from an old browser", "POST", "http://127.0.0.1:8082/", func(r *http.Request) {
			in(r)
			r.Header.Set("Origin", "http://127.0.0.1:9999")
		}, http.StatusForbidden},
	} {
		got := knock(d, c.method, c.address, c.with)
		if got.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", c.what, got.StatusCode, c.want)
		}
		if p := got.Header.Get("Content-Security-Policy"); !strings.Contains(p, "default-src 'none'") || strings.Contains(p, "unsafe") {
			t.Errorf("%s: the policy is %q", c.what, p)
		}
	}
}

// What is listened for beyond this machine is opened at a number of it, or at the
// name that was asked for.
func TestDoorGoesByItsName(t *testing.T) {
	for _, c := range []struct{ host, says string }{
		{"", "127.0.0.1:80"}, {"0.0.0.0", "127.0.0.1:80"}, {"range.lan", "range.lan:80"}, {"::1", "[::1]:80"},
	} {
		var said string
		d := NewDoor(http.NotFoundHandler(), c.host, &net.TCPAddr{Port: 80}, func(address string) { said = address })
		at, err := url.Parse(said)
		if err != nil || at.Host != c.says {
			t.Errorf("listening at %q says %q (%v)", c.host, said, err)
		}
		if !d.named(c.says) || d.named("elsewhere.lan:80") {
			t.Errorf("listening at %q it goes by the wrong name", c.host)
		}
	}
}
