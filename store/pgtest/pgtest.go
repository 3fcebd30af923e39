// Package pgtest starts a PostgreSQL of a test's own: a throwaway cluster in a
// temporary folder, on a socket in it and no port, one for each test binary. It
// is gone when the binary ends, however that is. The machine's own server is
// neither used nor needed, only its programs.
package pgtest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Chosen reports whether the tests that keep something are to run on PostgreSQL
// rather than on SQLite: the variable RANGEPOST_TEST_DB says postgres.
func Chosen() bool { return os.Getenv("RANGEPOST_TEST_DB") == "postgres" }

// Path is where a test keeps its database: at a path, or where PostgreSQL is
// chosen in a new database of the shared cluster.
func Path(tb testing.TB, path string) string {
	tb.Helper()
	if !Chosen() {
		return path
	}
	return Database(tb, nil)
}

// ErrNone is a machine without PostgreSQL's programs.
var ErrNone = errors.New("there is no initdb on this machine")

// A Cluster is a running server.
type Cluster struct {
	Dir   string // all of it, and the socket
	bin   string
	as    *syscall.Credential
	rein  *os.File      // as long as it is open, the cluster is kept
	ended chan struct{} // closed when the server has ended
	fsync bool
	broom *os.File // held open as long as this process lives, if its folder is to go then
}

// Start starts a cluster. Without fsync it is faster, and whole as long as the
// machine does not lose its power.
func Start(fsync bool) (*Cluster, error) {
	bin, err := programs()
	if err != nil {
		return nil, err
	}
	c := &Cluster{bin: bin, fsync: fsync}
	if c.as, err = anybody(); err != nil {
		return nil, err
	}
	if c.Dir, err = os.MkdirTemp("", "rangepost-pg-"); err != nil {
		return nil, err
	}
	if err := c.make(); err != nil {
		os.RemoveAll(c.Dir)
		return nil, err
	}
	return c, nil
}

// own gives the folder to whom the server runs as.
func (c *Cluster) own() error {
	if c.as == nil {
		return nil
	}
	return os.Chown(c.Dir, int(c.as.Uid), int(c.as.Gid))
}

func (c *Cluster) make() error {
	if err := c.own(); err != nil {
		return err
	}
	// "C" alone would hide where an order depends on the database's.
	if err := c.run("initdb", "-D", filepath.Join(c.Dir, "data"), "-U", "rangepost", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"); err != nil {
		return err
	}
	return c.Resume()
}

// Standby is a cluster that follows this one and can be read, until it is promoted
// (SELECT pg_promote()).
func (c *Cluster) Standby() (*Cluster, error) {
	s := &Cluster{bin: c.bin, as: c.as, fsync: c.fsync}
	var err error
	if s.Dir, err = os.MkdirTemp("", "rangepost-pg-"); err != nil {
		return nil, err
	}
	if err = s.own(); err == nil {
		err = s.run("pg_basebackup", "-D", filepath.Join(s.Dir, "data"), "-h", c.Dir, "-U", "rangepost", "-R", "-c", "fast", "--no-sync")
	}
	if err == nil {
		err = s.Resume()
	}
	if err != nil {
		os.RemoveAll(s.Dir)
		return nil, err
	}
	return s, nil
}

// Resume starts the server again after Stop or End, and waits until it answers.
// What the children of one that was killed still hold may keep a new one from
// starting at first.
func (c *Cluster) Resume() error {
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if !c.runs() {
			if err := c.start(); err != nil {
				return err
			}
		}
		err := c.Exec("SELECT 1")
		if err == nil || time.Now().After(deadline) {
			return err
		}
	}
}

func (c *Cluster) runs() bool {
	if c.ended == nil {
		return false
	}
	select {
	case <-c.ended:
		c.rein.Close()
		return false
	default:
		return true
	}
}

