package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"rangepost/bot/standin"
	"rangepost/store"
)

// mount mounts a file system for the test, which is skipped where that is not
// permitted.
func mount(t *testing.T, source, dir, kind string, flags uintptr, data string) {
	t.Helper()
	if err := syscall.Mount(source, dir, kind, flags, data); err != nil {
		t.Skipf("no file system can be mounted here, so this is not tested: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
}

// onDisk plays with the database at a path.
func onDisk(t *testing.T, db string) *play {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	t.Cleanup(cancel)
	return newPlay(ctx, staged(t, ctx, fortnightBegins, db, nil))
}

// numbered is a session file unlike any other.
func (p *play) numbered(n int) standin.File {
	f := p.file("sessions/wren-1-first.csv")
	f.Name = fmt.Sprintf("session-%d.csv", n)
	f.Bytes = otherBalls(f.Bytes, n)
	return f
}

// sessionsOf is how many sessions a student is offered.
func (p *play) sessionsOf(who *standin.User) int {
	return len(p.complete(who, p.practice, "sets", "session"))
}

// undamaged fails the test if the database is damaged, or a request stays
// unanswered in it.
func (p *play) undamaged(t *testing.T) {
	t.Helper()
	for end := time.Now().Add(15 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		h, err := p.st.db.Check(p.ctx)
		if err == nil && h.Open == 0 {
			return
		}
		if err != nil || time.Now().After(end) {
			t.Errorf("the database at the end: %d requests stay unanswered, %v", h.Open, err)
			return
		}
	}
}

// The disk fills up while the bot runs: who asks is told that nothing was kept,
// what was kept before stays, and with room again everything goes on.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	disk := t.TempDir()
	mount(t, "tmpfs", disk, "tmpfs", 0, "size=12m")
	p := onDisk(t, filepath.Join(disk, "rangepost.db"))
	p.setUp()
	first := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(0), "ball": "range"})
	p.must(t)
	if first.Picture() == nil {
		t.Fatalf("with room: %q", first.Text)
	}

	// It fills up while a file is on its way, whose post is written down.
	ballast := filepath.Join(disk, "ballast")
	slow := p.st.Break(standin.Rule{Path: "/attachments/", Delay: time.Second, Times: 1})
	filled := make(chan error, 1)
	go func() {
		for p.st.Hits(slow) == 0 && p.ctx.Err() == nil {
			time.Sleep(10 * time.Millisecond)
		}
		filled <- fill(ballast)
	}()
	caught := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(500), "ball": "range"})
	p.must(t)
	if err := <-filled; err != nil {
		t.Fatal(err)
	}
	if !caught.Ephemeral || !strings.Contains(caught.Text, "The disk I write to is full, so nothing of this was kept") {
		t.Errorf("full in the middle: %q, for the asker alone: %v", caught.Text, caught.Ephemeral)
	}
	refused, kept := 0, 1
	for n := 1; n <= 12 || refused == 0 && n < 200; n++ {
		out := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(n), "ball": "range"})
		p.must(t)
		switch {
		case out.Picture() != nil: // the log beside the database still had room
			kept++
			if err := fill(ballast); err != nil {
				t.Fatal(err)
			}
		case !out.Ephemeral:
			t.Errorf("post %d: everybody sees %q", n, out.Text)
		case strings.Contains(out.Text, "The disk I write to is full, so nothing of this was kept"):
			refused++
		default:
			t.Errorf("post %d on a full disk: %q", n, out.Text)
		}
	}
	if refused == 0 {
		t.Fatal("the disk never was full")
	}
	t.Logf("full: %d posts kept, %d refused", kept, refused)

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	again := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(1000), "ball": "range"})
	p.must(t)
	if again.Picture() == nil {
		t.Errorf("with room again: %q", again.Text)
	}
	if got := p.sessionsOf(p.wren); got != min(kept+1, 25) {
		t.Errorf("%d sessions are kept, want %d", got, kept+1)
	}
	p.undamaged(t)
}

// fill writes to a file until the disk has no room left.
func fill(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, size := range []int{1 << 16, 1 << 12, 1} {
		for err = nil; err == nil; {
			_, err = f.Write(make([]byte, size))
		}
		if !errors.Is(err, syscall.ENOSPC) {
			return err
		}
	}
	return nil
}

