package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store/pgtest"
)

// A trick is something done to mislead the bot.
type trick struct {
	name string
	try  func(*target) *standin.Outcome
	want string // said to who tried it, and to nobody else
	kept int    // sessions Wren has more afterwards
}

// A target is the stage the tricks are played on: Wren has one session, and a
// client that sends whatever it is told to.
type target struct {
	*play
	posted *standin.Outcome
	first  string // the session's id
}

// tricks are played one after the other. They are made when they are asked for,
// since this binary also is the bot's, and starts often.
func tricks() []trick {
	return []trick{
		// Where files come from.
		{"a file of a foreign host", posting(standin.File{URL: "https://files.example.org/s.csv"}), "I only read files that were posted here", 0},
		{"a host that begins like the right one", posting(standin.File{URL: "https://cdn.discordapp.com.example.org/s.csv"}), "I only read files that were posted here", 0},
		{"a host in front of the right one", func(g *target) *standin.Outcome {
			return posting(standin.File{URL: "http://" + g.st.CDNHost() + "@files.example.org/s.csv"})(g)
		}, "I only read files that were posted here", 0},
		{"a private address", posting(standin.File{URL: "http://10.0.0.1/s.csv"}), "I only read files that were posted here", 0},
		{"the machine's own metadata", posting(standin.File{URL: "http://169.254.169.254/latest/"}), "I only read files that were posted here", 0},
		{"a file of the machine", posting(standin.File{URL: "file:///etc/passwd"}), "I only read files that were posted here", 0},
		{"a private address behind a name that may be asked", posting(standin.File{URL: "https://localhost:1/s.csv"}), "I only read files that were posted here", 0},
		{"a redirect to a private address", func(g *target) *standin.Outcome {
			g.st.Break(standin.Rule{Path: "/attachments/", Redirect: "http://10.0.0.1/s.csv", Times: 1})
			return posting(standin.File{})(g)
		}, "I only read files that were posted here", 0},
		{"a redirect to the stand-in itself", func(g *target) *standin.Outcome {
			g.st.Break(standin.Rule{Path: "/attachments/", Redirect: g.st.URL() + "/api/v10/users/@me", Times: 1})
			return posting(standin.File{})(g)
		}, "I only read files that were posted here", 0},

		// What is in them.
		{"200 MB in a .gz", posting(standin.File{Name: "s.csv.gz", Bytes: bomb(1 << 30)}), "unpacks to far more than a session could be", 0},
		{"200 MB in a .zip", posting(standin.File{Name: "s.zip", Bytes: zipped("s.csv", 200<<20)}), "unpacks to far more than a session could be", 0},
		{"a workbook of 200 MB", posting(standin.File{Name: "s.xlsx", Bytes: zipped("xl/worksheets/sheet1.xml", 200<<20)}), "unpacks to far more than a session could be", 0},
		{"a .zip of bombs in a .zip", posting(standin.File{Name: "s.zip", Bytes: nested(10)}), "holds 10 files; it should hold one session", 0},
		{"a hundred thousand columns", posting(standin.File{Name: "s.csv", Bytes: []byte(strings.Repeat("face,", 100_000) + "\n")}), "512 are the most", 0},
		{"a program", posting(standin.File{Name: "s.csv", Bytes: append([]byte("\x7fELF\x02\x01\x01"), make([]byte, 4096)...)}), "This is a program", 0},
		{"an option that hands over no file", func(g *target) *standin.Outcome {
			return g.slash("post", standin.Options{"file": "1234567890"})
		}, "There is no file.", 0},

		// Forms that no client would send, and what can be in a form's file.
		{"a form with a file of a foreign host", forming(nil, standin.File{URL: "https://files.example.org/s.csv"}), "I only read files that were posted here", 0},
		{"a form with a file of 12 MB", forming(nil, standin.File{Name: "s.csv", Bytes: bytes.Repeat([]byte("1,2,3,4,5,6\n"), 1<<20)}), "10 MB", 0},
		{"a form with 12 MB said to be small", forming(nil, standin.File{Name: "s.csv", Bytes: bytes.Repeat([]byte("1,2,3,4,5,6\n"), 1<<20), Declared: 100}), "10 MB", 0},
		{"a form with a bomb", forming(nil, standin.File{Name: "s.csv.gz", Bytes: bomb(1 << 30)}), "unpacks to far more than a session could be", 0},
		{"a form with a program", forming(nil, standin.File{Name: "s.csv", Bytes: append([]byte("\x7fELF\x02\x01\x01"), make([]byte, 4096)...)}), "This is a program", 0},
		{"a form with a picture", forming(nil, standin.File{Name: "s.png", Bytes: append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 4096)...)}), "picture", 0},
		{"a form with an empty file", forming(nil, standin.File{Name: "s.csv", Bytes: []byte{}}), "empty", 0},
		{"a form with two files", forming(nil, standin.File{}, standin.File{Name: "b.csv", Bytes: without(session, 3)}), "Give one file", 0},
		{"a form with a file and rows", forming(map[string]string{"rows": "7i, carry 152, 8 right"}, standin.File{}), "I cannot tell which you mean", 0},
		{"a form with nothing in it", forming(nil), "neither a file nor rows", 0},
		{"a form with the id of no file", forming(map[string]string{"file": "1234567890"}), "Give one file", 0},
		{"a form with a glass ball", forming(map[string]string{"ball": "glass"}, standin.File{}), "I do not know that kind of ball.", 0},
		{"a form with ten thousand characters of sets", forming(map[string]string{"sets": strings.Repeat("1-10 normal, ", 800)}, standin.File{}), "The text is too long", 0},
		{"a form that was sent before", forming(nil, standin.File{}), "they stay one session", 0},
		{"a form with a club of nobody", formingAt("v1/posted/**@everyone**/-"), "is not a club I know", 0},
		{"a form with a target behind", formingAt("v1/posted/-/-5m"), "Option 'target'", 0},
		{"a form with too much in its path", formingAt("v1/posted/-/-/-"), "from an older version of me", 0},
		{"a form for a button", formingAt("v1/cause/nosuch/0"), "I do not have that any more", 0},
		{"the button of somebody else's form", func(g *target) *standin.Outcome { return g.press("v1/post/" + g.odell.ID) }, "Only the one who hit the balls", 0},
		{"somebody else's task", func(g *target) *standin.Outcome { return g.press("v1/task/" + g.odell.ID) }, "not yours to see", 0},
		{"how somebody else is doing", func(g *target) *standin.Outcome { return g.press("v1/doing/' OR '1'='1") }, "not yours to see", 0},

		// Names and words.
		{"a name with markdown and mentions", posting(standin.File{Name: "**@everyone** `x` [y](x) <@1>.csv", Bytes: without(session, 1)}), "", 1},
		{"a name that is a formula", posting(standin.File{Name: "=HYPERLINK(\"x\").csv", Bytes: without(session, 2)}), "", 1},
		{"a label with @everyone", func(g *target) *standin.Outcome {
			return g.slash("sets", standin.Options{"session": g.first, "text": "1-10 normal, 11-20 @everyone"})
		}, "everyone", 0},
		{"labels that are formulas", func(g *target) *standin.Outcome {
			return g.slash("sets", standin.Options{"session": g.first, "text": "1-10 =cmd|' /C calc'!A0, 11-20 @SUM(1)"})
		}, "SUM", 0},
		{"a label that leaves its quotes", func(g *target) *standin.Outcome {
			return g.slash("sets", standin.Options{"session": g.first, "text": "1-10 normal\", 11-20 x';DROP TABLE sessions;--"})
		}, "begins with shot numbers", 0},
		{"ten thousand characters of sets", func(g *target) *standin.Outcome {
			return g.slash("sets", standin.Options{"session": g.first, "text": strings.Repeat("1-10 normal, ", 800)})
		}, "already named", 0},

		// Paths that were never drawn.
		{"a path of another version", pressing("v9/cause/x/0"), "from an older version of me", 0},
		{"a path of nothing", pressing("v1/everything"), "from an older version of me", 0},
		{"a path with too much", pressing("v1/cause/a/b/c"), "from an older version of me", 0},
		{"a path out of its folder", pressing("v1/../forget"), "from an older version of me", 0},
		{"the path of no session", pressing("v1/cause/nosuch/0"), "I do not have that any more", 0},
		{"a path that is a query", pressing("v1/cause/' OR '1'='1/0"), "I do not have that any more", 0},
		{"the path of no view", pressing("v1/forget/nosuch"), "I do not have that any more", 0},
		{"the path of no consent", pressing("v1/consent/nosuch/give"), "I do not have that any more", 0},
		{"a set that is not there", func(g *target) *standin.Outcome { return g.press("v1/cause/" + g.first + "/99") }, "That choice is not there.", 0},
		{"a set below the first", func(g *target) *standin.Outcome { return g.press("v1/cause/" + g.first + "/-1") }, "That choice is not there.", 0},
		{"a share of another kind", func(g *target) *standin.Outcome { return g.press("v1/share/everything/" + g.first) }, "older version", 0},
		{"another answer to a question of consent", func(g *target) *standin.Outcome { return g.press("v1/consent/" + g.first + "/sell") }, "older version", 0},

		// Choices that were never offered.
		{"a choice that is not on the menu", choosing("set", "99999999999999999999"), "That choice is not there.", 0},
		{"a choice of nothing", choosing("set"), "That choice is not there.", 0},
		{"a choice of everything", choosing("set", "0", "1"), "That choice is not there.", 0},
		{"an answer that was never offered", func(g *target) *standin.Outcome {
			return g.choose("v1/answer/"+g.first+"/0", "signs=all of them")
		}, "not open any more", 0},
		{"an option never offered while typing", func(g *target) *standin.Outcome {
			return g.slash("cause", standin.Options{"session": "' UNION SELECT * FROM sessions --"})
		}, "I do not have that any more", 0},

		// Options out of range.
		{"a part before the first", with("mine export", "part", "-1"), "there is no such part", 0},
		{"a part beyond counting", with("mine export", "part", "99999999999999999999"), "there is no such part", 0},
		{"no number", with("timeline", "number", "soul"), "is not a number I know.", 0},
		{"a day before all days", with("timeline", "since", "0000-00-00"), "is neither a day", 0},
		{"a third hand", with("mine hand", "hand", "both"), "I do not know that hand.", 0},
		{"a unit of old", with("mine units", "distance", "furlong"), "I do not know that unit.", 0},
		{"a glass ball", with("post", "ball", "glass"), "I do not know that kind of ball.", 0},
		{"a target behind", with("post", "target", "-5yd"), "Option 'target'", 0},
		{"a target that is no number", with("post", "target", "NaN"), "Option 'target'", 0},
		{"a target beyond all", with("post", "target", "1e999"), "Option 'target'", 0},
		{"a club with markup", with("post", "club", "**@everyone**"), "is not a club I know", 0},
		{"a baseline that is none", func(g *target) *standin.Outcome {
			return g.slash("trial", standin.Options{"session": g.first, "baseline": "**@everyone**"})
		}, "No set is called", 0},
		{"a command of nobody's", func(g *target) *standin.Outcome { return g.slash("mine", nil) }, "I do not know a command of that name.", 0},

		// Messages of others, and of too much.
		{"a message with two files", func(g *target) *standin.Outcome {
			said := g.wren.Say(g.practice, "both", standin.File{Name: "a.csv", Bytes: session}, standin.File{Name: "b.csv", Bytes: session})
			return g.use(g.wren.Forger(), said, "Read this session")
		}, "That message has 2 files. Post them one at a time", 0},
		{"a message without a file", func(g *target) *standin.Outcome {
			return g.use(g.wren.Forger(), g.wren.Say(g.practice, "nothing"), "Read this session")
		}, "That message has no file.", 0},
		{"a message of somebody else", func(g *target) *standin.Outcome {
			said := g.odell.Say(g.practice, "mine", standin.File{Name: "a.csv", Bytes: session})
			return g.use(g.wren.Forger(), said, "Read this session")
		}, "That file is somebody else's.", 0},
		{"a mention with two files", func(g *target) *standin.Outcome {
			return g.do("Wren asks", func() (*standin.Outcome, error) {
				return g.wren.Ask(g.ctx, g.practice, "@Rangepost", standin.File{Name: "a.csv", Bytes: session}, standin.File{Name: "b.csv", Bytes: session})
			})
		}, "That message has 2 files.", 0},
	}
}

