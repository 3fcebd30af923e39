package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

// A backup is taken while posts come in, and put in place of a lost database.
func TestBackupAndRestore(t *testing.T) {
	store.OnSQLite(t)
	c := newClock()
	db := open(t, store.WithClock(c.now))
	furnish(t, db, c, saltmarsh, wren, "zqwren")
	want, err := export(t, db, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	furnish(t, db, c, saltmarsh, odell, "zqodell")
	if err := db.ForgetStudent(t.Context(), saltmarsh, odell); err != nil {
		t.Fatal(err)
	}

	dir := t.TempDir()
	backup := filepath.Join(dir, "backup.db")
	r, posts, stop, stopped := seeded(), atomic.Int64{}, make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			default:
				post(t, db, r, saltmarsh, tamsin, time.Time{}, 20)
				posts.Add(1)
			}
		}
	}()
	for posts.Load() == 0 {
		time.Sleep(time.Millisecond)
	}
	first := posts.Load()
	if err := db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	close(stop)
	<-stopped
	if info, err := os.Stat(backup); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the backup's permissions: %v, %v", info.Mode(), err)
	}
	before, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}

	lost := filepath.Join(dir, "restored.db")
	if err := store.Restore(t.Context(), backup, lost); err != nil {
		t.Fatal(err)
	}
	restored, err := store.Open(t.Context(), lost)
	if err != nil {
		t.Fatal(err)
	}
	defer restored.Close()
	if inFiles(t, restored, []byte("zqodell")) {
		t.Error("a backup made after somebody was forgotten holds them")
	}
	got, err := export(t, restored, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, compareShots); d != "" {
		t.Errorf("restored (-want +got):\n%s", d)
	}
	meanwhile, err := restored.Sessions(t.Context(), saltmarsh, tamsin, store.SessionFilter{})
	if err != nil || len(meanwhile) < int(first) {
		t.Errorf("%d posts were acknowledged before the backup, %d are in it, %v", first, len(meanwhile), err)
	}
	if after, err := os.ReadFile(backup); err != nil || !bytes.Equal(after, before) {
		t.Errorf("restoring changed the backup: %v", err)
	}
	left, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range left {
		if e.IsDir() {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

func TestBackupWritesOverNothing(t *testing.T) {
	store.OnSQLite(t)
	db := open(t)
	dir := t.TempDir()
	taken := filepath.Join(dir, "precious.txt")
	if err := os.WriteFile(taken, []byte("precious"), 0o600); err != nil {
		t.Fatal(err)
	}
	backup := filepath.Join(dir, "backup.db")
	if err := db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	for name, try := range map[string]func() error{
		"Backup":  func() error { return db.Backup(t.Context(), taken) },
		"Restore": func() error { return store.Restore(t.Context(), backup, taken) },
		"Restore beside its log": func() error {
			os.WriteFile(filepath.Join(dir, "x-wal"), nil, 0o600)
			return store.Restore(t.Context(), backup, filepath.Join(dir, "x"))
		},
		"Restore over the source": func() error { return store.Restore(t.Context(), backup, db.Path()) },
	} {
		if err := try(); !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s: %v, want fs.ErrExist", name, err)
		}
	}
	if b, err := os.ReadFile(taken); err != nil || string(b) != "precious" {
		t.Errorf("the file there is %q, %v", b, err)
	}
	if err := store.Restore(t.Context(), taken, filepath.Join(dir, "y.db")); !errors.Is(err, store.ErrNotOurs) {
		t.Errorf("restoring what is no backup: %v, want ErrNotOurs", err)
	}
	damaged := filepath.Join(dir, "damaged.db")
	whole, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4096 { // the last page: a table nobody reads on opening
		whole[len(whole)-4096+i] = byte(i)
	}
	if err := os.WriteFile(damaged, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := store.Restore(t.Context(), damaged, filepath.Join(dir, "y.db")); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("restoring a damaged backup: %v, want ErrDamaged", err)
	}
	if err := store.Restore(t.Context(), filepath.Join(dir, "nowhere"), filepath.Join(dir, "y.db")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("restoring nothing: %v, want fs.ErrNotExist", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "y.db")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a failed restore left a database: %v", err)
	}
}

// A figure that became another one on the disk is seen, wherever it stands: every
// copy with a bit turned round is refused, or holds what was backed up.
func TestBackupIsHeldAgainstItsSum(t *testing.T) {
	store.OnSQLite(t)
	c := newClock()
	db := open(t, store.WithClock(c.now))
	furnish(t, db, c, saltmarsh, wren, "zqwren")
	want, err := export(t, db, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	backup := filepath.Join(dir, "backup.db")
	if err := db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	r, refused := seeded(), 0
	for n := range 60 {
		at := r.IntN(len(whole))
		for whole[at] == 0 {
			at = r.IntN(len(whole))
		}
		turned, to := bytes.Clone(whole), filepath.Join(dir, fmt.Sprint(n, ".db"))
		turned[at] ^= 1 << r.IntN(8)
		broken := filepath.Join(dir, "broken.db")
		if err := os.WriteFile(broken, turned, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := store.Restore(t.Context(), broken, to); err != nil {
			refused++
			continue
		}
		restored, err := store.Open(t.Context(), to)
		if err != nil {
			t.Fatal(err)
		}
		got, err := export(t, restored, saltmarsh, wren)
		if err := errors.Join(err, restored.Close()); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got, compareShots); d != "" {
			t.Errorf("byte %d turned round was restored (-want +got):\n%s", at, d)
		}
	}
	if refused < 20 {
		t.Errorf("only %d of 60 refused", refused)
	}

	// Served from and copied by hand it is no backup any more.
	served, err := store.Open(t.Context(), backup, store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	if err := served.Hold(); err != nil {
		t.Fatal(err)
	}
	furnish(t, served, c, saltmarsh, odell, "zqodell")
	if err := served.Close(); err != nil {
		t.Fatal(err)
	}
	if err := store.Restore(t.Context(), backup, filepath.Join(dir, "by hand.db")); err != nil {
		t.Errorf("a backup that was served from and copied: %v", err)
	}
}
