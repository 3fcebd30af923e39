package main

import (
	"bytes"
	"cmp"
	_ "embed"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"strings"

	"rangepost/bot/standin"
)

//go:embed transcript.html.tmpl
var transcriptPage string

// A page is the transcript of a play, ready to be written out.
type page struct {
	Title, About string
	Shown        []sample
	Days         []transcriptDay
	files        map[string][]byte
	names        *strings.Replacer // of mentions, as the platform shows them
}

type transcriptDay struct {
	Date  string
	Lines []line
}

// A sample is a picture that the page begins with: what the bot is for.
type sample struct {
	pictureFile
	Line string // of words
	At   string // the line of the transcript it stands in
}

// worthShowing are those pictures: of each the first that is called so and has
// that in its alternative text.
var worthShowing = []struct{ name, has, line string }{
	{"post.png", "", "A file of balls becomes one sentence and one picture: why they finished there."},
	{"trial.png", "", "Sets beside each other: did the change of setup move the club?"},
	{"timeline.png", "", "A number over the weeks, with the lessons marked: did it move, and does it last?"},
	{"standings.png", "win", "The club's contests on posted sessions, and who is really apart."},
}

// A line is one thing that became visible.
type line struct {
	ID                 string
	Time, Place, Actor string
	Bot                bool
	OnlyFor            string // who alone sees it, "" for everybody in the place
	Edited             bool
	Text               string
	Folded             bool // it is long, and about settings
	Pictures           []pictureFile
	Files              []string
	Buttons, Menus     []string
}

type pictureFile struct{ Name, Alt string }

// newPage makes a page of everything that became visible on a stage. Messages
// that only say that work goes on are left out. names are what mentions show
// as, by what stands for them in a text.
func newPage(title, about string, entries []standin.Entry, names map[string]string) *page {
	p := &page{Title: title, About: about, files: map[string][]byte{}}
	var pairs []string
	for mention, name := range names {
		pairs = append(pairs, mention, name)
	}
	p.names = strings.NewReplacer(pairs...)
	for _, e := range entries {
		l, ok := p.line(e)
		if !ok {
			continue
		}
		date := e.At.Format("Monday 2 January 2006")
		if n := len(p.Days); n == 0 || p.Days[n-1].Date != date {
			p.Days = append(p.Days, transcriptDay{Date: date})
		}
		d := &p.Days[len(p.Days)-1]
		l.ID = fmt.Sprintf("line-%d", p.lines()+1)
		d.Lines = append(d.Lines, l)
	}
	for _, w := range worthShowing {
		if s, ok := p.first(w.name, w.has); ok {
			s.Line = w.line
			p.Shown = append(p.Shown, s)
		}
	}
	return p
}

// first is the first picture that is called so and has that in its alternative
// text.
func (p *page) first(name, has string) (s sample, ok bool) {
	for _, d := range p.Days {
		for _, l := range d.Lines {
			for _, f := range l.Pictures {
				if strings.HasSuffix(f.Name, "-"+name) && strings.Contains(f.Alt, has) {
					return sample{pictureFile: f, At: l.ID}, true
				}
			}
		}
	}
	return s, false
}

// aboutSettings reports whether an answer to what was typed says how things are
// set or done here, rather than what happened to a ball.
func aboutSettings(typed string) bool {
	for _, of := range []string{"/clubhouse", "/mine", "/help"} {
		if strings.HasPrefix(typed, of) {
			return true
		}
	}
	return false
}

// Begins is what is seen of a folded text: its first line.
func (l line) Begins() string {
	first, _, _ := strings.Cut(l.Text, "\n")
	return first
}