// session is a session of Wren's.
var session = demoFile("sessions/wren-1-first.csv")

func (g *target) slash(command string, o standin.Options) *standin.Outcome {
	return g.play.slash(g.wren.Forger(), g.practice, command, o)
}

func (g *target) press(path string) *standin.Outcome {
	return g.play.press(g.wren.Forger(), g.posted, path)
}

func (g *target) choose(path string, values ...string) *standin.Outcome {
	return g.do("choosing", func() (*standin.Outcome, error) {
		return g.wren.Forger().Choose(g.ctx, &g.posted.Message, path, values...)
	})
}

// posting posts a file, by default one that can be read.
func posting(f standin.File) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome {
		if f.Name == "" {
			f.Name = "s.csv"
		}
		if f.Bytes == nil {
			f.Bytes = session
		}
		return g.slash("post", standin.Options{"file": f})
	}
}

// forming sends the form "Post a session", with files that by default can be
// read.
func forming(fields map[string]string, files ...standin.File) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome {
		for i := range files {
			if files[i].Name == "" {
				files[i].Name = "s.csv"
			}
			if files[i].Bytes == nil {
				files[i].Bytes = session
			}
		}
		return g.send(g.wren.Forger(), g.slash("post", nil), fields, files...)
	}
}

// formingAt sends it with another path than it had.
func formingAt(path string) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome {
		form := g.slash("post", nil)
		if g.err == nil {
			form.Modal.Path = path
		}
		return g.send(g.wren.Forger(), form, nil, standin.File{Name: "s.csv", Bytes: session})
	}
}

