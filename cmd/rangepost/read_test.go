package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"

	"rangepost/testdata"
)

// The command line as its users type it: each script is a transcript.
func TestScripts(t *testing.T) {
	sessions, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("DATA", sessions)
			return nil
		},
	})
}

// document is as much of the JSON as these tests look at.
type document struct {
	Schema string
	Model  struct{ Heads map[string]map[string]any }
	File   struct {
		Questions []struct{ Key string }
	}
	Shots []map[string]any
	Sets  []struct {
		Club, Set string
		Balls     int
		Used      int
		Pattern   map[string]any
		Delivery  map[string]any
		Cause     map[string]any
		WorkBack  map[string]any `json:"work_back"`
	}
	Trial     map[string]any
	Sentences []string
}

// readJSON reads a file on the command line and returns the document.
func readJSON(t *testing.T, want int, args ...string) (document, []byte) {
	t.Helper()
	var out, errOut bytes.Buffer
	if got := run(context.Background(), append([]string{"read", "--json"}, args...), strings.NewReader(""), &out, &errOut); got != want {
		t.Fatalf("read %v: exit status %d, want %d\n%s%s", args, got, want, &out, &errOut)
	}
	var d document
	if err := json.Unmarshal(out.Bytes(), &d); err != nil {
		t.Fatalf("read %v: %v", args, err)
	}
	return d, out.Bytes()
}

