package main

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrows is the one dependency rule: what each of our packages may import of
// our own. The first row that matches a package counts; a package that
// matches none fails, so that a new room is given its place on purpose.
var arrows = []struct {
	pkg string   // exact, or a prefix when it ends in "/"
	may []string // likewise
}{
	{"rangepost/analysis", nil},
	{"rangepost/analysis/stat", []string{"rangepost/analysis"}},
	{"rangepost/analysis/flight", []string{"rangepost/analysis"}},
	{"rangepost/analysis/impact", []string{"rangepost/analysis"}},
	{"rangepost/analysis/label", []string{"rangepost/analysis"}},
	{"rangepost/analysis/brief", []string{"rangepost/analysis"}},
	// The panel of worlds judges the rest, so it shares none of it.
	{"rangepost/analysis/panel", []string{"rangepost/analysis"}},
	// Shots on request in the panel's worlds, by another hand than what judges them.
	{"rangepost/analysis/shotmaker", []string{"rangepost/analysis", "rangepost/analysis/panel"}},
	// The months of simulated students judge the rest, likewise.
	{"rangepost/analysis/months", []string{"rangepost/analysis"}},
	// The club's year judges the challenges, likewise, on balls of the panel's.
	{"rangepost/analysis/clubyear", []string{"rangepost/analysis", "rangepost/analysis/panel"}},
	// Files for testing their reader, made without knowing it.
	{"rangepost/analysis/shapes", []string{"rangepost/analysis"}},
	// Students who hit planned trials, by another hand than the plan's.
	{"rangepost/analysis/visits", []string{"rangepost/analysis"}},
	// A plan is a trial laid out beforehand: the same numbers, the same zeros.
	{"rangepost/analysis/plan", []string{"rangepost/analysis", "rangepost/analysis/stat", "rangepost/analysis/trial"}},
	// A shot that was asked for is judged by the cause's own swings.
	{"rangepost/analysis/asked", []string{"rangepost/analysis", "rangepost/analysis/stat", "rangepost/analysis/ball", "rangepost/analysis/cause"}},
	// Golfers who play shots on request, by another hand than what judges them.
	{"rangepost/analysis/shotmaker", []string{"rangepost/analysis", "rangepost/analysis/panel"}},
	// A ball is an impact and then a flight.
	{"rangepost/analysis/ball", []string{"rangepost/analysis", "rangepost/analysis/flight", "rangepost/analysis/impact"}},
	// A pattern's regions and cut-offs are statistics.
	{"rangepost/analysis/pattern", []string{"rangepost/analysis", "rangepost/analysis/stat"}},
	// A challenge counts no ball twice, and none by figures that do not hang together.
	{"rangepost/analysis/challenge", []string{
		"rangepost/analysis", "rangepost/analysis/stat", "rangepost/analysis/flight", "rangepost/analysis/ball", "rangepost/analysis/integrity",
	}},
	{"rangepost/analysis/", []string{
		"rangepost/analysis", "rangepost/analysis/stat", "rangepost/analysis/flight",
		"rangepost/analysis/impact", "rangepost/analysis/ball", "rangepost/analysis/pattern",
	}},
	{"rangepost/store", []string{"rangepost/analysis"}},
	// A server for tests; it knows nothing of what they keep.
	{"rangepost/store/pgtest", nil},
	{"rangepost/bot/words", []string{"rangepost/analysis", "rangepost/analysis/"}},
	// Numbers in pictures are written by the hand that writes the sentences.
	{"rangepost/bot/pictures", []string{"rangepost/analysis", "rangepost/analysis/", "rangepost/bot/words"}},
	{"rangepost/bot/report", []string{"rangepost/analysis", "rangepost/analysis/", "rangepost/bot/words", "rangepost/bot/pictures"}},
	// The record knows no sentence and no conversation.
	{"rangepost/bot/record", []string{"rangepost/analysis", "rangepost/analysis/", "rangepost/store", "rangepost/bot/report"}},
	{"rangepost/bot", []string{
		"rangepost/analysis", "rangepost/analysis/", "rangepost/store",
		"rangepost/bot/words", "rangepost/bot/pictures", "rangepost/bot/report", "rangepost/bot/record",
	}},
	{"rangepost/bot/discord", []string{"rangepost/bot"}},
	{"rangepost/bot/standin", nil},
	// A page for people to play on: it knows the commands and the stand-in.
	{"rangepost/bot/try", []string{"rangepost/bot", "rangepost/bot/standin"}},
	{"rangepost/bot/standin/openapi", nil},
	// It disagrees with the stand-in only while it knows nothing of ours, but for
	// how a server of the tests' own is started.
	{"rangepost/bot/stranger", []string{"rangepost/store/pgtest"}},
	{"rangepost/testdata", nil},
	{"rangepost/cmd/", []string{"rangepost/"}},
}

