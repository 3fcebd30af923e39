package main_test

import (
	"context"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"rangepost/bot/stranger"
)

var (
	strangerFor  = flag.Duration("stranger", 40*time.Second, "how long TestStranger starts new seeds")
	strangerSeed = flag.Uint64("seed", 0, "the one seed that TestStranger replays")
)

func TestStranger(t *testing.T) {
	dir := t.TempDir()
	binary := filepath.Join(dir, "rangepost")
	if out, err := exec.Command("go", "build", "-o", binary, "rangepost/cmd/rangepost").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	desc, err := stranger.ReadDescription(os.Getenv("DISCORD_OPENAPI"))
	if err != nil {
		t.Fatal(err)
	}
	res, err := stranger.Play(context.Background(), stranger.Options{Binary: binary, Dir: "/tmp/rp-chaos/seed", Description: desc, Seed: *strangerSeed})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", res)
}
