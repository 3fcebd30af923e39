package stranger

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// A Database is what the processes share: a real one, or in the judge's own test
// what stands for it.
type Database interface {
	// Dial connects to it, for a proxy; Address is what a process is given to
	// reach it at the proxy's address.
	Dial() (net.Conn, error)
	Address(proxy string) string
	// Break ends it ("fast", "immediate", "kill") or all connections to it
	// ("connections"), and Back has it serve again.
	Break(how string) error
	Back() error
}

// A Cluster is a PostgreSQL of its own in a folder of its own, reached by a
// socket there and by nothing else.
type Cluster struct {
	dir, bin string
	owner    *syscall.Credential // it refuses to run as root
	hold     io.WriteCloser      // open for as long as we live: it ends with us
	ended    chan struct{}
}

// ErrNoPostgres says that there is none to be started.
var ErrNoPostgres = errors.New("no initdb and postgres on this machine")

// NewCluster makes and starts one; Close ends it and removes it.
func NewCluster() (*Cluster, error) {
	k := &Cluster{}
	initdb, err := exec.LookPath("initdb")
	if err != nil {
		found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
		if len(found) == 0 {
			return nil, ErrNoPostgres
		}
		initdb = found[len(found)-1]
	}
	if initdb, err = filepath.EvalSymlinks(initdb); err != nil {
		return nil, err
	}
	k.bin = filepath.Dir(initdb)
	if k.dir, err = os.MkdirTemp("", "fleet-pg"); err != nil { // short: a socket's path has at most 107 bytes
		return nil, err
	}
	if os.Getuid() == 0 {
		who, err := user.Lookup("postgres")
		if err != nil {
			who, err = user.Lookup("nobody")
		}
		if err != nil {
			return nil, err
		}
		uid, _ := strconv.Atoi(who.Uid)
		gid, _ := strconv.Atoi(who.Gid)
		k.owner = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
		if err := os.Chown(k.dir, uid, gid); err != nil {
			return nil, err
		}
	}
	if _, err := k.run("initdb", "-D", k.data(), "-U", "rangepost", "--auth=trust", "-E", "UTF8", "--no-locale", "-N"); err != nil {
		k.Close()
		return nil, err
	}
	if err := k.Back(); err != nil {
		k.Close()
		return nil, err
	}
	_, err = k.run("createdb", "-h", k.dir, "-U", "rangepost", "rangepost")
	if err != nil {
		k.Close()
	}
	return k, err
}

func (k *Cluster) data() string { return filepath.Join(k.dir, "data") }

func (k *Cluster) run(program string, args ...string) (string, error) {
	cmd := exec.Command(filepath.Join(k.bin, program), args...)
	cmd.Dir, cmd.SysProcAttr = k.dir, &syscall.SysProcAttr{Credential: k.owner}
	out, err := cmd.CombinedOutput()
	if err != nil {
		err = fmt.Errorf("%s: %w: %s", program, err, bytes.TrimSpace(out))
	}
	return strings.TrimSpace(string(out)), err
}

// Query is what psql prints of a query, a row a line.
func (k *Cluster) Query(sql string) (string, error) {
	return k.run("psql", "-h", k.dir, "-U", "rangepost", "-d", "rangepost", "-XAtc", sql)
}

// Dial connects to the socket.
func (k *Cluster) Dial() (net.Conn, error) {
	return net.Dial("unix", filepath.Join(k.dir, ".s.PGSQL.5432"))
}

// Address is the database's address behind a proxy.
func (k *Cluster) Address(proxy string) string {
	return "postgres://rangepost@" + proxy + "/rangepost?sslmode=disable"
}

// Break ends it by one of PostgreSQL's ways to shut down, or without any, or
// ends its connections (server-shutdown: SIGINT fast, SIGQUIT immediate).
func (k *Cluster) Break(how string) error {
	if how == "connections" {
		_, err := k.Query("SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND backend_type = 'client backend'")
		return err
	}
	b, err := os.ReadFile(filepath.Join(k.data(), "postmaster.pid"))
	if err != nil {
		return err
	}
	first, _, _ := strings.Cut(string(b), "\n")
	pid, err := strconv.Atoi(first)
	if err != nil {
		return err
	}
	if err := syscall.Kill(pid, map[string]syscall.Signal{"fast": syscall.SIGINT, "immediate": syscall.SIGQUIT, "kill": syscall.SIGKILL}[how]); err != nil {
		return err
	}
	for end := time.Now().Add(20 * time.Second); syscall.Kill(pid, 0) == nil; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			return fmt.Errorf("postgres %d still runs 20 s after %s", pid, how)
		}
	}
	k.hold.Close()
	<-k.ended
	return nil
}

// Back starts it, if it does not run, and waits until it answers.
func (k *Cluster) Back() error {
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(100 * time.Millisecond) {
		if _, err := k.run("psql", "-h", k.dir, "-U", "rangepost", "-d", "postgres", "-XAtc", "SELECT 1"); err == nil {
			return nil
		} else if time.Now().After(end) {
			log, _ := os.ReadFile(filepath.Join(k.dir, "log"))
			return fmt.Errorf("postgres does not answer: %w; %s", err, log[max(0, len(log)-1000):])
		}
		if k.ended != nil {
			select {
			case <-k.ended: // what an ended one's children hold may keep a new one from starting at first
			default:
				continue
			}
		}
		if err := k.start(); err != nil {
			return err
		}
	}
}

// start starts it under a shell that ends it when our end of its input closes.
func (k *Cluster) start() error {
	cmd := exec.Command("/bin/sh", "-c", `exec 3<&0; "$0" -D "$1" -k "$2" -c listen_addresses= -c max_connections=200 >>"$2/log" 2>&1 3<&- & p=$!
(read x <&3; kill -QUIT $p 2>/dev/null) & r=$!; wait $p; kill $r 2>/dev/null; true`, filepath.Join(k.bin, "postgres"), k.data(), k.dir)
	cmd.Dir, cmd.SysProcAttr = k.dir, &syscall.SysProcAttr{Credential: k.owner, Setpgid: true}
	hold, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	ended := make(chan struct{})
	k.hold, k.ended = hold, ended
	go func() {
		cmd.Wait()
		close(ended)
	}()
	return nil
}

// Close ends it and removes its folder.
func (k *Cluster) Close() {
	if k.hold != nil {
		k.hold.Close()
		<-k.ended
	}
	os.RemoveAll(k.dir)
}
