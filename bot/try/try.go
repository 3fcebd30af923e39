package try

import (
	"embed"
	"fmt"
	"html/template"
	"log/slog"
	"net/http"
	"slices"
	"strings"
	"sync"

	"rangepost/bot"
	"rangepost/bot/standin"
)

// Config is what a page is made for.
type Config struct {
	Stand    *standin.Stand
	Server   *standin.Server
	People   []Person       // whom the visitor can be, the first of them at first
	Samples  []standin.File // session files for who has none at hand
	Commands []bot.Command
	Log      *slog.Logger
	Begin    string // what is said where nobody has written yet, "" for nothing more

	// Past is closed once what is behind the people has been played. It is shown
	// as it happens; what the visitor does waits for its end.
	Past <-chan struct{}
}

// A Person is somebody the visitor can be.
type Person struct {
	User *standin.User
	Is   string // what they are, in a few words
	Home *standin.Channel
}

// Page is the page, as an http.Handler.
type Page struct {
	Config
	mux *http.ServeMux

	mu   sync.Mutex
	tabs map[tab]*now
}

// A tab is a person in a place.
type tab struct{ who, where string }

// now is what stands between somebody and the conversation: the form that
// opened, or why what they did came to nothing.
type now struct {
	form *standin.Modal
	note string
}

//go:embed page.html.tmpl page.css page.js icon.svg
var assets embed.FS

// pages are made for the first of them: the binary is started for other things too.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").ParseFS(assets, "page.html.tmpl"))
})

// New makes a page.
func New(c Config) *Page {
	p := &Page{Config: c, mux: http.NewServeMux(), tabs: map[tab]*now{}}
	p.mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, path(p.People[0], p.People[0].Home), http.StatusSeeOther)
	})
	for _, name := range []string{"page.css", "page.js", "icon.svg"} {
		p.mux.HandleFunc("GET /"+name, func(w http.ResponseWriter, r *http.Request) { http.ServeFileFS(w, r, assets, name) })
	}
	p.at("GET ", p.show)
	p.at("GET /changes", p.changes)
	p.at("GET /file/{message}/{n}", p.file)
	p.at("POST /complete", p.complete)
	for action, do := range map[string]action{
		"command": p.command, "sample": p.sample, "press": p.press, "choose": p.choose, "submit": p.submit, "use": p.use, "say": p.say, "close": p.close,
	} {
		p.at("POST /"+action, func(w http.ResponseWriter, r *http.Request, a at) { p.act(w, r, a, do) })
	}
	return p
}

// at is where a request comes from.
type at struct {
	Person
	In *standin.Channel
}

func (a at) tab() tab { return tab{a.User.ID, a.In.ID} }

// at serves a path below a person in a place.
func (p *Page) at(pattern string, serve func(http.ResponseWriter, *http.Request, at)) {
	method, below, _ := strings.Cut(pattern, " ")
	p.mux.HandleFunc(method+" /as/{who}/in/{where}"+below, func(w http.ResponseWriter, r *http.Request) {
		for _, who := range p.People {
			if slug(who.User.Name) != r.PathValue("who") {
				continue
			}
			for _, c := range p.places(who) {
				if place(c) == r.PathValue("where") {
					serve(w, r, at{who, c})
					return
				}
			}
		}
		http.Error(w, "There is nobody or nothing of that name here.", http.StatusNotFound)
	})
}

func (p *Page) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.mux.ServeHTTP(w, r) }

// places are where somebody can write: of private threads, those they are in.
func (p *Page) places(who Person) []*standin.Channel {
	theirs := slices.DeleteFunc(p.Server.Channels(), func(c *standin.Channel) bool { return !c.Seen(who.User) })
	return append(theirs, who.User.Direct())
}

// now is what a tab shows besides the conversation.
func (p *Page) now(t tab) now {
	p.mu.Lock()
	defer p.mu.Unlock()
	if n := p.tabs[t]; n != nil {
		return *n
	}
	return now{}
}

func (p *Page) set(t tab, n now) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.tabs[t] = &n
}

func path(who Person, in *standin.Channel) string {
	return fmt.Sprintf("/as/%s/in/%s", slug(who.User.Name), place(in))
}
