package stranger

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Which of several processes a call comes from is asked of the system, not of
// the caller: a session's resume address goes from one process to the next, so
// no address could tell.

type pidKey struct{}

// caller notes the process at the other end of a connection.
func (p *Platform) caller(ctx context.Context, c net.Conn) context.Context {
	if p.pids == nil {
		return ctx
	}
	return context.WithValue(ctx, pidKey{}, whose(c, p.pids()))
}

func pidOf(ctx context.Context) int {
	pid, _ := ctx.Value(pidKey{}).(int)
	return pid
}

// by names a process in the transcript.
func by(pid int) string {
	if pid == 0 {
		return ""
	}
	return fmt.Sprintf("[%d] ", pid)
}

// whose is the process, of those given, that holds the other end of a loopback
// connection, and 0 if none does (proc_pid_net(5): tcp; proc_pid_fd(5)).
func whose(c net.Conn, pids []int) int {
	inode := ""
	far, near := port(c.RemoteAddr()), port(c.LocalAddr())
	for _, table := range []string{"/proc/net/tcp", "/proc/net/tcp6"} {
		f, err := os.Open(table)
		if err != nil {
			continue
		}
		for lines := bufio.NewScanner(f); inode == "" && lines.Scan(); {
			w := strings.Fields(lines.Text())
			if len(w) > 9 && strings.HasSuffix(w[1], far) && strings.HasSuffix(w[2], near) && w[9] != "0" {
				inode = w[9]
			}
		}
		f.Close()
	}
	if inode == "" {
		return 0
	}
	for _, pid := range pids {
		open, _ := filepath.Glob(fmt.Sprintf("/proc/%d/fd/*", pid))
		if slices.ContainsFunc(open, func(fd string) bool {
			to, _ := os.Readlink(fd)
			return to == "socket:["+inode+"]"
		}) {
			return pid
		}
	}
	return 0
}

func port(a net.Addr) string {
	_, s, _ := net.SplitHostPort(a.String())
	n, _ := strconv.Atoi(s)
	return fmt.Sprintf(":%04X", n)
}

// A taking is an ask handed to a process.
type taking struct {
	pid int
	at  time.Time
}

// An act is what a process did about an ask.
type act struct {
	pid    int
	at     time.Time // when the call reached the platform
	what   string
	status int
	answer string // what the asker read from then on, if it was an answer
}

// acted notes a call about an ask.
func (p *Platform) acted(c *call, args []string, a answer) {
	if c.method == http.MethodGet || !c.webhook || len(args) < 2 {
		return
	}
	ask := p.interactions[args[1]]
	if ask == nil {
		return
	}
	done := act{pid: c.pid, at: p.arrived, what: c.method + " " + c.route, status: a.status}
	if a.status < 300 && ask.told() {
		if m := ask.original; m != nil && !m.Loading {
			done.answer = p.text(m)
		}
		if c.method == http.MethodPost && len(ask.follow) > 0 {
			done.answer = p.text(ask.follow[len(ask.follow)-1])
		}
	}
	ask.acts = append(ask.acts, done)
}
