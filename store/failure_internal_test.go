package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/mattn/go-sqlite3"

	"rangepost/analysis"
)

// noise is n bytes no compressor makes smaller.
func noise(n int) []byte {
	r := rand.New(rand.NewPCG(3, 4))
	b := make([]byte, n)
	for i := range b {
		b[i] = byte(r.Uint32())
	}
	return b
}

func TestFullDisk(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	small := NewSession{Server: "s", Student: "u", Raw: []byte("small")}
	if _, _, err := db.PostSession(t.Context(), small); err != nil {
		t.Fatal(err)
	}
	var pages int
	if err := db.write.QueryRow(`PRAGMA page_count`).Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`PRAGMA max_page_count = ` + strconv.Itoa(pages+20)); err != nil {
		t.Fatal(err)
	}
	big := NewSession{Server: "s", Student: "v", Raw: noise(1 << 20), Reading: Reading{Session: analysis.Session{Shots: make([]analysis.Shot, 50)}}}
	if _, _, err := db.PostSession(t.Context(), big); !errors.Is(err, ErrFull) {
		t.Fatalf("posting to a full disk: %v, want ErrFull", err)
	}
	h, err := db.Check(t.Context())
	if err != nil || h.Sessions != 1 || h.Students != 1 || h.Shots != 0 {
		t.Errorf("after the full disk: %+v, %v", h, err)
	}
	if _, err := db.write.Exec(`PRAGMA max_page_count = 1000000`); err != nil {
		t.Fatal(err)
	}
	if _, created, err := db.PostSession(t.Context(), big); err != nil || !created {
		t.Errorf("with room again: created %v, %v", created, err)
	}
}

// The database cannot be written from one moment to the next: what is there can
// be read, nothing is half kept, and when it can be written again all goes on.
func TestTurnsReadOnly(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	kept := NewSession{Server: "s", Student: "u", Raw: []byte("kept")}
	if _, _, err := db.PostSession(t.Context(), kept); err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`PRAGMA query_only = 1`); err != nil {
		t.Fatal(err)
	}
	lost := NewSession{Server: "s", Student: "v", Raw: []byte("lost")}
	if _, _, err := db.PostSession(t.Context(), lost); !errors.Is(err, ErrReadOnly) {
		t.Errorf("posting: %v, want ErrReadOnly", err)
	}
	if _, err := db.Accept(t.Context(), Intake{ID: "1"}); !errors.Is(err, ErrReadOnly) {
		t.Errorf("writing down a request: %v, want ErrReadOnly", err)
	}
	if all, err := db.Sessions(t.Context(), "s", "u", SessionFilter{}); err != nil || len(all) != 1 {
		t.Errorf("reading: %d sessions, %v", len(all), err)
	}
	if _, err := db.write.Exec(`PRAGMA query_only = 0`); err != nil {
		t.Fatal(err)
	}
	if _, created, err := db.PostSession(t.Context(), lost); err != nil || !created {
		t.Errorf("when it can be written again: created %v, %v", created, err)
	}
	if h, err := db.Check(t.Context()); err != nil || h.Sessions != 2 || h.Students != 2 {
		t.Errorf("at the end: %+v, %v", h, err)
	}
}

// SQLite has no word of its own for these; the system has.
func TestWhatTheSystemSays(t *testing.T) {
	for errno, want := range map[syscall.Errno]error{
		syscall.EROFS: ErrReadOnly, syscall.EPERM: ErrReadOnly, syscall.EDQUOT: ErrFull, syscall.ENOSPC: ErrFull,
	} {
		err := sqlite3.Error{Code: sqlite3.ErrIoErr, ExtendedCode: sqlite3.ErrIoErrWrite, SystemErrno: errno}
		if got := classify(fmt.Errorf("writing: %w", err)); !errors.Is(got, want) || !errors.Is(got, err) {
			t.Errorf("%v: %v, want %v", errno, got, want)
		}
	}
	if got := classify(sqlite3.Error{Code: sqlite3.ErrIoErr, SystemErrno: syscall.EIO}); errors.Is(got, ErrReadOnly) || errors.Is(got, ErrFull) {
		t.Errorf("an error of the disk is said to be %v", got)
	}
}

func TestAnotherProgramWrites(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	other, err := sql.Open("sqlite3", dsn(db.path, "immediate"))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	tx, err := other.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`PRAGMA busy_timeout = 50`); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Accept(t.Context(), Intake{ID: "1"}); !errors.Is(err, ErrBusy) {
		t.Errorf("while another program writes: %v, want ErrBusy", err)
	}
	if _, err := db.Unfinished(t.Context()); err != nil {
		t.Errorf("reading while another program writes: %v", err)
	}
	if _, err := db.write.Exec(`PRAGMA busy_timeout = 5000`); err != nil {
		t.Fatal(err)
	}
	done := make(chan error)
	go func() {
		_, err := db.Accept(context.Background(), Intake{ID: "1"})
		done <- err
	}()
	if err := tx.Rollback(); err != nil {
		t.Fatal(err)
	}
	if err := <-done; err != nil {
		t.Errorf("once the other program is done: %v", err)
	}
}

