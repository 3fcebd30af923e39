package store_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

func TestOpen(t *testing.T) {
	store.OnSQLite(t)
	t.Chdir(t.TempDir())
	path := "a b?c#d%20+é:.db" // a name the address must not trip over
	r := seeded()
	for i := range 2 {
		db, err := store.Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		if h, err := db.Check(t.Context()); err != nil || h.Sessions != i || h.Schema < 1 || h.Bytes == 0 {
			t.Errorf("opened %d times: %+v, %v", i+1, h, err)
		}
		post(t, db, r, saltmarsh, wren, time.Time{}, 1)
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file's permissions: %v, %v", info.Mode(), err)
	}
	if _, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "no", "such", "folder.db")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no such folder: %v, want fs.ErrNotExist", err)
	}
}

// A database without a name is like any other, and gone when closed.
func TestTemporary(t *testing.T) {
	store.OnSQLite(t)
	db, err := store.Open(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	other, err := store.Open(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	post(t, db, seeded(), saltmarsh, wren, time.Time{}, 1)
	if h, err := db.Health(t.Context()); err != nil || h.Sessions != 1 {
		t.Errorf("%+v, %v", h, err)
	}
	if h, err := other.Health(t.Context()); err != nil || h.Sessions != 0 {
		t.Errorf("two temporary databases are one: %+v, %v", h, err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Dir(db.Path())); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left behind: %v", err)
	}
}

func TestRetention(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	if err := db.SetClubhouse(t.Context(), store.Clubhouse{Server: saltmarsh, Units: analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}, RetentionDays: 30}); err != nil {
		t.Fatal(err)
	}
	if err := db.SetClubhouse(t.Context(), store.Clubhouse{Server: elsewhere, Units: analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}}); err != nil {
		t.Fatal(err)
	}
	old := post(t, db, r, saltmarsh, wren, time.Time{}, 3)
	kept := post(t, db, r, elsewhere, wren, time.Time{}, 3) // kept for ever
	never := post(t, db, r, "never set up", wren, time.Time{}, 3)
	c.add(30 * 24 * time.Hour)
	young := post(t, db, r, saltmarsh, wren, c.at.AddDate(-1, 0, 0), 3) // hit long ago, posted now
	if p, err := db.Prune(t.Context()); err != nil || p.Sessions != 0 {
		t.Errorf("on its last day: %+v, %v", p, err)
	}
	c.add(time.Millisecond)
	if p, err := db.Prune(t.Context()); err != nil || p.Sessions != 1 {
		t.Errorf("the day after: %+v, %v", p, err)
	}
	if _, err := db.Session(t.Context(), saltmarsh, old.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("the old session: %v, want ErrNotFound", err)
	}
	for _, s := range []store.Session{kept, never, young} {
		if _, err := db.Session(t.Context(), s.Server, s.ID); err != nil {
			t.Errorf("session on %s: %v", s.Server, err)
		}
	}
}
