package stranger

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"syscall"
	"time"
)

// A Process is the real binary, serving.
type Process struct {
	binary, db, dir string
	p               *Platform
	cmd             *exec.Cmd
	exited          chan struct{}
	started         time.Time
	log             *logFile
	peak            int // KiB
	starts          int
	meant           bool     // its end was ours
	args, env       []string // beside those of every process
	code            int      // it ended with
}

// A logFile keeps all that the processes of a seed write.
type logFile struct {
	mu sync.Mutex
	b  bytes.Buffer
	f  *os.File
}

func (l *logFile) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.b.Write(b)
	return l.f.Write(b)
}

func newProcess(p *Platform, binary, dir string) (*Process, error) {
	f, err := os.Create(filepath.Join(dir, "bot.log"))
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(dir, "token"), []byte(p.Token+"\n"), 0o600); err != nil {
		return nil, err
	}
	return &Process{binary: binary, db: filepath.Join(dir, "stranger.db"), dir: dir, p: p, log: &logFile{f: f}}, nil
}

func (s *Process) command() *exec.Cmd {
	cmd := exec.Command(s.binary, append([]string{"serve", "--db", s.db, "--listen", "127.0.0.1:0"}, s.args...)...)
	cmd.Env = []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + s.dir, "TMPDIR=" + s.dir,
		"RANGEPOST_TOKEN_FILE=" + filepath.Join(s.dir, "token"),
		"RANGEPOST_PLATFORM_URL=" + s.p.URL, "RANGEPOST_CDN_HOSTS=" + s.p.CDN,
	}
	cmd.Env = append(cmd.Env, s.env...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = s.dir, s.log, s.log
	return cmd
}

// start starts the bot.
func (s *Process) start() error {
	s.p.started()
	s.cmd, s.exited, s.started, s.meant = s.command(), make(chan struct{}), time.Now(), false
	s.starts++
	if err := s.cmd.Start(); err != nil {
		s.exited = nil
		return err
	}
	s.p.record.addf("process", "started, %d", s.cmd.Process.Pid)
	go func(cmd *exec.Cmd, exited chan struct{}) {
		err := cmd.Wait()
		s.p.record.addf("process", "%d ended: %v", cmd.Process.Pid, err)
		s.code = cmd.ProcessState.ExitCode()
		close(exited)
	}(s.cmd, s.exited)
	return nil
}

func (s *Process) alive() bool {
	if s.exited == nil {
		return false
	}
	select {
	case <-s.exited:
		return false
	default:
		return true
	}
}

// kill ends it without a word.
func (s *Process) kill() {
	if s.alive() {
		s.measure()
		s.meant = true
		s.p.record.addf("process", "SIGKILL")
		s.cmd.Process.Kill()
		<-s.exited
		s.p.judge.disturbed() // what was sent while it died
	}
}

// terminate asks it to end, and says whether it did in time.
func (s *Process) terminate(d time.Duration) bool {
	if !s.alive() {
		return true
	}
	s.measure()
	s.meant = true
	s.p.record.addf("process", "SIGTERM")
	s.cmd.Process.Signal(syscall.SIGTERM)
	defer s.p.judge.disturbed() // what was sent while it ended
	select {
	case <-s.exited:
		return true
	case <-time.After(d):
		s.cmd.Process.Kill()
		<-s.exited
		return false
	}
}

// second starts another process on the same database, and says how long it
// took to give up; 0 if it did not.
func (s *Process) second(d time.Duration) time.Duration {
	cmd := s.command()
	began := time.Now()
	if cmd.Start() != nil {
		return 1
	}
	s.p.record.addf("process", "a second one on the same database, %d", cmd.Process.Pid)
	// It may find the first ended by a word that forbids coming back, and is
	// whoever runs the bot starting it again.
	s.p.mu.Lock()
	delete(s.p.gate.stopped, s.p.gate.gen)
	s.p.mu.Unlock()
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case err := <-ended:
		s.p.record.addf("process", "the second one ended: %v", err)
		return time.Since(began)
	case <-time.After(d):
		cmd.Process.Kill()
		<-ended
		return 0
	}
}

var highest = regexp.MustCompile(`VmHWM:\s+(\d+) kB`)

// measure reads the highest memory so far (proc_pid_status(5): VmHWM).
func (s *Process) measure() {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		return
	}
	if m := highest.FindSubmatch(b); m != nil {
		n, _ := strconv.Atoi(string(m[1]))
		s.peak = max(s.peak, n)
	}
}

// secrets are the secrets found in the log.
func (s *Process) secrets() []string {
	s.log.mu.Lock()
	defer s.log.mu.Unlock()
	var found []string
	if bytes.Contains(s.log.b.Bytes(), []byte(s.p.Token)) {
		found = append(found, "the bot's token")
	}
	if m := secret.FindSubmatch(s.log.b.Bytes()); m != nil {
		found = append(found, "the interaction token "+string(m[1]))
	}
	return found
}

// has says whether the log holds a text.
func (s *Process) has(text string) bool {
	s.log.mu.Lock()
	defer s.log.mu.Unlock()
	return bytes.Contains(s.log.b.Bytes(), []byte(text))
}

// lastLine is the last line of the log.
func (s *Process) lastLine() string {
	s.log.mu.Lock()
	defer s.log.mu.Unlock()
	b := bytes.TrimSpace(s.log.b.Bytes())
	return string(b[bytes.LastIndexByte(b, '\n')+1:])
}
