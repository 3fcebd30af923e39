package try

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"rangepost/bot/standin"
)

// patience is how long what somebody did may take.
const patience = time.Minute

// An action does on the stand-in what a form asks for. Its errors are what the
// platform's own client says.
type action func(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error)

// act does it, keeps what opened or went wrong for the page, and leads there.
func (p *Page) act(w http.ResponseWriter, r *http.Request, a at, do action) {
	p.today(r.Context())
	ctx, cancel := context.WithTimeout(r.Context(), patience)
	defer cancel()
	// What does not fit in memory goes into a temporary file.
	err := r.ParseMultipartForm(mostBytes)
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		err = errors.New("that is larger than the 10 MB the platform takes")
	case errors.Is(err, http.ErrNotMultipart):
		err = nil
	}
	var out *standin.Outcome
	if err == nil {
		out, err = do(ctx, r, a)
	}
	var n now
	switch {
	case err != nil:
		n = now{p.now(a.tab()).form, said(err)} // what was open stays open
	case out == nil:
	case out.Failed != "":
		n.note = "The platform says: " + out.Failed + "."
	case out.Modal != nil:
		n.form = out.Modal
	}
	p.set(a.tab(), n)
	if r.MultipartForm != nil {
		r.MultipartForm.RemoveAll()
	}
	http.Redirect(w, r, path(a.Person, a.In), http.StatusSeeOther)
}

// today waits for the end of what is behind the people.
func (p *Page) today(ctx context.Context) {
	select {
	case <-p.Past:
	case <-ctx.Done():
	}
}

// said is an error of the stand-in as the platform's client would say it.
func said(err error) string {
	text := strings.TrimPrefix(err.Error(), "standin: ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

func (p *Page) command(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	name := r.PostFormValue("command")
	filled, err := p.options(r, a, name, "")
	if err != nil {
		return nil, err
	}
	if filled, err = p.chosen(ctx, a, name, filled); err != nil {
		return nil, err
	}
	return a.User.Slash(ctx, a.In, name, filled)
}

// chosen puts in place of a text that was offered while it was typed what it
// stands for. The page shows the text alone.
func (p *Page) chosen(ctx context.Context, a at, name string, filled standin.Options) (standin.Options, error) {
	for _, c := range p.typed() {
		if c.Name != name {
			continue
		}
		for _, o := range c.Options {
			text, ok := filled[o.Name].(string)
			if !o.Complete || !ok {
				continue
			}
			for _, typed := range []string{text, ""} {
				offered, err := a.User.Complete(ctx, a.In, name, without(filled, o.Name), o.Name, typed)
				if err != nil {
					return nil, err
				}
				for _, choice := range offered {
					if choice.Text == text {
						filled[o.Name] = choice
					}
				}
			}
		}
	}
	return filled, nil
}

func without(o standin.Options, name string) standin.Options {
	rest := standin.Options{}
	for k, v := range o {
		if k != name {
			rest[k] = v
		}
	}
	return rest
}

// complete is what is offered for an option while it is typed, as a list of
// texts.
func (p *Page) complete(w http.ResponseWriter, r *http.Request, a at) {
	p.today(r.Context())
	ctx, cancel := context.WithTimeout(r.Context(), patience)
	defer cancel()
	name, option := r.FormValue("command"), r.FormValue("option")
	texts := []string{}
	filled, err := p.options(r, a, name, option)
	if err == nil {
		var offered []standin.Choice
		offered, err = a.User.Complete(ctx, a.In, name, filled, option, r.FormValue("o."+option))
		for _, c := range offered {
			texts = append(texts, c.Text)
		}
	}
	if err != nil && ctx.Err() == nil {
		p.Log.Info("nothing offered", "command", name, "option", option, "err", err)
	}
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(texts)
}

// sample posts one of the files for who has none at hand.
func (p *Page) sample(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	for _, f := range p.Samples {
		if f.Name == r.PostFormValue("sample") {
			return a.User.Slash(ctx, a.In, "post", standin.Options{"file": f})
		}
	}
	return nil, errors.New("there is no such file")
}

func (p *Page) press(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	m, err := message(a, r.PostFormValue("message"))
	if err != nil {
		return nil, err
	}
	return a.User.Press(ctx, m, r.PostFormValue("path"))
}

func (p *Page) choose(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	m, err := message(a, r.PostFormValue("message"))
	if err != nil {
		return nil, err
	}
	return a.User.Choose(ctx, m, r.PostFormValue("path"), r.PostForm["value"]...)
}

// use uses a command on a message.
func (p *Page) use(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	m, err := message(a, r.PostFormValue("message"))
	if err != nil {
		return nil, err
	}
	return a.User.Use(ctx, m, r.PostFormValue("command"))
}

// submit sends the form that opened.
func (p *Page) submit(ctx context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	m := p.now(a.tab()).form
	if m == nil {
		return nil, errors.New("that form is closed")
	}
	fields := map[string]string{}
	var handed []standin.File
	for _, f := range m.Fields {
		if f.Files == 0 {
			fields[f.ID] = strings.ReplaceAll(r.PostFormValue("o."+f.ID), "\r\n", "\n")
			continue
		}
		files, err := files(r, "o."+f.ID)
		if err != nil {
			return nil, err
		}
		handed = append(handed, files...)
	}
	return a.User.Submit(ctx, m, fields, handed...)
}

// close closes what opened and what was noted.
func (p *Page) close(context.Context, *http.Request, at) (*standin.Outcome, error) { return nil, nil }

// say writes a message, with a file or without. Who answers it, and whether
// anybody does, is not waited for.
func (p *Page) say(_ context.Context, r *http.Request, a at) (*standin.Outcome, error) {
	text := strings.TrimSpace(r.PostFormValue("o.text"))
	handed, err := files(r, "o.file")
	switch {
	case err != nil:
		return nil, err
	case text == "" && len(handed) == 0:
		return nil, fmt.Errorf("there is nothing to send")
	case len([]rune(text)) > 2000:
		return nil, fmt.Errorf("a message has at most 2,000 characters")
	}
	a.User.Say(a.In, text, handed...)
	return nil, nil
}
