package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// newNumber is a made-up number, added as DEVELOPERS.md says: a constant, a
// row, a migration, and nothing else.
var newNumber = struct{ constant, row, migration string }{
	constant: "Bow\n",
	row: `Bow: {
		Key: "bow", Name: "shaft bow", Plain: "how far the shaft bent toward the target",
		Short: "bow", Listed: "bow",
		Calls: []string{"bend"},
		Kind:  Small, Of: OfClub,
		Sides: &Sides{Minus: "back", Plus: "forward", Zero: "straight", Words: []SideWord{{"back", -1, false}, {"forward", 1, false}}},
		Lower: "further back", Higher: "further forward",
		Zero: PracticalZero{Least: 2 * Millimetre},
		Compared: 9,
		Least: -0.08, Most: 0.08,
		Headings: Words{
			"en": "shaft bow, bow", "de": "Schaftbiegung", "fr": "flexion du shaft", "es": "flexión de la varilla",
			"it": "flessione dello shaft", "sv": "skaftböjning", "ja": "シャフトのしなり", "ko": "샤프트 휨",
		},
	},
`,
	migration: "-- How far the shaft bent.\n\n-- +goose Up\nALTER TABLE shots ADD COLUMN bow REAL;\n",
}

// TestANumberIsOneRow builds the program with one number more, and has it read
// from a file, kept, explained, briefed, compared and drawn; see
// madeup_test.go. The tests of the rooms that hold a number have to stay green
// beside it.
func TestANumberIsOneRow(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program anew")
	}
	command, err := exec.LookPath("go")
	if err != nil {
		t.Skip("there is no go command")
	}
	overlay := overlayOf(t, newNumber.constant, newNumber.row, newNumber.migration)
	for _, args := range [][]string{
		{"-tags", "madeup", "-run", "^TestMadeUpNumber$", "rangepost/cmd/rangepost"},
		{"-short", "rangepost/analysis", "rangepost/analysis/brief", "rangepost/bot/words"},
		{"-short", "-run", "Learn", "rangepost/analysis/trial"},
		{"-short", "-run", "Lexicon|Wordings|Header", "rangepost/analysis/sessionfile"},
		{"-short", "-run", "Schema|Column|Whole|Values|Export", "rangepost/store"},
	} {
		args = append([]string{"test", "-vet=off", "-overlay", overlay}, args...)
		if out, err := exec.CommandContext(t.Context(), command, args...).CombinedOutput(); err != nil {
			t.Errorf("go %s: %v\n%s", strings.Join(args, " "), err, out)
		} else if strings.Contains(string(out), "no tests to run") {
			t.Errorf("go %s ran nothing", strings.Join(args, " "))
		}
	}
}

// overlayOf is an overlay of the source with a number more.
func overlayOf(t *testing.T, constant, row, migration string) string {
	t.Helper()
	dir := t.TempDir()
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	replace := map[string]string{}
	put := func(path, text string) {
		with := filepath.Join(dir, strings.ReplaceAll(path, "/", "-"))
		if err := os.WriteFile(with, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		replace[filepath.Join(root, path)] = with
	}
	insert := func(path, before, text string) {
		old, err := os.ReadFile(filepath.Join(root, path))
		if err != nil {
			t.Fatal(err)
		}
		at := strings.LastIndex(string(old), before)
		if at < 0 {
			t.Fatalf("%s has no %q", path, before)
		}
		put(path, string(old[:at])+text+string(old[at:]))
	}
	insert("analysis/number.go", "\tBallSpeed\n", "\t"+constant)
	insert("analysis/numbers.go", "}\n", "\t"+row)
	released, err := filepath.Glob(filepath.Join(root, "store", "migrations", "sqlite", "*.sql"))
	if err != nil {
		t.Fatal(err)
	}
	newest, err := strconv.Atoi(filepath.Base(released[len(released)-1])[:5])
	if err != nil {
		t.Fatal(err)
	}
	for line, real := range map[string]string{"sqlite": "REAL", "postgres": "DOUBLE PRECISION"} {
		put(fmt.Sprintf("store/migrations/%s/%05d_bow.sql", line, newest+1), strings.ReplaceAll(migration, "REAL", real))
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(path, list, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}
