package store_test

import (
	"bytes"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rangepost/store"
)

// kept is a database file with a session in it, closed.
func kept(t *testing.T) (path string, raw []byte) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "kept.db")
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	n := full(t)
	if _, _, err := db.PostSession(t.Context(), n); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return path, n.Raw
}

// foreign is another program's database.
func foreign(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "foreign.db")
	pool, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	defer pool.Close()
	if _, err := pool.Exec(`CREATE TABLE sessions (id TEXT); CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES ('bread')`); err != nil {
		t.Fatal(err)
	}
	return path
}

func readAll(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Nothing that is not ours is opened, and opening it changes nothing of it.
func TestOpenLeavesOthersAlone(t *testing.T) {
	store.OnSQLite(t)
	text := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(text, []byte(strings.Repeat("dear diary ", 500)), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, path := range map[string]string{"another program's": foreign(t), "a text": text} {
		before := readAll(t, path)
		db, err := store.Open(t.Context(), path)
		if err == nil {
			db.Close()
		}
		if !errors.Is(err, store.ErrNotOurs) {
			t.Errorf("%s: %v, want ErrNotOurs", name, err)
		}
		if !bytes.Equal(before, readAll(t, path)) {
			t.Errorf("%s was changed", name)
		}
		for _, beside := range []string{"-wal", "-shm", "-journal"} {
			if _, err := os.Stat(path + beside); err == nil {
				t.Errorf("%s has a %s beside it now", name, beside)
			}
		}
	}
	path, _ := kept(t)
	db, err := store.Open(t.Context(), path, store.Existing())
	if err != nil {
		t.Fatal(err)
	}
	db.Close()
}

// Where there is no database none is made by whoever asked for one that exists.
func TestExisting(t *testing.T) {
	store.OnSQLite(t)
	path := filepath.Join(t.TempDir(), "none.db")
	if _, err := store.Open(t.Context(), path, store.Existing()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v, want ErrNotExist", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("it was made")
	}
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(t.Context(), path, store.Existing()); !errors.Is(err, store.ErrNotOurs) {
		t.Errorf("an empty file: %v, want ErrNotOurs", err)
	}
}

// Nothing that is not ours and whole is restored.
func TestRestoreRefuses(t *testing.T) {
	store.OnSQLite(t)
	whole, raw := kept(t)
	damaged := filepath.Join(t.TempDir(), "damaged.db")
	data := readAll(t, whole)
	if err := os.WriteFile(damaged, data, 0o600); err != nil {
		t.Fatal(err)
	}
	// A bit of a kept file, in a page that SQLite itself has no sum of.
	pool, err := sql.Open("sqlite3", damaged)
	if err != nil {
		t.Fatal(err)
	}
	var packed []byte
	if err := pool.QueryRow(`SELECT gzip FROM files`).Scan(&packed); err != nil {
		t.Fatal(err)
	}
	pool.Close()
	at := bytes.Index(data, packed[10:min(len(packed), 40)])
	if at < 0 {
		t.Fatalf("the %d bytes of the file's %d are not in one piece", len(packed), len(raw))
	}
	data[at+4] ^= 1
	if err := os.WriteFile(damaged, data, 0o600); err != nil {
		t.Fatal(err)
	}
	empty := filepath.Join(t.TempDir(), "empty.db")
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, backup string
		want         error
	}{
		{"empty", empty, store.ErrNotOurs},
		{"another program's", foreign(t), store.ErrNotOurs},
		{"a flipped bit in a kept file", damaged, store.ErrDamaged},
		{"nothing", filepath.Join(t.TempDir(), "no.db"), fs.ErrNotExist},
	} {
		target := filepath.Join(t.TempDir(), "restored.db")
		if err := store.Restore(t.Context(), c.backup, target); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
		if _, err := os.Stat(target); err == nil {
			t.Errorf("%s was restored", c.name)
		}
	}
	if err := store.Restore(t.Context(), whole, filepath.Join(t.TempDir(), "restored.db")); err != nil {
		t.Error(err)
	}
	// Nor is a copy of what is damaged called a backup.
	db, err := store.Open(t.Context(), damaged)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	copied := filepath.Join(t.TempDir(), "copy.db")
	if err := db.Backup(t.Context(), copied); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("backing up what is damaged: %v, want ErrDamaged", err)
	}
	if _, err := os.Stat(copied); err == nil {
		t.Error("the damaged copy is there")
	}
}

// One process serves from a database at a time.
func TestHold(t *testing.T) {
	path, _ := kept(t)
	first, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	second, err := store.Open(t.Context(), path) // a check or a backup may
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if err := first.Hold(); err != nil {
		t.Fatal(err)
	}
	if err := second.Hold(); !errors.Is(err, store.ErrHeld) || !strings.Contains(err.Error(), "process ") {
		t.Errorf("held twice: %v, want ErrHeld and which process", err)
	}
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	if err := second.Hold(); err != nil {
		t.Errorf("after the first let go: %v", err)
	}
}

// A file that is moved away or replaced under a serving bot is noticed.
func TestThere(t *testing.T) {
	path, _ := kept(t)
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.There(); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(path, path+".away"); err != nil {
		t.Fatal(err)
	}
	if err := db.There(); err == nil {
		t.Error("moved away and there")
	}
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := db.There(); err == nil {
		t.Error("replaced and there")
	}
}