// Every demo session can be read; those that ask say what to answer.
func TestEverySessionFollowsTheSchema(t *testing.T) {
	err := fs.WalkDir(testdata.Files, "sessions", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		t.Run(d.Name(), func(t *testing.T) {
			doc, raw := readJSON(t, exitOK, "--hand", handOf(d.Name()), "--answer", "signs=target", filepath.Join("../../testdata", path))
			if doc.Schema != "rangepost.read/1" {
				t.Errorf("schema = %q", doc.Schema)
			}
			if len(doc.Sets) == 0 || len(doc.Shots) == 0 || len(doc.Sentences) == 0 {
				t.Fatalf("%d sets, %d shots, %d sentences", len(doc.Sets), len(doc.Shots), len(doc.Sentences))
			}
			// No key is a name of the program's own inside.
			for _, key := range regexp.MustCompile(`(?m)^ *"([^"]*)": `).FindAllStringSubmatch(string(raw), -1) {
				if !regexp.MustCompile(`^[a-z0-9_]+$`).MatchString(key[1]) {
					t.Errorf("key %q is spelled unlike the others", key[1])
				}
			}
			for _, s := range doc.Sets {
				if len(doc.Model.Heads[s.Club]) == 0 {
					t.Errorf("the model lacks the head of the %s", s.Club)
				}
				checkAddsUp(t, s.Cause)
				for _, key := range []string{"lateral_m", "carry_m", "width80_m", "ellipse80"} {
					if _, ok := s.Pattern[key]; !ok {
						t.Errorf("set %q: the pattern lacks %q", s.Set, key)
					}
				}
				for _, key := range []string{"verdict", "confidence", "miss_m", "face_m", "path_m", "rest_m", "scatter_share", "more_balls", "missing", "sentence"} {
					if _, ok := s.Cause[key]; !ok {
						t.Errorf("set %q: the cause lacks %q", s.Set, key)
					}
				}
			}
			for _, s := range doc.Shots {
				for _, key := range []string{"n", "club", "set", "used", "set_aside", "why", "face_deg", "path_deg", "face_to_path_deg", "spin_rpm", "carry_m", "lateral_m", "flight_s", "strike_toe_mm", "smash", "inferred"} {
					if _, ok := s[key]; !ok {
						t.Fatalf("a shot lacks %q", key)
					}
				}
			}
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// handOf is the hand of whose session a file is; see testdata/generate.
func handOf(name string) string {
	if strings.HasPrefix(name, "tamsin") {
		return "left"
	}
	return "right"
}

// checkAddsUp fails unless face, path and rest add up to the miss.
func checkAddsUp(t *testing.T, cause map[string]any) {
	t.Helper()
	mean := func(key string) (float64, bool) {
		e, ok := cause[key].(map[string]any)
		if !ok {
			return 0, false
		}
		v, ok := e["mean"].(float64)
		return v, ok
	}
	miss, ok := mean("miss_m")
	face, split := mean("face_m")
	if !ok || !split {
		return
	}
	path, _ := mean("path_m")
	rest, _ := mean("rest_m")
	// Each is rounded to a millionth.
	if math.Abs(face+path+rest-miss) > 3e-6 {
		t.Errorf("face %v + path %v + rest %v is not the miss %v", face, path, rest, miss)
	}
}

// A session in the mirror, hit with the other hand, has the mirrored numbers
// and the same verdict.
func TestMirror(t *testing.T) {
	const sideways = "path face face_to_path direction spin_axis lateral"
	original, mirrored := "../../testdata/sessions/wren-3-before-lesson.csv", filepath.Join(t.TempDir(), "left.csv")
	mirrorFile(t, original, mirrored)
	right, _ := readJSON(t, exitOK, "--hand", "right", original)
	left, _ := readJSON(t, exitOK, "--hand", "left", mirrored)

	for i := range right.Shots {
		for key, v := range right.Shots[i] {
			was, isNumber := v.(float64)
			if !isNumber {
				continue
			}
			stem, _, _ := strings.Cut(strings.TrimSuffix(strings.TrimSuffix(key, "_deg"), "_m"), " ")
			if strings.Contains(" "+sideways+" ", " "+stem+" ") {
				was = -was
			}
			if got, _ := left.Shots[i][key].(float64); math.Abs(got-was) > 1e-9 {
				t.Fatalf("ball %d: %s = %v in the mirror, want %v", i+1, key, got, was)
			}
		}
	}
	r, l := right.Sets[0], left.Sets[0]
	if r.Cause["verdict"] != l.Cause["verdict"] || r.Cause["verdict"] != "face" {
		t.Errorf("verdicts: %v and in the mirror %v, want face", r.Cause["verdict"], l.Cause["verdict"])
	}
	for _, key := range []string{"miss_m", "face_m", "path_m", "rest_m"} {
		a, b := r.Cause[key].(map[string]any), l.Cause[key].(map[string]any)
		for _, pair := range [][2]string{{"mean", "mean"}, {"low", "high"}, {"high", "low"}} {
			if v, w := a[pair[0]].(float64), b[pair[1]].(float64); math.Abs(v+w) > 1e-5 {
				t.Errorf("%s: %s is %v, in the mirror %s is %v", key, pair[0], v, pair[1], w)
			}
		}
	}
	if got, want := l.Cause["sentence"], strings.NewReplacer("left", "right", "right", "left").Replace(r.Cause["sentence"].(string)); got != want {
		t.Errorf("sentence in the mirror: %q, want %q", got, want)
	}
}

// mirrorFile writes the session file from at to as it would have been hit in a
// mirror: L for R and R for L.
func mirrorFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	turned := 0
	for _, row := range rows {
		for i, cell := range row {
			if number, left := strings.CutSuffix(cell, " L"); left {
				row[i] = number + " R"
				turned++
			} else if number, right := strings.CutSuffix(cell, " R"); right {
				row[i] = number + " L"
				turned++
			}
		}
	}
	if turned == 0 {
		t.Fatalf("%s has no sides to turn", from)
	}
	f, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := csv.NewWriter(f).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
}

// Units are words: the numbers behind them do not move.
func TestUnitsChangeOnlyWords(t *testing.T) {
	file := "../../testdata/sessions/wren-1-first.csv"
	_, yards := readJSON(t, exitOK, "--hand", "right", file)
	_, metres := readJSON(t, exitOK, "--hand", "right", "--metres", file)
	var a, b map[string]any
	for _, one := range []struct {
		raw  []byte
		into *map[string]any
	}{{yards, &a}, {metres, &b}} {
		if err := json.Unmarshal(one.raw, one.into); err != nil {
			t.Fatal(err)
		}
	}
	words := func(path cmp.Path) bool {
		last := path.Last().String()
		return last == `["sentence"]` || last == `["sentences"]` || last == `["warnings"]`
	}
	if diff := cmp.Diff(a, b, cmp.FilterPath(words, cmp.Ignore())); diff != "" {
		t.Error(diff)
	}
	if !strings.Contains(string(yards), "yards") || strings.Contains(string(metres), "yards") {
		t.Error("--metres does not change the words")
	}
}

// The same file gives the same answer, to the last byte.
func TestSameAnswerTomorrow(t *testing.T) {
	file := "../../testdata/sessions/wren-4-grip-trial.tsv"
	_, first := readJSON(t, exitOK, "--hand", "right", file)
	_, second := readJSON(t, exitOK, "--hand", "right", file)
	if !bytes.Equal(first, second) {
		t.Error(cmp.Diff(string(first), string(second)))
	}
}
