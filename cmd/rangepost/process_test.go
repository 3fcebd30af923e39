package main

import (
	"bufio"
	"context"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// A process is the real binary, serving.
type process struct {
	cmd *exec.Cmd
	log *lockedBuffer
}

// serveProcess starts the real binary on a stand-in, with more arguments or
// with `--listen ""`.
func serveProcess(t *testing.T, st *standin.Stand, db string, args ...string) *process {
	t.Helper()
	if len(args) == 0 {
		args = []string{"--listen", ""}
	}
	p := &process{cmd: exec.Command("rangepost", append([]string{"serve", "--db", db}, args...)...), log: kept.log()}
	p.cmd.Env = append(os.Environ(),
		"RANGEPOST_TOKEN="+st.Token(), "RANGEPOST_TOKEN_FILE=", "RANGEPOST_PLATFORM_URL="+st.URL(), "RANGEPOST_CDN_HOSTS="+st.CDNHost())
	p.cmd.Stderr = p.log
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return p
}

func (p *process) kill() {
	p.cmd.Process.Kill()
	p.cmd.Wait()
}

// memory is what the system counts as the process's, in MiB, now and at its
// highest (proc_pid_status(5): VmRSS, VmHWM). It is not known everywhere.
func (p *process) memory(t *testing.T) (now, highest float64) {
	t.Helper()
	f, err := os.Open(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		t.Skip("this system does not say what memory a process has:", err)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		fields := strings.Fields(lines.Text())
		if len(fields) < 2 {
			continue
		}
		kib, _ := strconv.ParseFloat(fields[1], 64)
		switch fields[0] {
		case "VmRSS:":
			now = kib / 1024
		case "VmHWM:":
			highest = kib / 1024
		}
	}
	return now, highest
}

var listening = regexp.MustCompile(`msg="health page and metrics" address=(\S+)`)

// page is where a process started with `--listen 127.0.0.1:0` serves its
// metrics.
func (p *process) page(ctx context.Context, t *testing.T) string {
	t.Helper()
	for {
		if m := listening.FindStringSubmatch(p.log.String()); m != nil {
			return "http://" + m[1]
		}
		select {
		case <-ctx.Done():
			t.Fatalf("no page is served:\n%s", p.log)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// metrics are the plain figures of a metrics page, by name.
func metrics(ctx context.Context, page string) (map[string]float64, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, page+"/metrics", nil)
	if err != nil {
		return nil, err
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	figures := map[string]float64{}
	lines := bufio.NewScanner(resp.Body)
	for lines.Scan() {
		name, value, ok := strings.Cut(lines.Text(), " ")
		if v, err := strconv.ParseFloat(value, 64); ok && err == nil {
			figures[name] = v
		}
	}
	return figures, lines.Err()
}