func pressing(path string) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome { return g.press(path) }
}

// choosing chooses from a menu of the session that may not be there.
func choosing(menu string, values ...string) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome { return g.choose("v1/"+menu+"/"+g.first, values...) }
}

// with uses a command with one option that no client would send.
func with(command, option, value string) func(*target) *standin.Outcome {
	return func(g *target) *standin.Outcome {
		o := standin.Options{option: value}
		if command == "post" {
			o["file"] = standin.File{Name: "s.csv", Bytes: session}
		}
		return g.slash(command, o)
	}
}

// bomb is n zeros, gzipped.
func bomb(n int) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	block := make([]byte, 1<<20)
	for ; n > 0; n -= len(block) {
		w.Write(block)
	}
	w.Close()
	return b.Bytes()
}

// zipped is a .zip of one file of n zeros.
func zipped(name string, n int) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	f, _ := w.Create(name)
	block := make([]byte, 1<<20)
	for ; n > 0; n -= len(block) {
		f.Write(block)
	}
	w.Close()
	return b.Bytes()
}

// nested is n bombs in a .zip.
func nested(n int) []byte {
	inner := zipped("s.csv", 20<<20)
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := range n {
		f, _ := w.Create(fmt.Sprintf("%d.zip", i))
		f.Write(inner)
	}
	w.Close()
	return b.Bytes()
}

