package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// Start to ready: the processor time (user and system, getrusage(2)) that the
// bot's own program has taken by the time the platform counts it as connected,
// on a database that is there. RANGEPOST_BINARY names another build than one
// made now, to set two of them side by side.
func BenchmarkReady(b *testing.B) {
	binary := os.Getenv("RANGEPOST_BINARY")
	if binary == "" {
		binary = filepath.Join(b.TempDir(), "rangepost")
		if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
	}
	db := filepath.Join(b.TempDir(), "bench.db")
	ready := func() time.Duration {
		st, err := standin.Start(standin.Config{})
		if err != nil {
			b.Fatal(err)
		}
		defer st.Close()
		cmd := exec.Command(binary, "serve", "--db", db, "--listen", "")
		cmd.Env = append(os.Environ(),
			"RANGEPOST_TOKEN="+st.Token(), "RANGEPOST_TOKEN_FILE=", "RANGEPOST_PLATFORM_URL="+st.URL(), "RANGEPOST_CDN_HOSTS="+st.CDNHost())
		if err := cmd.Start(); err != nil {
			b.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
		defer cancel()
		err = st.Connected(ctx, 1)
		cmd.Process.Signal(syscall.SIGKILL)
		cmd.Wait()
		if err != nil {
			b.Fatal(err)
		}
		return cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	ready() // makes the database
	var taken time.Duration
	for b.Loop() {
		taken += ready()
	}
	b.ReportMetric(float64(taken.Nanoseconds())/float64(b.N), "cpu-ns/op")
}
