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
	Days         []transcriptDay
	files        map[string][]byte
	names        *strings.Replacer // of mentions, as the platform shows them
}

type transcriptDay struct {
	Date  string
	Lines []line
}

// A line is one thing that became visible.
type line struct {
	Time, Place, Actor string
	Bot                bool
	OnlyFor            string // who alone sees it, "" for everybody in the place
	Edited             bool
	Text               string
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
		d.Lines = append(d.Lines, l)
	}
	return p
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
