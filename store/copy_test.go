package store_test

import (
	"errors"
	"io/fs"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

// A database is copied whole, to the other engine and back, and goes on there.
func TestCopy(t *testing.T) {
	c := newClock()
	first := filepath.Join(t.TempDir(), "first.db")
	db, err := store.Open(t.Context(), first, store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	furnish(t, db, c, saltmarsh, wren, "zqwren")
	furnish(t, db, c, saltmarsh, odell, "zqodell")
	want, err := export(t, db, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.Copy(t.Context(), first, store.NewPath(t)); err == nil {
		// SQLite holds nobody up who only has it open: the one that serves does.
		t.Log("copied from one that is open")
	}
	if err := db.Hold(); err != nil {
		t.Fatal(err)
	}
	second, third := store.NewPath(t), filepath.Join(t.TempDir(), "third.db")
	if _, err := store.Copy(t.Context(), first, second); !errors.Is(err, store.ErrHeld) {
		t.Errorf("copying one that is served from: %v, want ErrHeld", err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	there, err := store.Copy(t.Context(), first, second)
	if err != nil {
		t.Fatal(err)
	}
	back, err := store.Copy(t.Context(), second, third)
	if err != nil || back != there || there.Rows < 100 {
		t.Errorf("there %+v, back %+v, %v", there, back, err)
	}
	for _, path := range []string{second, third} {
		db, err := store.Open(t.Context(), path, store.WithClock(c.now))
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Check(t.Context()); err != nil {
			t.Error(err)
		}
		if n := store.Unread(t, db); n != 2 {
			t.Errorf("%d posts wait, want 2", n)
		}
		got, err := export(t, db, saltmarsh, wren)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got, compareShots); d != "" {
			t.Errorf("%s (-want +got):\n%s", path, d)
		}
		// Rows that come are later than those that came with.
		if _, err := db.Accept(t.Context(), store.Intake{ID: "new"}); err != nil {
			t.Error(err)
		}
		if _, err := db.RememberAnswer(t.Context(), store.Answer{Server: saltmarsh, Fingerprint: "f", Key: "k", Value: "new", Who: wren}); err != nil {
			t.Error(err)
		}
		if all, err := db.AnswerHistory(t.Context(), saltmarsh); err != nil || all[0].Value != "new" {
			t.Errorf("answers: %+v, %v", all, err)
		}
	}
	if _, err := store.Copy(t.Context(), first, third); !errors.Is(err, store.ErrNotEmpty) {
		t.Errorf("copying over something: %v, want ErrNotEmpty", err)
	}
	if _, err := store.Copy(t.Context(), filepath.Join(t.TempDir(), "none"), store.NewPath(t)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("copying nothing: %v, want ErrNotExist", err)
	}
}