func TestNotADatabase(t *testing.T) {
	OnSQLite(t)
	for name, content := range map[string][]byte{
		"text":  []byte(strings.Repeat("club,face\n7i,-1.5\n", 500)),
		"noise": noise(8192),
	} {
		path := filepath.Join(t.TempDir(), "rangepost.db")
		if err := os.WriteFile(path, content, 0o600); err != nil {
			t.Fatal(err)
		}
		if db, err := Open(t.Context(), path); !errors.Is(err, ErrDamaged) {
			if err == nil {
				db.Close()
			}
			t.Errorf("%s: %v, want ErrDamaged", name, err)
		}
		if after, err := os.ReadFile(path); err != nil || string(after) != string(content) {
			t.Errorf("%s: the file was changed: %v", name, err)
		}
	}
}

// A page of the file is overwritten, as by a failing disk.
func TestCheckFindsDamage(t *testing.T) {
	OnSQLite(t)
	path := filepath.Join(t.TempDir(), "rangepost.db")
	db, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := db.PostSession(t.Context(), NewSession{Server: "s", Student: "u", Raw: noise(100_000)}); err != nil {
		t.Fatal(err)
	}
	var root int64
	if err := db.read.QueryRow(`SELECT rootpage FROM sqlite_schema WHERE name = 'files'`).Scan(&root); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt(noise(4096), (root-1)*4096); err != nil {
		t.Fatal(err)
	}
	f.Close()
	db, err = Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Check(t.Context()); !errors.Is(err, ErrDamaged) {
		t.Errorf("Check = %v, want ErrDamaged", err)
	}
}

// Check has to touch the disk to know that it can be written, and leaves no
// trace.
func TestCheckWrites(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	if err := db.emptyLog(t.Context()); err != nil {
		t.Fatal(err)
	}
	h, err := db.Check(t.Context())
	if err != nil || h.Schema < 1 || h.Students != 0 {
		t.Errorf("Check = %+v, %v", h, err)
	}
	if size(db.path+"-wal") == 0 {
		t.Error("nothing was written")
	}
	if h, err := db.Health(t.Context()); err != nil || h.Students != 0 {
		t.Errorf("after the check: %d students, %v", h.Students, err)
	}
}

func TestCheckFindsOrphans(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	if _, err := db.write.Exec(`PRAGMA foreign_keys = off`); err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`INSERT INTO files (session, size, gzip) VALUES ('nowhere', 0, x'')`); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Check(t.Context()); !errors.Is(err, ErrDamaged) {
		t.Errorf("Check = %v, want ErrDamaged", err)
	}
}

func TestNewerSchemaIsLeftAlone(t *testing.T) {
	path := NewPath(t)
	db, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (99999, 1 = 1)`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), path); !errors.Is(err, ErrNewer) {
		t.Errorf("Open = %v, want ErrNewer", err)
	}
}

// What a caller gave up on is not half done.
func TestCancelled(t *testing.T) {
	db := openFile(t)
	ctx, cancel := context.WithCancel(t.Context())
	err := db.update(ctx, "test", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, "s", "u"); err != nil {
			return err
		}
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("update = %v, want context.Canceled", err)
	}
	if h, err := db.Health(t.Context()); err != nil || h.Students != 0 {
		t.Errorf("after the cancellation: %d students, %v", h.Students, err)
	}
	if _, err := db.Accept(t.Context(), Intake{ID: "1"}); err != nil {
		t.Errorf("the writer did not come back: %v", err)
	}
}

// A reader that started before somebody was forgotten keeps their pages in the
// log. Forgetting does not wait for it; the next pruning finishes the job.
func TestForgottenUnderAReader(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	mark := []byte("zqforgotten")
	if err := db.SetName(t.Context(), "s", "u", string(mark)); err != nil {
		t.Fatal(err)
	}
	reader, err := db.read.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := findStudent(t.Context(), reader, "s", "u"); err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.Exec(`PRAGMA busy_timeout = 50`); err != nil {
		t.Fatal(err)
	}
	if err := db.ForgetStudent(t.Context(), "s", "u"); err != nil {
		t.Fatal(err)
	}
	if log, err := os.ReadFile(db.path + "-wal"); err != nil || !bytes.Contains(log, mark) {
		t.Fatalf("the reader did not hold up the log: the test shows nothing (%v)", err)
	}
	if err := reader.Rollback(); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Prune(t.Context()); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{db.path, db.path + "-wal"} {
		if content, err := os.ReadFile(path); err != nil || bytes.Contains(content, mark) {
			t.Errorf("%s still holds the name (%v)", filepath.Base(path), err)
		}
	}
}

// A file is handed back as it was or not at all.
func TestUnpackChecks(t *testing.T) {
	p, err := pack([]byte("club,face\n"))
	if err != nil {
		t.Fatal(err)
	}
	bent := slices.Clone(p.gzip)
	bent[len(bent)-6] ^= 1 // in the checksum
	for name, p := range map[string]packed{
		"longer":    {p.size - 1, p.gzip},
		"shorter":   {p.size + 1, p.gzip},
		"truncated": {p.size, p.gzip[:len(p.gzip)-9]},
		"bent":      {p.size, bent},
		"nothing":   {p.size, nil},
	} {
		if raw, err := p.unpack(); err == nil {
			t.Errorf("%s: %q", name, raw)
		}
	}
}