// without is a file without its last so many balls, which is another session.
func without(file []byte, balls int) []byte {
	lines := bytes.SplitAfter(bytes.TrimRight(file, "\n"), []byte("\n"))
	return bytes.Join(lines[:len(lines)-balls], nil)
}

// Every trick is answered in words, to who tried it alone, within ten seconds;
// it leaves nothing behind, notifies nobody, and is never a fault of the bot's.
func TestHostilePosts(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	p := newPlay(ctx, staged(t, ctx, fortnightBegins, "", []string{"localhost:1"}))
	p.setUp()
	g := &target{play: p}
	g.posted = p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.file("sessions/wren-1-first.csv"), "sets": "1-10 normal, 11-20 strong grip"})
	p.must(t)
	g.first = p.complete(p.wren, p.practice, "sets", "session")[0].Value
	had := 1
	for _, trick := range tricks() {
		began := time.Now()
		out := trick.try(g)
		p.must(t)
		if took := time.Since(began); took > 10*time.Second {
			t.Errorf("%s: it took %v", trick.name, took)
		}
		if !strings.Contains(out.Text, trick.want) || out.Text == "" {
			t.Errorf("%s: %q, want something with %q", trick.name, out.Text, trick.want)
		}
		if !out.Ephemeral || out.Loud || len(out.Told) > 0 {
			t.Errorf("%s: for the asker alone: %v; notifies everybody: %v, %v", trick.name, out.Ephemeral, out.Loud, out.Told)
		}
		if strings.Contains(out.Text, "on my side") {
			t.Errorf("%s: taken for a fault of the bot's: %q", trick.name, out.Text)
		}
		bare := escapes.ReplaceAllString(out.Text, "")
		for _, raw := range []string{"@everyone", "**", "<@", "](http"} {
			if strings.Contains(bare, raw) {
				t.Errorf("%s: the reply has %q unescaped: %q", trick.name, raw, out.Text)
			}
		}
		had += trick.kept
		if got := p.sessionsOf(p.wren); got != had {
			t.Errorf("%s: %d sessions are kept, want %d", trick.name, got, had)
			had = got
		}
		if testing.Verbose() {
			t.Logf("%s: %.160q", trick.name, out.Text)
		}
	}
	p.undamaged(t)
}

