package stranger

import (
	"net"
	"path/filepath"
	"syscall"

	"rangepost/store/pgtest"
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

// A Cluster is a PostgreSQL of the judge's own, reached by a socket and by nothing
// else.
type Cluster struct{ *pgtest.Cluster }

// NewCluster starts one; it is pgtest.ErrNone where there is none to be started.
func NewCluster() (c Cluster, err error) {
	if c.Cluster, err = pgtest.Start(true); err != nil {
		return c, err
	}
	return c, c.Exec("CREATE DATABASE rangepost")
}

// Dial connects to the socket.
func (c Cluster) Dial() (net.Conn, error) {
	return net.Dial("unix", filepath.Join(c.Dir, ".s.PGSQL.5432"))
}

// Address is the database's address behind a proxy.
func (c Cluster) Address(proxy string) string {
	return "postgres://rangepost@" + proxy + "/rangepost?sslmode=disable"
}

// Break ends it in one of its own ways, or without any, or ends its connections.
func (c Cluster) Break(how string) error {
	if how == "connections" {
		return c.Exec("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND backend_type = 'client backend'")
	}
	return c.End(map[string]syscall.Signal{"fast": syscall.SIGINT, "immediate": syscall.SIGQUIT, "kill": syscall.SIGKILL}[how])
}

// Back has it serve again.
func (c Cluster) Back() error { return c.Resume() }
