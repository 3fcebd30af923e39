package try

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"html/template"
	"image/png"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/bot/standin"
)

// few is how many of the latest messages a page has until somebody asks for all.
const few = 8

// view is what the page is made of.
type view struct {
	Path           string // of this person in this place
	Who            at
	People, Places []link
	Form           *form
	Note           string
	Samples        []string
	Groups         []group
	Playing        bool // what is behind these people
	Begin          string
	Earlier        int // messages left out
	Version        string
	Pins, Articles []article
}

type link struct {
	Path, Text, More string
	Here             bool
}

// An article is a message as this person sees it.
type article struct {
	ID      string
	Version string // changes with anything that is seen of it
	HTML    template.HTML
}

// messageView is what an article is made of.
type messageView struct {
	standin.Message
	Path   string
	Bot    bool
	Said   template.HTML
	Time   time.Time
	Files  []fileView
	OnFile []string // commands that can be used on it
}

type fileView struct {
	Name, Alt, Path string
	Picture         bool
	Width, Height   int // pixels
}

// show is the page.
func (p *Page) show(w http.ResponseWriter, r *http.Request, a at) {
	v, err := p.view(a, r.URL.Query().Has("all"))
	if err == nil {
		var b bytes.Buffer
		if err = pages().ExecuteTemplate(&b, "page.html.tmpl", v); err == nil {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.Write(b.Bytes())
			return
		}
	}
	p.Log.Error("a page could not be made", "err", err)
	http.Error(w, "This page could not be made; the terminal says why.", http.StatusInternalServerError)
}

func (p *Page) view(a at, all bool) (view, error) {
	v := view{Path: path(a.Person, a.In), Who: a}
	for _, who := range p.People {
		v.People = append(v.People, link{path(who, who.Home), who.User.Name, who.Is, who.User == a.User})
	}
	for _, c := range p.places(a.Person) {
		v.Places = append(v.Places, link{path(a.Person, c), c.Label(), "", c == a.In})
	}
	for _, s := range p.Samples {
		v.Samples = append(v.Samples, s.Name)
	}
	n := p.now(a.tab())
	v.Playing = p.playing()
	v.Note, v.Form, v.Groups = n.note, p.opened(n.form), p.groups(a)
	v.Begin = p.Begin
	var err error
	v.Pins, v.Articles, v.Version, err = p.articles(a)
	if !all && len(v.Articles) > few {
		v.Earlier = len(v.Articles) - few
		v.Articles = v.Articles[:few]
	}
	return v, err
}

// articles are the messages of a place, the newest first, with those that are pinned
// apart, which stand above however much is said later, and the version of them all.
func (p *Page) articles(a at) (pins, all []article, version string, err error) {
	names := p.Stand.Names()
	sum := fnv.New64a()
	for _, m := range a.In.Messages(a.User) {
		v := messageView{
			Message: m, Path: path(a.Person, a.In), Bot: m.Author == p.Stand.Bot().Name,
			Said: markup(m.Text, names), Time: m.At.Local(),
		}
		for i, f := range m.Files {
			file := fileView{Name: f.Name, Alt: f.Alt, Path: fmt.Sprintf("%s/file/%s/%d", v.Path, m.ID, i)}
			if size, err := png.DecodeConfig(bytes.NewReader(f.Bytes)); err == nil {
				file.Picture, file.Width, file.Height = true, size.Width, size.Height
			}
			v.Files = append(v.Files, file)
		}
		if len(m.Files) > 0 && !v.Bot {
			for _, c := range p.Commands {
				if c.OnFile {
					v.OnFile = append(v.OnFile, c.Name)
				}
			}
		}
		var b bytes.Buffer
		if err := pages().ExecuteTemplate(&b, "message", v); err != nil {
			return nil, nil, "", err
		}
		own := fnv.New64a()
		own.Write(b.Bytes())
		sum.Write(b.Bytes())
		made := article{m.ID, strconv.FormatUint(own.Sum64(), 36), template.HTML(b.String())}
		if m.Pinned {
			pins = append(pins, made)
			continue
		}
		all = append(all, made)
	}
	fmt.Fprint(sum, p.playing())
	slices.Reverse(pins)
	slices.Reverse(all)
	return pins, all, strconv.FormatUint(sum.Sum64(), 36), nil
}

// playing reports whether what is behind the people is still being played.
func (p *Page) playing() bool {
	select {
	case <-p.Past:
		return false
	default:
		return true
	}
}

func isPicture(f standin.Attachment) bool { return bytes.HasPrefix(f.Bytes, []byte("\x89PNG")) }

// file hands over a file of a message this person sees. Whatever it holds, a
// browser takes it for a picture or for something to keep.
func (p *Page) file(w http.ResponseWriter, r *http.Request, a at) {
	n, err := strconv.Atoi(r.PathValue("n"))
	for _, m := range a.In.Messages(a.User) {
		if err != nil || m.ID != r.PathValue("message") || n < 0 || n >= len(m.Files) {
			continue
		}
		f := m.Files[n]
		h := w.Header()
		h.Set("Content-Type", "application/octet-stream")
		h.Set("Content-Disposition", "attachment; filename="+strconv.QuoteToASCII(f.Name))
		if isPicture(f) {
			h.Set("Content-Type", "image/png")
			h.Set("Content-Disposition", "inline")
			h.Set("Cache-Control", "private, max-age=31536000, immutable")
		}
		w.Write(f.Bytes)
		return
	}
	http.Error(w, "There is no such file here.", http.StatusNotFound)
}

// slug is a name in an address.
func slug(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "-") }

// place is a channel in an address.
func place(c *standin.Channel) string {
	if c.Server() == nil {
		return "direct"
	}
	s, before := slug(c.Name), 0
	for _, other := range c.Server().Channels() {
		if other == c {
			break
		}
		if slug(other.Name) == s {
			before++
		}
	}
	if before > 0 { // a thread has the name of an older one
		return fmt.Sprint(s, "-", before+1)
	}
	return s
}

// message is one this person sees in this place.
func message(a at, id string) (*standin.Message, error) {
	all := a.In.Messages(a.User)
	i := slices.IndexFunc(all, func(m standin.Message) bool { return m.ID == id })
	if i < 0 {
		return nil, fmt.Errorf("that message is gone")
	}
	return &all[i], nil
}