func (c *Cluster) start() error {
	read, write, err := os.Pipe()
	if err != nil {
		return err
	}
	defer read.Close()
	// It waits for the end of this process, or for Stop, and ends the server then;
	// and it ends with the server.
	const keep = `exec 3<&0; "$0" "$@" </dev/null & server=$!; (cat <&3 >/dev/null; kill -INT $server) & waits=$!; wait $server; kill $waits`
	fsync := "off"
	if c.fsync {
		fsync = "on"
	}
	keeper := c.command("/bin/sh", "-c", keep, filepath.Join(c.bin, "postgres"), "-D", filepath.Join(c.Dir, "data"),
		"-k", c.Dir, "-c", "listen_addresses=", "-c", "fsync="+fsync, "-c", "max_connections=200", "-c", "autovacuum_naptime=5s")
	keeper.Stdin = read
	log, err := os.OpenFile(filepath.Join(c.Dir, "log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer log.Close()
	keeper.Stdout, keeper.Stderr = log, log
	if err := keeper.Start(); err != nil {
		return errors.Join(err, write.Close())
	}
	ended := make(chan struct{})
	c.rein, c.ended = write, ended
	go func() {
		keeper.Wait()
		close(ended)
	}()
	return nil
}

// Stop stops the server as its operator would (fast shutdown).
func (c *Cluster) Stop() {
	c.rein.Close()
	<-c.ended
}

// End ends the server by a signal: SIGINT and SIGQUIT are its own ways to shut
// down, fast and at once (PostgreSQL documentation, "Shutting Down the Server"
// [M]), and SIGKILL is a crash.
func (c *Cluster) End(by syscall.Signal) error {
	first, err := os.ReadFile(filepath.Join(c.Dir, "data", "postmaster.pid"))
	if err != nil {
		return err
	}
	line, _, _ := bytes.Cut(first, []byte("\n"))
	pid, err := strconv.Atoi(string(line))
	if err != nil {
		return err
	}
	if err := syscall.Kill(pid, by); err != nil {
		return err
	}
	<-c.ended
	return nil
}

// Remove stops the server and takes away all of it.
func (c *Cluster) Remove() error {
	c.Stop()
	if c.broom != nil {
		defer c.broom.Close()
	}
	return os.RemoveAll(c.Dir)
}

// Address is the address of a database of the cluster.
func (c *Cluster) Address(database string) string {
	return "postgres://rangepost@/" + database + "?host=" + c.Dir
}

// Exec runs SQL that is no part of a transaction.
func (c *Cluster) Exec(sql ...string) error { return c.ExecOn("postgres", sql...) }

// ExecOn is Exec on a database.
func (c *Cluster) ExecOn(database string, sql ...string) error {
	return ExecAt(c.Address(database), sql...)
}

// ExecAt is Exec on the database at an address.
func ExecAt(address string, sql ...string) error {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, address)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	for _, s := range sql {
		if _, err := conn.Exec(ctx, s); err != nil {
			return fmt.Errorf("%s: %w", s, err)
		}
	}
	return nil
}

func (c *Cluster) run(program string, args ...string) error {
	cmd := c.command(filepath.Join(c.bin, program), args...)
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %s", program, err, out)
	}
	return nil
}

func (c *Cluster) command(program string, args ...string) *exec.Cmd {
	cmd := exec.Command(program, args...)
	cmd.Dir = c.Dir
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: c.as, Setpgid: true} // a Ctrl-C is for the test alone
	return cmd
}

// programs is where the newest PostgreSQL's programs are.
func programs() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		path, err = filepath.EvalSymlinks(path) // the others are beside where it really is
		return filepath.Dir(path), err
	}
	all, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(all) == 0 {
		return "", errors.Join(ErrNone, err)
	}
	version := func(path string) int {
		n, _ := strconv.Atoi(filepath.Base(filepath.Dir(filepath.Dir(path))))
		return n
	}
	return filepath.Dir(slices.MaxFunc(all, func(a, b string) int { return version(a) - version(b) })), nil
}

// anybody is whom the server runs as, which is not root: nil for whoever this is.
func anybody() (*syscall.Credential, error) {
	if os.Geteuid() != 0 {
		return nil, nil
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		if u, err = user.Lookup("nobody"); err != nil {
			return nil, err
		}
	}
	uid, err := strconv.Atoi(u.Uid)
	if err != nil {
		return nil, err
	}
	gid, err := strconv.Atoi(u.Gid)
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, err
}

// Shared is the cluster that the tests of a binary share, without fsync. Its
// folder is taken away by whoever keeps it once the binary has ended.
var Shared = sync.OnceValues(func() (*Cluster, error) {
	c, err := Start(false)
	if err != nil {
		return nil, err
	}
	// Another one that waits for the end of this process.
	read, write, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer read.Close()
	broom := exec.Command("/bin/sh", "-c", `cat >/dev/null; for i in $(seq 100); do [ -e "$0/data/postmaster.pid" ] || break; sleep 0.1; done; rm -rf "$0"`, c.Dir)
	broom.Stdin = read
	broom.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	c.broom = write
	return c, broom.Start()
})

var (
	numbered   atomic.Int64
	templates  sync.Mutex
	once       sync.Once
	unprepared error
)

// Database is the address of a new database of the shared cluster, gone when the
// test ends. It is a copy of one that prepare was called with, once. Without
// PostgreSQL on the machine the test is skipped.
func Database(tb testing.TB, prepare func(address string) error) string {
	tb.Helper()
	c, err := Shared()
	if errors.Is(err, ErrNone) {
		tb.Skip(err)
	}
	if err != nil {
		tb.Fatal(err)
	}
	templates.Lock() // a template is copied while nobody is connected to it
	defer templates.Unlock()
	if prepare != nil {
		once.Do(func() {
			if unprepared = c.Exec(`CREATE DATABASE model`); unprepared == nil {
				unprepared = prepare(c.Address("model"))
			}
		})
		if unprepared != nil {
			tb.Fatalf("preparing a database: %v", unprepared)
		}
	}
	from := "template1"
	if prepare != nil {
		from = "model"
	}
	name := fmt.Sprintf("test%d", numbered.Add(1))
	if err := c.Exec(`CREATE DATABASE ` + name + ` TEMPLATE ` + from); err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := c.Exec(`DROP DATABASE ` + name + ` WITH (FORCE)`); err != nil {
			tb.Errorf("taking a database away: %v", err)
		}
	})
	return c.Address(name)
}