// A database that cannot be written is said so at the start, by serve and by
// check, and is left as it is.
func TestReadOnlyDatabase(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	db := filepath.Join(dir, "rangepost.db")
	st := gather(t, 1)
	fresh, err := store.Open(t.Context(), db)
	if err != nil {
		t.Fatal(err)
	}
	if err := fresh.Close(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	mount(t, dir, dir, "", syscall.MS_BIND, "")
	mount(t, "", dir, "", syscall.MS_REMOUNT|syscall.MS_BIND|syscall.MS_RDONLY, "")
	for _, command := range []string{"serve", "check"} {
		cmd := exec.CommandContext(t.Context(), "rangepost", command, "--db", db)
		cmd.Env = append(os.Environ(), "RANGEPOST_TOKEN="+st.Token(), "RANGEPOST_TOKEN_FILE=", "RANGEPOST_PLATFORM_URL="+st.URL())
		said, err := cmd.CombinedOutput()
		var status *exec.ExitError
		if !errors.As(err, &status) || status.ExitCode() != exitFailed {
			t.Errorf("%s ends with %v, want exit status %d", command, err, exitFailed)
		}
		if !strings.Contains(string(said), "read-only file system") || !strings.Contains(string(said), db) {
			t.Errorf("%s says %q", command, said)
		}
	}
	if after, err := os.ReadFile(db); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the database was changed (%v)", err)
	}
}

// The database turns unwritable while the bot runs: who asks is told that
// nothing was kept, reading goes on, and so does everything once it can be
// written again.
func TestTurnsReadOnly(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := stopsWriters(dir); err != nil {
		t.Skipf("no file can be made unwritable here, so this is not tested: %v", err)
	}
	db := filepath.Join(dir, "rangepost.db")
	p := onDisk(t, db)
	p.setUp()
	post := func(n int) *standin.Outcome {
		out := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(n), "ball": "range"})
		p.must(t)
		return out
	}
	if out := post(0); out.Picture() == nil {
		t.Fatalf("at first: %q", out.Text)
	}
	t.Cleanup(func() { chattr("-i", db, db+"-wal") })
	if err := chattr("+i", db, db+"-wal"); err != nil {
		t.Fatal(err)
	}
	refused := post(1)
	if !refused.Ephemeral || !strings.Contains(refused.Text, "My database cannot be written, so nothing of this was kept") {
		t.Errorf("unwritable: %q, for the asker alone: %v", refused.Text, refused.Ephemeral)
	}
	if got := p.sessionsOf(p.wren); got != 1 {
		t.Errorf("unwritable: %d sessions are offered, want 1: reading goes on", got)
	}
	if err := chattr("-i", db, db+"-wal"); err != nil {
		t.Fatal(err)
	}
	if out := post(1); out.Picture() == nil || strings.Contains(out.Text, "I have had these balls") {
		t.Errorf("writable again: %q", out.Text)
	}
	if got := p.sessionsOf(p.wren); got != 2 {
		t.Errorf("writable again: %d sessions are kept, want 2", got)
	}
	p.undamaged(t)
}

// chattr marks files as unchangeable (+i), or takes that back (-i). Open files
// keep a file system from being mounted read-only; some stop the writers of
// such a file all the same.
func chattr(how string, files ...string) error {
	said, err := exec.Command("chattr", append([]string{how}, files...)...).CombinedOutput()
	if err != nil {
		return fmt.Errorf("chattr %s: %w: %s", how, err, said)
	}
	return nil
}

// stopsWriters is nil where that mark stops who has the file open.
func stopsWriters(dir string) error {
	probe, err := os.Create(filepath.Join(dir, "probe"))
	if err != nil {
		return err
	}
	defer probe.Close()
	if err := chattr("+i", probe.Name()); err != nil {
		return err
	}
	_, err = probe.WriteString("x")
	if err := chattr("-i", probe.Name()); err != nil {
		return err
	}
	if err == nil {
		return errors.New("the file can be written all the same")
	}
	return nil
}

// A holder is another program that can take a database for itself.
type holder struct {
	cmd *exec.Cmd
	in  io.Writer
	out *bufio.Reader
}

func holderOf(t *testing.T, db string) *holder {
	t.Helper()
	h := &holder{cmd: exec.CommandContext(t.Context(), "holddatabase", db)}
	in, err := h.cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := h.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := h.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	h.in, h.out = in, bufio.NewReader(out)
	return h
}

func (h *holder) take() error {
	io.WriteString(h.in, "\n")
	if line, err := h.out.ReadString('\n'); line != "held\n" {
		return fmt.Errorf("the other program says %q (%v)", line, err)
	}
	return nil
}

func (h *holder) letGo() {
	io.WriteString(h.in, "\n")
	h.cmd.Wait()
}

