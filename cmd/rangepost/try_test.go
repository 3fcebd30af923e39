package main

import (
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis/sessionfile"
	"rangepost/bot/standin"
	"rangepost/testdata"
)

// A reader is somebody on the page of try without a browser: what they send is
// forms, and what they get is the page they are led to.
type reader struct {
	t *testing.T
	*tryout
}

func read(t *testing.T, c tryCommand) reader {
	t.Helper()
	tried, err := c.open(t.Context(), streams{nil, io.Discard, io.Discard})
	if err != nil {
		t.Fatal(err)
	}
	if err := tried.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	return reader{t, tried}
}

func (r reader) close() {
	r.t.Helper()
	if err := r.tryout.close(); err != nil {
		r.t.Error(err)
	}
}

// get is a page.
func (r reader) get(path string) string {
	r.t.Helper()
	w := httptest.NewRecorder()
	r.page.ServeHTTP(w, httptest.NewRequest("GET", path, nil))
	if w.Code != http.StatusOK {
		r.t.Fatalf("%s: %d %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

// post is the page after a form was sent.
func (r reader) post(path string, fields ...string) string {
	r.t.Helper()
	form := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	asked := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	asked.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	r.page.ServeHTTP(w, asked)
	if w.Code != http.StatusSeeOther {
		r.t.Fatalf("%s: %d %s", path, w.Code, w.Body)
	}
	return r.get(w.Header().Get("Location"))
}

// id is whom or what an option of a page's forms means by a name.
func (r reader) id(page, name string) string {
	r.t.Helper()
	before, _, ok := strings.Cut(page, `">`+name+`</option>`)
	if !ok {
		r.t.Fatalf("no form offers %s", name)
	}
	return before[strings.LastIndexByte(before, '"')+1:]
}

// attribute is the last value in a part of a page that stands after a text.
func attribute(page, after string) string {
	value, _, _ := strings.Cut(page[strings.LastIndex(page, after)+len(after):], `"`)
	return value
}

// newestOf is the newest message of a page, of those that are not pinned.
func newestOf(page string) string {
	_, from, _ := strings.Cut(page, `id="conversation"`)
	_, from, _ = strings.Cut(from, "<article")
	newest, _, _ := strings.Cut(from, "</article>")
	return newest
}

// Everything is done by forms, without a script: rows are handed over in the form
// that the bot opens.
func TestTryNeedsNoScript(t *testing.T) {
	t.Parallel()
	r := read(t, tryCommand{Empty: true})
	defer r.close()
	const priya = "/as/priya/in/practice"
	opened := r.post(priya+"/command", "command", "post")
	if !strings.Contains(opened, `action="`+priya+`/submit"`) || !strings.Contains(opened, `name="o.rows"`) {
		t.Fatalf("no form opens:\n%s", opened)
	}
	answered := r.post(priya+"/submit", "o.rows", "7i, carry 148 yd, 6 right, face 2 open\r\n7i, carry 151 yd, 1 left, face 1 closed\r\n7i, carry 144 yd, 9 right, face 3 open")
	if got := newestOf(answered); !strings.Contains(got, "<img") || !strings.Contains(got, "only you see this") {
		t.Errorf("the rows are answered with:\n%s", got)
	}
	if strings.Contains(answered, `name="o.rows"`) {
		t.Error("the form is still open")
	}
	if refused := r.post(priya+"/command", "command", "sets"); !strings.Contains(refused, "needs &#34;session&#34;") {
		t.Errorf("a command without what it needs is sent: %s", newestOf(refused))
	}
	if got := newestOf(r.post(priya+"/command", "command", "roster")); !strings.Contains(got, "No role is the coaches") {
		t.Errorf("an empty club has a coach: %s", got)
	}
	if page := r.get(priya); strings.Contains(page, `data-name="clubhouse`) {
		t.Error("a golfer is offered what only managers are offered")
	}
}

// What was tried is there again at the next start, and belongs to the same people:
// what the bot knows, and what was said, with buttons that still do what they say.
func TestTryKeeps(t *testing.T) {
	t.Parallel()
	c := tryCommand{DB: filepath.Join(t.TempDir(), "try.db")}
	const coach = "/as/coach/in/practice"
	for _, start := range []string{"first", "second"} {
		r := read(t, c)
		wren := r.id(r.get(coach), "Wren")
		if got := newestOf(r.post(coach+"/command", "command", "timeline", "o.student", wren, "o.number", "face")); !strings.Contains(got, "<img") {
			t.Errorf("at the %s start the coach sees no timeline of Wren's:\n%s", start, got)
		}
		const wrens = "/as/wren/in/wren"
		page := r.get(wrens + "?all")
		if n := strings.Count(page, ">How am I doing"); n != 1 {
			t.Errorf("at the %s start there are %d messages with Wren's buttons", start, n)
		}
		// However much was said since, they stand above it.
		if top, _, _ := strings.Cut(r.get(wrens), `id="conversation"`); !strings.Contains(top, ">How am I doing") {
			t.Errorf("at the %s start the page of Wren's thread does not begin with what is pinned", start)
		}
		if !strings.Contains(page, "wren-1-first.csv") {
			t.Errorf("at the %s start Wren's first post is not there", start)
		}
		before, _, _ := strings.Cut(page, ">How am I doing")
		button, id := attribute(before, `name="path" value="`), attribute(before, `name="message" value="`)
		if got := newestOf(r.post(wrens+"/press", "message", id, "path", button)); !strings.Contains(got, "[How am I doing") {
			t.Errorf("at the %s start the button does nothing: %s", start, got)
		}
		r.close()
	}
}

// An empty club is as bare as one of one's own, at the next start as well: the only
// thread in it is the one that was opened.
func TestTryEmptyIsEmpty(t *testing.T) {
	t.Parallel()
	c := tryCommand{DB: filepath.Join(t.TempDir(), "try.db"), Empty: true}
	const steward, wren = "/as/steward/in/practice", "/as/wren/in/practice"
	for _, start := range []string{"first", "second"} {
		r := read(t, c)
		if all := r.get(wren); strings.Contains(all, `/in/tamsin"`) || strings.Contains(all, `/in/wren"`) != (start == "second") {
			t.Errorf("at the %s start there are threads that nobody opened, or not the one that was", start)
		}
		for _, f := range r.page.Samples { // and none of the files to try is from tonight
			reading, err := sessionfile.Read(f.Name, f.Bytes, sessionfile.Options{})
			if ago := time.Since(reading.Session.When); err != nil || ago < 0 || ago > 2*time.Hour {
				t.Errorf("%s: hit %v ago, %v", f.Name, ago, err)
			}
		}
		if start == "first" {
			page := r.get(steward)
			if !strings.Contains(page, "Nobody has written here yet. Where nothing is set up yet, it begins with /clubhouse setup") {
				t.Errorf("the first page does not say where one begins:\n%s", page)
			}
			role := r.id(page, "Coaches")
			r.post(steward+"/command", "command", "clubhouse coach", "o.role", role)
			const coach = "/as/coach/in/practice"
			page = r.post(coach+"/command", "command", "bind", "o.student", r.id(r.get(coach), "Wren"))
			before, _, _ := strings.Cut(page, ">Open a private thread")
			r.post(coach+"/press", "message", attribute(before, `name="message" value="`), "path", attribute(before, `name="path" value="`))
			if err := r.tick(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		r.close()
	}
}

// The fortnight of try ended yesterday, in every file of it.
func TestFilesAreMovedOn(t *testing.T) {
	files, err := fs.Glob(testdata.Files, "sessions/*")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	const days = 1000
	for _, name := range files {
		data, err := testdata.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		later, err := moved(data, days*24*time.Hour)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var hit [2]time.Time
		for i, bytes := range [][]byte{data, later} {
			reading, err := sessionfile.Read(name, bytes, sessionfile.Options{})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			hit[i] = reading.Session.When
		}
		if hit[0].IsZero() || !hit[1].Equal(hit[0].AddDate(0, 0, days)) {
			t.Errorf("%s: hit %v, and moved on by %d days %v", name, hit[0], days, hit[1])
		}
	}
}

// Whoever keeps a database of try finds the same people and places under the same
// ids: they follow from the order in which the club is made, which stays.
func TestTryKnowsItsPeople(t *testing.T) {
	st, err := emptyStage(worldMade, standin.Config{Lean: true})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Stand.Close()
	p := newPlay(t.Context(), st)
	got := strings.Join([]string{p.server.ID, p.contests.ID, p.odells.ID, p.coachRole.ID, p.steward.ID, p.priya.ID}, " ")
	const want = "1456074443993382912 1456074444010160128 1456074444022743040 1456074444026937344 1456074444031131648 1456074444077268992"
	if got != want {
		t.Errorf("the ids are %s,\nand were %s", got, want)
	}
}