// Files that unpack to far more than they seem take little memory, even when
// several come at once.
func TestBombsTakeLittleMemory(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	st := gather(t, 6)
	p := serveProcess(t, st.Stand, pgtest.Path(t, filepath.Join(t.TempDir(), "rangepost.db")))
	defer func() { p.kill() }()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, p.log)
	}
	bombs := []standin.File{
		{Name: "s.csv.gz", Bytes: bomb(200 << 20)},
		{Name: "s.zip", Bytes: zipped("s.csv", 200<<20)},
		{Name: "s.xlsx", Bytes: zipped("xl/worksheets/sheet1.xml", 200<<20)},
	}
	var sent sync.WaitGroup
	for i, who := range st.people {
		sent.Go(func() {
			out, err := who.Slash(ctx, st.practice, "post", standin.Options{"file": bombs[i%len(bombs)]})
			if err != nil || !strings.Contains(out.Text, "unpacks to far more") {
				t.Errorf("%s: %v, %q", bombs[i%len(bombs)].Name, err, out.Text)
			}
		})
	}
	sent.Wait()
	_, highest := p.memory(t)
	t.Logf("%d bombs at once: %.0f MiB at most", len(st.people), highest)
	if highest > 256 {
		t.Errorf("%d bombs at once take %.0f MiB, more than 256", len(st.people), highest)
	}
}

// A spreadsheet takes no cell of an export for a formula, and unpacking it
// leads nowhere else.
func TestExportedFormulas(t *testing.T) {
	p := rehearse(t)
	file := p.file("sessions/wren-1-first.csv")
	file.Name = `=HYPERLINK("x").csv`
	posted := p.slash(p.wren, p.practice, "post", standin.Options{"file": file, "sets": "1-5 =cmd|' /C calc'!A0, 6-10 +one, 11-15 @SUM(1), 16-20 -two"})
	p.must(t)
	if posted.Picture() == nil {
		t.Fatal(posted.Text)
	}
	out := p.slash(p.wren, p.practice, "mine export", nil)
	p.must(t)
	if len(out.Files) != 1 {
		t.Fatalf("%d files: %q", len(out.Files), out.Text)
	}
	archive, err := zip.NewReader(bytes.NewReader(out.Files[0].Bytes), int64(len(out.Files[0].Bytes)))
	if err != nil {
		t.Fatal(err)
	}
	cells, labels := 0, map[string]bool{}
	for _, f := range archive.File {
		if strings.Contains(f.Name, "..") && strings.Contains(f.Name, "/../") || strings.HasPrefix(f.Name, "/") {
			t.Errorf("%q leads out of its folder", f.Name)
		}
		if !strings.HasSuffix(f.Name, "/balls.csv") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		rows := csv.NewReader(r)
		for {
			row, err := rows.Read()
			if errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			labels[row[2]] = true
			for _, cell := range row {
				cells++
				var number float64
				if _, err := fmt.Sscan(cell, &number); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
					t.Errorf("%q would be taken for a formula", cell)
				}
			}
		}
	}
	if cells < 100 || len(labels) != 5 {
		t.Errorf("%d cells with the labels %v were looked at", cells, labels)
	}
}
