package main_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/bot/stranger"
)

var (
	strangerFor   = flag.Duration("stranger", 20*time.Second, "how long TestStranger begins new seeds")
	strangerFirst = flag.Uint64("stranger-first", 0, "the first seed of TestStranger")
	strangerSeed  = flag.Uint64("seed", 0, "the one seed that TestStranger replays (the first is the plain day)")
	strangerOut   = flag.String("stranger-without", "", "trouble that TestStranger leaves out, by words of its name and comma-separated: what is known hides what is not")
	strangerDir   = flag.String("stranger-dir", "", "where TestStranger keeps transcripts (of failed seeds they are kept anyway)")
)

// TestStranger runs the real binary against a stand-in of another hand, with
// people who use it and a drawer of trouble, and looks at what they saw. A
// seed that fails is named with its transcript; -seed plays it again, as far
// as the timing of two processes can be played again.
func TestStranger(t *testing.T) {
	dir := t.TempDir()
	binary := filepath.Join(dir, "rangepost")
	if out, err := exec.Command("go", "build", "-o", binary, "rangepost/cmd/rangepost").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	var desc *stranger.Description
	if file := os.Getenv("DISCORD_OPENAPI"); file != "" {
		var err error
		if desc, err = stranger.ReadDescription(file); err != nil {
			t.Fatal(err)
		}
	} else {
		t.Log("requests are not held against the platform's description: DISCORD_OPENAPI names none")
	}
	keep := *strangerDir
	if keep == "" {
		keep = filepath.Join(os.TempDir(), "rangepost-stranger")
	}
	replay := false
	flag.Visit(func(f *flag.Flag) { replay = replay || f.Name == "seed" })

	play := func(t *testing.T, seed uint64) {
		o := stranger.Options{
			Binary: binary, Dir: filepath.Join(keep, fmt.Sprint("seed-", seed)), Description: desc, Seed: seed,
			Without: strings.Split(*strangerOut, ","),
			Trouble: 8 * time.Second, Patience: 30 * time.Second,
		}
		res, err := stranger.Play(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		t.Log(res.Drawer)
		for _, n := range res.Notes {
			t.Log(n)
		}
		for _, g := range res.Gaps {
			t.Errorf("the stand-in does not offer %s", g)
		}
		for _, b := range res.Breaks {
			t.Errorf("seed %d: %v", seed, b)
		}
		if t.Failed() {
			t.Errorf("transcript: %s; again: go test ./cmd/rangepost -run 'TestStranger$' -seed %d", res.Transcript, seed)
		} else if *strangerDir == "" {
			os.RemoveAll(o.Dir)
		}
	}
	if replay {
		play(t, *strangerSeed)
		return
	}
	// Seeds wait more than they work, so a few are played at a time.
	end := time.Now().Add(*strangerFor)
	t.Run("seeds", func(t *testing.T) {
		for lane := range uint64(3) {
			t.Run(fmt.Sprint("lane ", lane), func(t *testing.T) {
				t.Parallel()
				for seed := *strangerFirst + lane; time.Now().Before(end); seed += 3 {
					t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) { play(t, seed) })
				}
			})
		}
	})
}
