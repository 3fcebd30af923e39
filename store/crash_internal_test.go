package store

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
)

// The tests below start this test binary again with victim set, and kill it.
const (
	victim     = "RANGEPOST_STORE_VICTIM" // what the victim does
	victimPath = "RANGEPOST_STORE_PATH"   // the database it does it to
)

func TestMain(m *testing.M) {
	deed := map[string]func(*DB){"": nil, "half": halfPost, "posts": manyPosts}[os.Getenv(victim)]
	if deed == nil {
		os.Exit(onBoth(m))
	}
	db, err := Open(context.Background(), os.Getenv(victimPath))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	deed(db)
}

// victimSession is the i-th session a victim posts. Its file is larger than
// SQLite's page cache, so that much of a transaction is in the log before it
// is committed.
func victimSession(i int) NewSession {
	shots := make([]analysis.Shot, 40)
	for j := range shots {
		shots[j] = analysis.Shot{N: j + 1}.With(analysis.Face, float64(i)).With(analysis.Path, float64(j))
	}
	return NewSession{
		Server: "s", Student: "u", Name: strconv.Itoa(i), Raw: append(noise(3<<20), strconv.Itoa(i)...),
		Reading: Reading{Session: analysis.Session{Shots: shots}},
	}
}

// halfPost writes a session and its answer's mark, and never commits.
func halfPost(db *DB) {
	ctx := context.Background()
	n := victimSession(1)
	err := db.update(ctx, "half", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, n.Server, n.Student); err != nil {
			return err
		}
		file, err := pack(n.Raw)
		if err != nil {
			return err
		}
		s := Session{SessionInfo: SessionInfo{ID: db.newID(), Server: n.Server, Student: n.Student, Posted: db.stamp()}, Reading: n.Reading}
		if _, err := insertSession(ctx, tx, s, "", file); err != nil {
			return err
		}
		fmt.Println("half")
		select {}
	})
	fmt.Fprintln(os.Stderr, err)
}

// manyPosts takes on, posts and settles one session after another and says the
// id of each once it is posted.
func manyPosts(db *DB) {
	ctx := context.Background()
	for i := 0; ; i++ {
		if _, err := db.Accept(ctx, Intake{ID: strconv.Itoa(i)}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println("accepted", i)
		s, _, err := db.PostSession(ctx, victimSession(i))
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println("posted", s.ID)
		if err := db.Answered(ctx, strconv.Itoa(i)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

func startVictim(t *testing.T, deed, path string) (*exec.Cmd, *bufio.Scanner) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), victim+"="+deed, victimPath+"="+path)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait() // stderr is complete; waiting twice does no harm
		if stderr.Len() > 0 {
			t.Errorf("victim: %s", &stderr)
		}
	})
	return cmd, bufio.NewScanner(out)
}

// Killed inside a transaction, nothing of it is there.
func TestKilledInside(t *testing.T) {
	path := NewPath(t)
	cmd, out := startVictim(t, "half", path)
	if !out.Scan() || out.Text() != "half" {
		t.Fatalf("victim said %q", out.Text())
	}
	if log := size(path + "-wal"); log < 1<<20 && !IsServer(path) {
		t.Fatalf("log holds %d bytes: the transaction was not under way on disk", log)
	}
	cmd.Process.Kill()
	cmd.Wait()
	db, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	h, err := db.Check(t.Context())
	if err != nil || h.Sessions != 0 || h.Students != 0 || h.Shots != 0 {
		t.Errorf("after the kill: %+v, %v", h, err)
	}
	if _, created, err := db.PostSession(t.Context(), victimSession(1)); err != nil || !created {
		t.Errorf("posting again: created %v, %v", created, err)
	}
}