// Another program holds the database: a post is acknowledged all the same and
// answered once it is let go, or, if that takes too long, refused in words with
// nothing kept.
func TestHeldDatabase(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "rangepost.db")
	p := onDisk(t, db)
	p.setUp()
	p.must(t)
	post := func(n int) *standin.Outcome {
		out := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(n), "ball": "range"})
		p.must(t)
		return out
	}

	h := holderOf(t, db)
	if err := h.take(); err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(2500*time.Millisecond, h.letGo)
	if out := post(0); out.Picture() == nil {
		t.Errorf("held for a moment: %q", out.Text)
	}
	if got := p.sessionsOf(p.wren); got != 1 {
		t.Errorf("held for a moment: %d sessions are kept, want 1", got)
	}

	h = holderOf(t, db)
	if err := h.take(); err != nil {
		t.Fatal(err)
	}
	if got := p.sessionsOf(p.wren); got != 1 {
		t.Errorf("held for long: %d sessions are offered, want 1: reading waits for nobody", got)
	}
	out := post(1)
	h.letGo()
	if !out.Ephemeral || !strings.Contains(out.Text, "Another program is holding my database, so nothing of this was kept") {
		t.Errorf("held for long: %q, for the asker alone: %v", out.Text, out.Ephemeral)
	}
	if got := p.sessionsOf(p.wren); got != 1 {
		t.Errorf("held for long: %d sessions are kept, want 1", got)
	}

	// Taken in the middle: the post is written down, its file is on its way.
	h = holderOf(t, db)
	slow := p.st.Break(standin.Rule{Path: "/attachments/", Delay: 3 * time.Second, Times: 1})
	taken := make(chan error, 1)
	go func() {
		for p.st.Hits(slow) == 0 && p.ctx.Err() == nil {
			time.Sleep(10 * time.Millisecond)
		}
		taken <- h.take()
	}()
	out = post(2)
	if err := <-taken; err != nil {
		t.Fatal(err)
	}
	h.letGo()
	if !out.Ephemeral || !strings.Contains(out.Text, "Another program is holding my database, so nothing of this was kept") {
		t.Errorf("held in the middle: %q, for the asker alone: %v", out.Text, out.Ephemeral)
	}

	if out := post(2); out.Picture() == nil || strings.Contains(out.Text, "I have had these balls") {
		t.Errorf("let go: %q", out.Text)
	}
	if got := p.sessionsOf(p.wren); got != 2 {
		t.Errorf("let go: %d sessions are kept, want 2", got)
	}
	p.undamaged(t)
}

// A start while another program holds the database takes up what is unanswered
// as soon as it is let go.
func TestHeldAtTheStart(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	st, db, p, answered := fetching(t, ctx, 5*time.Second)
	defer func() { p.kill() }()
	p.kill()
	h := holderOf(t, db)
	if err := h.take(); err != nil {
		t.Fatal(err)
	}
	p = serveProcess(t, st.Stand, db)
	for !strings.Contains(p.log.String(), "waiting to begin") {
		if ctx.Err() != nil {
			t.Fatalf("the start does not notice\n%s", p.log)
		}
		time.Sleep(50 * time.Millisecond)
	}
	h.letGo()
	if out := <-answered; out == nil || out.Picture() == nil {
		t.Errorf("after the database was let go: %+v\n%s", out, p.log)
	}
}

// The clock jumps a year ahead and back: buttons that have had their time say
// so, everything else goes on, and nothing is lost.
func TestJumpingClock(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	jump := func(d time.Duration) {
		p.st.clock.mu.Lock()
		defer p.st.clock.mu.Unlock()
		p.st.clock.now = p.st.clock.now.Add(d)
	}
	const year = 365 * 24 * time.Hour
	for n, d := range []time.Duration{0, year, -2 * year, year, -time.Hour, time.Minute} {
		asked := p.slash(p.wren, p.practice, "mine forget", nil)
		jump(d)
		posted := p.slash(p.wren, p.wrens, "post", standin.Options{"file": p.numbered(n), "ball": "range"})
		p.must(t)
		if ahead := d == -2*year; posted.Picture() == nil != ahead || strings.Contains(posted.Text, "still to come") != ahead || strings.Contains(posted.Text, "I have had") {
			t.Errorf("after a jump of %v: %q", d, posted.Text)
		}
		if got := p.sessionsOf(p.wren); got != n+1 {
			t.Errorf("after a jump of %v there are %d sessions, want %d", d, got, n+1)
		}
		if d > 10*time.Minute {
			old := p.press(p.wren, asked, "Delete it all")
			p.must(t)
			if !strings.Contains(old.Text, "too old to use") {
				t.Errorf("a button pressed %v later: %q", d, old.Text)
			}
		}
		shown := p.slash(p.coach, p.wrens, "timeline", nil)
		p.must(t)
		if shown.Picture() == nil {
			t.Errorf("after a jump of %v the timeline says %q", d, shown.Text)
		}
		if _, err := p.st.db.Prune(p.ctx); err != nil {
			t.Errorf("after a jump of %v: %v", d, err)
		}
	}
	p.undamaged(t)
}