func (p *page) line(e standin.Entry) (line, bool) {
	l := line{Time: e.At.Format("15:04"), Place: place(e), Actor: e.Actor, OnlyFor: e.Viewer}
	switch e.Kind {
	case standin.Typed, standin.Pressed:
		l.Text = e.Text
	case standin.Opened:
		l.Actor, l.Bot, l.OnlyFor = e.Message.Author, true, e.Actor
		l.Text = "(a form opens) " + e.Modal.Title
		for _, f := range e.Modal.Fields {
			l.Text += fmt.Sprintf("\n%s: %s", f.Label, stands(f))
		}
	case standin.Posted, standin.Edited:
		m := e.Message
		if m.Text == "" && len(m.Files) == 0 {
			return l, false
		}
		l.Actor, l.Bot, l.Edited = m.Author, m.Author == e.Actor, e.Kind == standin.Edited
		l.Text = unescape(p.names.Replace(m.Text))
		l.Folded = aboutSettings(m.Asked) && strings.Contains(l.Text, "\n")
		for _, f := range m.Files {
			name := fmt.Sprintf("%03d-%s", len(p.files)+1, filepath.Base(f.Name))
			p.files[name] = f.Bytes
			if strings.HasPrefix(string(f.Bytes), "\x89PNG") {
				l.Pictures = append(l.Pictures, pictureFile{name, f.Alt})
				continue
			}
			l.Files = append(l.Files, name)
		}
		l.Buttons = m.Labels()
		for _, menu := range m.Menus {
			choices := make([]string, len(menu.Choices))
			for i, c := range menu.Choices {
				choices[i] = c.Text
			}
			l.Menus = append(l.Menus, menu.Placeholder+": "+strings.Join(choices, " / "))
		}
	case standin.Deleted:
		return l, false
	case standin.Unsettled:
		l.Text = "(no answer came)"
	}
	return l, true
}

// stands is what somebody sees in a field of a form that has just opened.
func stands(f standin.Field) string {
	for _, c := range f.Choices {
		if c.Value == f.Value {
			return c.Text
		}
	}
	return cmp.Or(f.Hint, f.Value, f.Placeholder)
}

func place(e standin.Entry) string {
	switch {
	case e.Direct:
		return "direct message"
	case e.Thread:
		return "thread " + e.Channel
	}
	return "#" + e.Channel
}

// unescape shows text as the platform shows it: without the backslashes that
// keep somebody's words from being taken for markup.
func unescape(text string) string {
	var b strings.Builder
	runes := []rune(text)
	for i := 0; i < len(runes); i++ {
		if runes[i] == '\\' && i+1 < len(runes) && strings.ContainsRune("\\*_~`|<>#[]().-+", runes[i+1]) {
			i++
		}
		if runes[i] != '\u200b' {
			b.WriteRune(runes[i])
		}
	}
	return b.String()
}

// write puts the page, the same as text, and every file under dir.
func (p *page) write(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, "files"), 0o755); err != nil {
		return err
	}
	for name, data := range p.files {
		if err := os.WriteFile(filepath.Join(dir, "files", name), data, 0o644); err != nil {
			return err
		}
	}
	t, err := template.New("transcript").Parse(transcriptPage)
	if err != nil {
		return err
	}
	var html bytes.Buffer
	if err := t.Execute(&html, p); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "index.html"), html.Bytes(), 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "transcript.txt"), []byte(p.text()), 0o644)
}

// text is the page for a terminal.
func (p *page) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", p.Title, p.About)
	for _, d := range p.Days {
		fmt.Fprintf(&b, "\n== %s\n", d.Date)
		for _, l := range d.Lines {
			only := ""
			if l.OnlyFor != "" {
				only = ", for " + l.OnlyFor + " alone"
			}
			fmt.Fprintf(&b, "\n%s  %s (%s%s)\n", l.Time, l.Actor, l.Place, only)
			for _, part := range strings.Split(l.Text, "\n") {
				fmt.Fprintf(&b, "    %s\n", part)
			}
			for _, f := range l.Pictures {
				fmt.Fprintf(&b, "    [picture files/%s: %s]\n", f.Name, f.Alt)
			}
			for _, f := range l.Files {
				fmt.Fprintf(&b, "    [file files/%s]\n", f)
			}
			if len(l.Buttons) > 0 {
				fmt.Fprintf(&b, "    [%s]\n", strings.Join(l.Buttons, "] ["))
			}
			for _, m := range l.Menus {
				fmt.Fprintf(&b, "    <%s>\n", m)
			}
		}
	}
	return b.String()
}

// lines counts what became visible.
func (p *page) lines() (n int) {
	for _, d := range p.Days {
		n += len(d.Lines)
	}
	return n
}
