package try

import (
	"fmt"
	"net/http"
	"time"
)

// settle is how long changes are gathered before the page is told of them: a
// reply comes in several steps.
const settle = 40 * time.Millisecond

// changes tells a page that it shows a version of the conversation that has
// passed, for as long as it is open: one event, after which the page is read
// anew, says the version that there is now.
func (p *Page) changes(w http.ResponseWriter, r *http.Request, a at) {
	w.Header().Set("Content-Type", "text/event-stream")
	shown := r.URL.Query().Get("version")
	past := p.Past
	control := http.NewResponseController(w)
	for {
		changed := p.Stand.Changed()
		_, _, version, err := p.articles(a)
		if err == nil && version != shown {
			shown = version
			_, err = fmt.Fprintf(w, "data: %s\n\n", version)
		}
		if err == nil {
			err = control.Flush()
		}
		if err != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-changed:
		case <-past:
			past = nil
		}
		select {
		case <-r.Context().Done():
			return
		case <-time.After(settle):
		}
	}
}
