package store_test

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// What somebody posted by direct message goes along to the first server that
// comes to know them, and nothing stays out of reach.
func TestDirectMessagesFindTheirServer(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	direct := post(t, db, r, "", wren, c.at, 5)
	if err := db.SetHand(t.Context(), "", wren, analysis.LeftHanded); err != nil {
		t.Fatal(err)
	}
	if err := db.SetName(t.Context(), "", wren, "Wren"); err != nil {
		t.Fatal(err)
	}
	if _, err := db.StartTally(t.Context(), "", wren, analysis.Club{}, 9, time.Hour); err != nil {
		t.Fatal(err)
	}
	other := post(t, db, r, "", tamsin, c.at, 5)
	c.add(time.Hour)

	s, err := db.Student(t.Context(), saltmarsh, wren)
	if err != nil || s.Name != "Wren" || s.Hand == nil || *s.Hand != analysis.LeftHanded {
		t.Errorf("%+v, %v; want what was said by direct message", s, err)
	}
	if _, err := db.SessionWithBalls(t.Context(), saltmarsh, direct.ID); err != nil {
		t.Errorf("the session: %v", err)
	}
	if _, err := db.Raw(t.Context(), saltmarsh, direct.ID); err != nil {
		t.Errorf("its file: %v", err)
	}
	if values, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face}); err != nil || len(values) == 0 {
		t.Errorf("its values: %v, %v", values, err)
	}
	if all, err := db.Tallies(t.Context(), saltmarsh, wren, time.Time{}); err != nil || len(all) != 1 {
		t.Errorf("the tally: %v, %v", all, err)
	}
	if left := store.RowsNaming(t, db, "", wren); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := db.Session(t.Context(), "", other.ID); err != nil {
		t.Errorf("somebody else's: %v", err)
	}
	if err := db.ForgetStudent(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	for _, server := range []string{"", saltmarsh} {
		if left := store.RowsNaming(t, db, server, wren); len(left) > 0 {
			t.Errorf("forgotten, and still in %q: %v", server, left)
		}
	}
}

// The migration does the same for who was known before it; a file posted in
// both places stays once, in the server.
func TestMigrationFindsServersForDirectMessages(t *testing.T) {
	dump := string(readAll(t, released(4)))
	session := func(id, server, sum string) string {
		return `INSERT INTO sessions (id, server, student, posted_by, posted, at, name, sha256)
			VALUES ('` + id + `', '` + server + `', 'dora', 'dora', 1, 1, 'x.csv', '` + sum + `');
			INSERT INTO files (session, size, gzip) VALUES ('` + id + `', 0, x'1f8b08000000000000ff010000ffff0000000000000000');`
	}
	const student = `INSERT INTO students (server, student, name, hand, junior, since) VALUES `
	empty := "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
	dump += student + `('', 'dora', 'Dora', 'left', 0, 1), ('first', 'dora', 'Dora', NULL, 0, 5), ('second', 'dora', 'Dora', 'right', 0, 9), ('', 'alone', 'A', NULL, 0, 1);` +
		session("d1", "", empty) + strings.ReplaceAll(session("d2", "", "other"), "'other'", "'other'") + session("s1", "first", "other")
	path := filepath.Join(t.TempDir(), "old.db")
	store.Load(t, path, dump)
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for id, want := range map[string]error{"d1": nil, "s1": nil, "d2": store.ErrNotFound} {
		if _, err := db.Session(t.Context(), "first", id); !errors.Is(err, want) {
			t.Errorf("session %s in the first server: %v, want %v", id, err, want)
		}
	}
	if s, err := db.Student(t.Context(), "first", "dora"); err != nil || s.Hand == nil || *s.Hand != analysis.LeftHanded {
		t.Errorf("%+v, %v; want the hand that was said by direct message", s, err)
	}
	if s, err := db.Student(t.Context(), "second", "dora"); err != nil || s.Hand == nil || *s.Hand != analysis.RightHanded {
		t.Errorf("%+v, %v; want the hand that was said there", s, err)
	}
	if left := store.RowsNaming(t, db, "", "dora"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if left := store.RowsNaming(t, db, "", "alone"); len(left) == 0 {
		t.Error("who is known nowhere else is gone")
	}
}
