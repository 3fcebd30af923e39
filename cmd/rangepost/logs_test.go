package main

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"rangepost/bot/standin"
	"rangepost/testdata"
)

// TestMain runs the suite and then reads everything its bots have logged.
func TestMain(m *testing.M) {
	testscript.Main(searched{m}, map[string]func(){
		"rangepost":    main,
		"holddatabase": holdDatabase,
	})
}

// searched fails a suite whose logs hold what no log may.
type searched struct{ *testing.M }

func (s searched) Run() int {
	// These tests wait far more than they compute.
	flag.Parse()
	if err := flag.Set("test.parallel", "6"); err != nil {
		panic(err)
	}
	code := s.M.Run()
	if found := kept.leaks(); len(found) > 0 {
		fmt.Fprintf(os.Stderr, "FAIL: the logs of this suite hold what no log may:\n%s\n", strings.Join(found, "\n"))
		return 1
	}
	return code
}

// kept is what every bot of the suite logged, with what must not be in it.
var kept = &archive{secrets: map[string]string{}}

type archive struct {
	mu      sync.Mutex
	logs    []*lockedBuffer
	secrets map[string]string // what it is, by the text itself
}

// log is a new log that is searched at the end.
func (a *archive) log() *lockedBuffer {
	a.mu.Lock()
	defer a.mu.Unlock()
	l := &lockedBuffer{}
	a.logs = append(a.logs, l)
	return l
}

// secret adds text that no log may hold.
func (a *archive) secret(what, text string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.secrets[text] = what
}

// watch adds the secrets of a stand-in: the bot's token, and the token of every
// interaction, which is in the addresses of the requests that answer it.
func (a *archive) watch(st *standin.Stand) {
	a.secret("the bot's token", st.Token())
	st.OnRequest(func(_, path, _ string, _ []byte) {
		for _, part := range strings.Split(path, "/") {
			if len(part) > 60 {
				a.secret("an interaction's token", part)
			}
		}
	})
}

// Ids of the platform are numbers of seventeen digits and more.
var platformID = regexp.MustCompile(`\b\d{17,20}\b`)

func (a *archive) leaks() (found []string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	secrets := fileContent()
	for text, what := range a.secrets {
		secrets[text] = what
	}
	seen := map[string]bool{}
	for _, l := range a.logs {
		for line := range strings.Lines(l.String()) {
			for text, what := range secrets {
				if strings.Contains(line, text) && !seen[what] {
					seen[what] = true
					found = append(found, what+": "+strings.TrimSpace(line))
				}
			}
			if id := platformID.FindString(line); id != "" && !seen["id"] {
				seen["id"] = true
				found = append(found, "an id of the platform: "+strings.TrimSpace(line))
			}
		}
	}
	return found
}

// fileContent is the rows of the demo's files, which the whole suite posts: as
// they stand, and as Go prints their cells.
func fileContent() map[string]string {
	rows := map[string]string{}
	fs.WalkDir(testdata.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := testdata.Files.ReadFile(path)
		if err != nil || bytes.IndexByte(data, 0) >= 0 {
			return err
		}
		for line := range strings.Lines(string(data)) {
			line = strings.TrimSpace(line)
			if len(line) < 16 {
				continue
			}
			rows[line] = "a row of " + path
			if cells, err := csv.NewReader(strings.NewReader(line)).Read(); err == nil && len(cells) > 1 {
				rows[fmt.Sprint(cells)] = "a row of " + path
			}
		}
		return nil
	})
	return rows
}

// The search itself finds what it is for.
func TestLogsAreSearched(t *testing.T) {
	for name, line := range map[string]string{
		"the bot's token": `level=ERROR err="401 for bottoken-of-this-test"`,
		"an id":           `level=INFO asker=1250000000000000001`,
		"a row":           `level=WARN row="` + slices.Sorted(maps.Keys(fileContent()))[0] + `"`,
	} {
		a := &archive{secrets: map[string]string{}}
		a.secret("token", "bottoken-of-this-test")
		fmt.Fprintln(a.log(), line)
		if len(a.leaks()) == 0 {
			t.Errorf("%s goes unnoticed in a log", name)
		}
	}
	a := &archive{secrets: map[string]string{}}
	fmt.Fprintln(a.log(), `time=2026-11-25T10:00:00.000Z level=INFO msg="took up unanswered requests" count=3 incident=0a1b2c3d`)
	if found := a.leaks(); len(found) > 0 {
		t.Errorf("an innocent line is taken for a leak: %q", found)
	}
}
