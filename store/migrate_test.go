package store_test

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

var freeze = flag.Bool("freeze", false, "write down the newest schema, with one of everything in it, as released")

// testdata/released holds a dump of a furnished database as each released
// version wrote it. Each is brought to the newest schema here, and has to end
// up like a database that was furnished today. To release a schema, run
//
//	go test ./store -run TestReleasedSchemas -freeze
//
// and commit the file. From then on its migration is never edited; before
// then, the file may be deleted and frozen again.
func TestReleasedSchemas(t *testing.T) {
	store.OnSQLite(t)
	c := newClock()
	today := open(t, store.WithClock(c.now))
	furnish(t, today, c, saltmarsh, wren, "zqwren")
	want, err := export(t, today, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	versions := store.Versions(t, today)
	if *freeze {
		file := released(versions[len(versions)-1])
		if _, err := os.Stat(file); !errors.Is(err, fs.ErrNotExist) {
			t.Fatalf("%s is released already (%v)", file, err)
		}
		if err := os.WriteFile(file, []byte(store.Dump(t, today)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, version := range versions {
		t.Run(fmt.Sprint(version), func(t *testing.T) {
			dump, err := os.ReadFile(released(version))
			if version == versions[len(versions)-1] && errors.Is(err, fs.ErrNotExist) {
				t.Skip("not released yet")
			}
			if err != nil {
				t.Fatalf("%v (see the comment on this test)", err)
			}
			if !strings.HasPrefix(string(dump), store.SchemaAt(t, version)) {
				t.Error("the migrations to this version are not the ones that were released: correct them in a new one")
			}
			path := filepath.Join(t.TempDir(), "old.db")
			store.Load(t, path, string(dump))
			db, err := store.Open(t.Context(), path)
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Check(t.Context()); err != nil {
				t.Error(err)
			}
			if version == versions[len(versions)-1] {
				if d := cmp.Diff(store.Schema(t, today), store.Schema(t, db)); d != "" {
					t.Errorf("schema (-want +got):\n%s", d)
				}
			}
			got, err := export(t, db, saltmarsh, wren)
			if err != nil {
				t.Fatal(err)
			}
			// Ids are drawn anew each time.
			ids := cmp.FilterPath(func(p cmp.Path) bool {
				switch p.Last().String() {
				case ".ID":
					return p.Index(-2).Type().Name() != "Student"
				case ".Challenge", ".Session":
					return p.Index(-2).Type().Name() == "Entry" || p.Index(-2).Type().Name() == "Placed"
				case ".Lesson":
					return p.Index(-2).Type().Name() == "Finding"
				case ".Plan", ".Season":
					return true
				case ".Sessions":
					return p.Index(-2).Type().Name() == "Entry"
				}
				return false
			}, cmp.Ignore())
			// What trials taught is kept since the second schema; a session kept
			// before teaches once it is read again.
			taught := cmp.FilterPath(func(p cmp.Path) bool { return version < 2 && p.Last().String() == ".Taught" }, cmp.Ignore())
			// Entries and tallies are kept since the fourth; nobody had any before.
			club := cmp.FilterPath(func(p cmp.Path) bool {
				return version < 4 && (p.Last().String() == ".Entries" || p.Last().String() == ".Tallies")
			}, cmp.Ignore())
			// What was found is kept since the sixth.
			found := cmp.FilterPath(func(p cmp.Path) bool {
				return version < 6 && (p.Last().String() == ".Findings" || p.Last().String() == ".Noted") ||
					version < 3 && p.Last().String() == ".Settled" // nobody was told of a brief before
			}, cmp.Ignore())
			// Everybody's clock is known since the seventh, and whether a question is
			// about one file alone.
			clocks := cmp.FilterPath(func(p cmp.Path) bool {
				return version < 7 && (p.Last().String() == ".TimeZone" && p.Index(-2).Type().Name() == "Student" || p.Last().String() == ".Alone")
			}, cmp.Ignore())
			// What a session was found to say is kept since the eighth, comments, what was
			// removed and what was explained, and the set a brief is about.
			gists := cmp.FilterPath(func(p cmp.Path) bool {
				if version >= 8 {
					return false
				}
				switch p.Last().String() {
				case ".Gist", ".Comments", ".Removed", ".Detail", ".Explained":
					return true
				case ".Label":
					return p.Index(-2).Type().Name() == "Brief"
				}
				return false
			}, cmp.Ignore())
			// Plans are kept since the ninth, and the time between two balls.
			planned := cmp.FilterPath(func(p cmp.Path) bool {
				return version < 9 && slices.Contains([]string{".Plans", ".Placed", ".Forecasts", ".Pause"}, p.Last().String())
			}, cmp.Ignore())
			// Handicaps, and what became of asked shots, are kept since the tenth.
			seasons := cmp.FilterPath(func(p cmp.Path) bool {
				return version < 10 && slices.Contains([]string{".Handicaps", ".Control", ".Asked", ".Done"}, p.Last().String())
			}, cmp.Ignore())
			if d := cmp.Diff(want.without(newer(store.SchemaAt(t, version))), got, ids, taught, club, found, clocks, gists, planned, seasons, compareShots); d != "" {
				t.Errorf("furnished then and brought up to date, against furnished today (-want +got):\n%s", d)
			}
			// Times that were read as UTC's wait to be read on their golfers' clocks.
			stale, err := db.ToRedate(t.Context(), "", "", 10)
			if waiting := map[bool]int{true: 2}[version < 7]; err != nil || len(stale) != waiting {
				t.Errorf("%d sessions wait to be dated, %v, want %d", len(stale), err, waiting)
			}
			// The thread of a binding that stands gets its pinned message, whenever it
			// was bound.
			if pins, err := db.DuePins(t.Context()); err != nil || len(pins) != 1 || !pins[0].Binding.Live() || pins[0].Thread != "thread-zqwren" {
				t.Errorf("pins: %+v, %v", pins, err)
			}
			values, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face})
			if err != nil || len(values) != 2 {
				t.Errorf("values: %v, %v", values, err)
			}
			waiting := 1
			if version < 3 { // nobody had looked at any
				waiting = 2
			}
			if n := store.Unread(t, db); n != waiting {
				t.Errorf("%d posts wait, want %d", n, waiting)
			}
			unfinished, err := db.Unfinished(t.Context())
			if err != nil || len(unfinished) != 1 || string(unfinished[0].Body) != "zqwren" {
				t.Errorf("unfinished: %v, %v", unfinished, err)
			}
		})
	}
}

// newer are the numbers a schema has no column for, as it is older than they
// are.
func newer(schema string) (numbers []analysis.Number) {
	_, table, _ := strings.Cut(schema, "CREATE TABLE shots")
	table, _, _ = strings.Cut(table, ") STRICT")
	for _, n := range analysis.Numbers() {
		if !slices.Contains(strings.Fields(table), n.Info().Key) {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// without is what is exported of somebody but for some numbers.
func (e exported) without(numbers []analysis.Number) exported {
	sessions := slices.Clone(e.Sessions)
	for i := range sessions {
		shots := slices.Clone(sessions[i].Reading.Session.Shots)
		for k := range shots {
			for _, n := range numbers {
				shots[k] = shots[k].With(n, math.NaN())
			}
		}
		sessions[i].Reading.Session.Shots = shots
	}
	e.Sessions = sessions
	return e
}

func released(version int64) string {
	return filepath.Join("testdata", "released", fmt.Sprintf("%05d.sql", version))
}
