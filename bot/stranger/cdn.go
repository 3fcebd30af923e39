package stranger

import (
	"archive/zip"
	"bytes"
	"io"
	"net/http"
	"path"
	"strconv"
	"strings"
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
	case "hang", "shut":
		for end := time.Now().Add(40 * time.Second); time.Now().Before(end) && p.pause(r, 100*time.Millisecond); {
			if how == "shut" && !p.drawer.shut.Load() {
				break
			}
		}
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

// text is what can be read in a file: text as it is, the names and the texts
// of an archive, and nothing of a picture.
func (f *posted) text() string {
	switch path.Ext(strings.ToLower(f.name)) {
	case ".csv", ".json", ".txt", ".md":
		return string(f.body)
	case ".zip":
		z, err := zip.NewReader(bytes.NewReader(f.body), int64(len(f.body)))
		if err != nil {
			return ""
		}
		var b strings.Builder
		for _, e := range z.File {
			b.WriteString("\n" + e.Name + "\n")
			if r, err := e.Open(); err == nil {
				t, _ := io.ReadAll(io.LimitReader(r, 8<<20))
				r.Close()
				b.WriteString((&posted{name: e.Name, body: t}).text())
			}
		}
		return b.String()
	}
	return ""
}