// Killed while the database is being made, at whatever step, the next start finds
// it again and makes it whole; a table of somebody else's is still somebody else's.
func TestKilledAtBirth(t *testing.T) {
	OnSQLite(t)
	for name, c := range map[string]struct {
		made []string
		ours bool
	}{
		"a header alone":        {nil, true},
		"claimed":               {[]string{fmt.Sprintf("PRAGMA application_id = %d", ours)}, true},
		"the table of versions": {[]string{fmt.Sprintf("PRAGMA application_id = %d", ours), "CREATE TABLE goose_db_version (id INTEGER PRIMARY KEY, version_id INTEGER NOT NULL, is_applied INTEGER NOT NULL, tstamp TIMESTAMP DEFAULT (datetime('now')))", "INSERT INTO goose_db_version (version_id, is_applied) VALUES (0, 1)"}, true},
		"somebody else's":       {[]string{"CREATE TABLE goose_db_version (id INTEGER PRIMARY KEY)"}, false},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "rangepost.db")
			pool, err := sql.Open("sqlite3", dsn(path, "immediate"))
			if err != nil {
				t.Fatal(err)
			}
			for _, statement := range append([]string{"PRAGMA user_version = 0"}, c.made...) {
				if _, err := pool.Exec(statement); err != nil {
					t.Fatal(err)
				}
			}
			if err := pool.Close(); err != nil {
				t.Fatal(err)
			}
			db, err := Open(t.Context(), path)
			if !c.ours {
				if !errors.Is(err, ErrNotOurs) {
					t.Errorf("opened: %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Check(t.Context()); err != nil {
				t.Error(err)
			}
		})
	}
}

// Killed at any instant, what was acknowledged is there whole, and what was
// not is there whole or not at all.
func TestKilledAnywhere(t *testing.T) {
	for i := range 4 {
		path := NewPath(t)
		cmd, out := startVictim(t, "posts", path)
		time.AfterFunc(time.Duration(300+170*i)*time.Millisecond, func() { cmd.Process.Kill() })
		posted := map[string]bool{}
		accepted := 0
		for out.Scan() {
			what, id, _ := strings.Cut(out.Text(), " ")
			if what == "posted" {
				posted[id] = true
			} else {
				accepted++
			}
		}
		cmd.Wait()
		db, err := Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Check(t.Context()); err != nil {
			t.Errorf("after %d posts: %v", len(posted), err)
		}
		all, err := db.Sessions(t.Context(), "s", "u", SessionFilter{})
		if err != nil {
			t.Fatal(err)
		}
		unfinished, err := db.Unfinished(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("killed after %d accepted and %d posted; found %d sessions, %d unfinished", accepted, len(posted), len(all), len(unfinished))
		if len(all) > accepted || len(unfinished) > 1 {
			t.Errorf("%d accepted, but %d sessions and %d unfinished", accepted, len(all), len(unfinished))
		}
		for _, info := range all {
			whole(t, db, info)
			delete(posted, info.ID)
		}
		for id := range posted {
			t.Errorf("session %s was acknowledged and is gone", id)
		}
	}
}

// whole fails the test unless a victim's session has all it was posted with.
func whole(t *testing.T, db *DB, info SessionInfo) {
	t.Helper()
	i, err := strconv.Atoi(info.Name)
	if err != nil {
		t.Fatal(err)
	}
	want := victimSession(i)
	s, err := db.SessionWithBalls(t.Context(), "s", info.ID)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Reading.Session.Shots) != len(want.Reading.Session.Shots) {
		t.Fatalf("session %d has %d shots", i, len(s.Reading.Session.Shots))
	}
	for j, shot := range s.Reading.Session.Shots {
		if shot != want.Reading.Session.Shots[j] {
			t.Errorf("session %d shot %d = %+v", i, j, shot)
		}
	}
	raw, err := db.Raw(t.Context(), "s", info.ID)
	if err != nil || !bytes.Equal(raw, want.Raw) {
		t.Errorf("session %d: file of %d bytes, %v", i, len(raw), err)
	}
	values, err := db.Values(t.Context(), "s", "u", ValuesFilter{Number: analysis.Face})
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range values {
		if v.Session == info.ID && len(v.Values) == len(want.Reading.Session.Shots) && v.Mean == float64(i) {
			return
		}
	}
	t.Errorf("session %d has no values", i)
}
