package stranger

import (
	"net/http"
	"strconv"
	"time"
)

// serveCDN hands out files.
func (p *Platform) serveCDN(w http.ResponseWriter, r *http.Request) {
	p.mu.Lock()
	f := p.files[r.URL.Path]
	p.mu.Unlock()
	how := p.drawer.cdn(r.URL.Path)
	p.record.addf("cdn", "GET %s %s", r.URL.Path, how)
	if r.Header.Get("Authorization") != "" {
		p.judge.break_("secret sent away", "the CDN was sent an Authorization header")
	}
	if f == nil || how == "404" {
		http.Error(w, "This content is no longer available.", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", f.kind)
	switch how {
	case "500", "503", "429":
		n, _ := strconv.Atoi(how)
		if n == 429 {
			w.Header().Set("Retry-After", "1")
		}
		http.Error(w, "<html>trouble</html>", n)
	case "redirect":
		http.Redirect(w, r, p.URL+"/api/v10/users/@me", http.StatusFound)
	case "hang":
		p.pause(r, 40*time.Second)
		cut(w)
	case "short":
		w.Header().Set("Content-Length", strconv.Itoa(len(f.body)))
		w.Write(f.body[:len(f.body)/2])
		w.(http.Flusher).Flush()
		cut(w)
	case "slow":
		for i := 0; i < len(f.body); i += 1 + len(f.body)/8 {
			w.Write(f.body[i:min(len(f.body), i+1+len(f.body)/8)])
			w.(http.Flusher).Flush()
			if !p.pause(r, 200*time.Millisecond) {
				return
			}
		}
	case "longer": // than the message said; only rows that repeat the last one
		w.Write(f.body)
		w.Write(make([]byte, 64<<10))
	default:
		w.Write(f.body)
	}
}

// cut ends a connection without another word.
func cut(w http.ResponseWriter) {
	if h, ok := w.(http.Hijacker); ok {
		if conn, _, err := h.Hijack(); err == nil {
			conn.Close()
		}
	}
}