// rooms gives each foreign module that belongs in one place that place.
var rooms = map[string][]string{
	"github.com/bwmarrin/discordgo":      {"rangepost/bot/discord"},
	"github.com/wcharczuk/go-chart":      {"rangepost/bot/pictures"},
	"github.com/golang/freetype":         {"rangepost/bot/pictures"},
	"golang.org/x/image":                 {"rangepost/bot/pictures"},
	"github.com/mattn/go-sqlite3":        {"rangepost/store"},
	"github.com/jackc/pgx":               {"rangepost/store", "rangepost/store/pgtest"},
	"github.com/pressly/goose":           {"rangepost/store"},
	"database/sql":                       {"rangepost/store"},
	"github.com/xuri/excelize":           {"rangepost/analysis/shapes"}, // which writes workbooks
	"github.com/xuri/nfp":                {"rangepost/analysis/sessionfile"},
	"github.com/alecthomas/kong":         {"rangepost/cmd/rangepost"},
	"github.com/gorilla/websocket":       {"rangepost/bot/standin", "rangepost/bot/stranger", "rangepost/bot/discord"},
	"github.com/chromedp":                {}, // in tests alone
	"github.com/VictoriaMetrics/metrics": {"rangepost/bot/discord", "rangepost/cmd/rangepost"},
}

// impure is what nothing under analysis may import: input and output, logging,
// the network, processes, global randomness.
var impure = []string{"os", "os/exec", "net", "net/http", "log", "log/slog", "database/sql", "syscall", "math/rand", "path/filepath"}

type listed struct {
	ImportPath, Dir string
	Imports         []string
	GoFiles         []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,Imports,GoFiles", "rangepost/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	dec := json.NewDecoder(strings.NewReader(string(out)))
	for {
		var p listed
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(p.ImportPath, "rangepost/") {
			all = append(all, p)
		}
	}
	return all
}

func covers(pattern, path string) bool {
	return pattern == path || strings.HasSuffix(pattern, "/") && strings.HasPrefix(path, pattern)
}

func TestImportsFollowTheArrows(t *testing.T) {
	for _, p := range packages(t) {
		i := slices.IndexFunc(arrows, func(a struct {
			pkg string
			may []string
		},
		) bool {
			return covers(a.pkg, p.ImportPath)
		})
		if i < 0 {
			t.Errorf("%s has no place in the dependency rule: give it a row in arrows", p.ImportPath)
			continue
		}
		for _, imp := range p.Imports {
			if !strings.HasPrefix(imp, "rangepost/") {
				continue
			}
			if !slices.ContainsFunc(arrows[i].may, func(m string) bool { return covers(m, imp) }) {
				t.Errorf("%s imports %s: the arrow points the other way", p.ImportPath, imp)
			}
		}
	}
}

func TestForeignModulesStayInTheirRooms(t *testing.T) {
	for _, p := range packages(t) {
		for _, imp := range p.Imports {
			for module, allowed := range rooms {
				if imp != module && !strings.HasPrefix(imp, module+"/") {
					continue
				}
				if !slices.Contains(allowed, p.ImportPath) {
					t.Errorf("%s imports %s, which lives in %s", p.ImportPath, imp, strings.Join(allowed, " and "))
				}
			}
		}
	}
}

// Analysis is a pure function of what it is given: the same file gives the
// same answer tomorrow.
func TestAnalysisIsPure(t *testing.T) {
	for _, p := range packages(t) {
		if !covers("rangepost/analysis", p.ImportPath) && !covers("rangepost/analysis/", p.ImportPath) {
			continue
		}
		for _, imp := range p.Imports {
			if slices.Contains(impure, imp) {
				t.Errorf("%s imports %s", p.ImportPath, imp)
			}
		}
		for _, name := range p.GoFiles {
			fset := token.NewFileSet()
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				sel, ok := n.(*ast.SelectorExpr)
				if !ok {
					return true
				}
				if x, ok := sel.X.(*ast.Ident); ok && x.Name == "time" && (sel.Sel.Name == "Now" || sel.Sel.Name == "Since") {
					t.Errorf("%s reads the clock", fset.Position(sel.Pos()))
				}
				return true
			})
		}
	}
}
