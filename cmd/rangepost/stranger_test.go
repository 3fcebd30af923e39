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
	play := strangers(t)
	replay := false
	flag.Visit(func(f *flag.Flag) { replay = replay || f.Name == "seed" })
	trouble := stranger.Options{Trouble: 8 * time.Second}
	if replay {
		trouble.Seed = *strangerSeed
		play(t, trouble)
		return
	}
	// Seeds wait more than they work, so a few are played at a time.
	end := time.Now().Add(*strangerFor)
	t.Run("seeds", func(t *testing.T) {
		for lane := range uint64(3) {
			t.Run(fmt.Sprint("lane ", lane), func(t *testing.T) {
				t.Parallel()
				o := trouble
				for o.Seed = *strangerFirst + lane; time.Now().Before(end); o.Seed += 3 {
					t.Run(fmt.Sprint("seed ", o.Seed), func(t *testing.T) { play(t, o) })
				}
			})
		}
	})
}

// What was acknowledged is answered, or its asker told, however often the
// process is killed over it.
func TestStrangerKills(t *testing.T) {
	play := strangers(t)
	for _, kills := range []int{1, 6} {
		t.Run(fmt.Sprint(kills), func(t *testing.T) {
			t.Parallel()
			play(t, stranger.Options{Kills: kills})
		})
	}
}

// strangers builds the binary and returns what plays a seed with it.
func strangers(t *testing.T) func(*testing.T, stranger.Options) {
	binary, desc := binary(t), platformDescription(t)
	keep := *strangerDir
	if keep == "" {
		keep = filepath.Join(os.TempDir(), "rangepost-stranger")
	}
	return func(t *testing.T, o stranger.Options) {
		name := fmt.Sprint("seed-", o.Seed)
		if o.Kills > 0 {
			name = fmt.Sprint("kills-", o.Kills)
		}
		o.Binary, o.Dir, o.Description = binary, filepath.Join(keep, name), desc
		o.Without, o.Patience = strings.Split(*strangerOut, ","), 30*time.Second
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
			t.Errorf("%s: %v", name, b)
		}
		switch {
		case t.Failed() && o.Kills > 0:
			t.Errorf("transcript: %s", res.Transcript)
		case t.Failed():
			t.Errorf("transcript: %s; again: go test ./cmd/rangepost -run 'TestStranger$' -seed %d", res.Transcript, o.Seed)
		case *strangerDir == "":
			os.RemoveAll(o.Dir)
		}
	}
}

// binary is the bot's own program: built now, or what RANGEPOST_BINARY names, so
// that two builds can be set side by side, or one be held to a share of a machine.
func binary(tb testing.TB) string {
	tb.Helper()
	if named := os.Getenv("RANGEPOST_BINARY"); named != "" {
		return named
	}
	file := filepath.Join(tb.TempDir(), "rangepost")
	if out, err := exec.Command("go", "build", "-o", file, ".").CombinedOutput(); err != nil {
		tb.Fatalf("go build: %v\n%s", err, out)
	}
	return file
}

// platformDescription is the platform's published one, if there is a copy.
func platformDescription(t *testing.T) *stranger.Description {
	file := os.Getenv("DISCORD_OPENAPI")
	if file == "" {
		t.Log("requests are not held against the platform's description: DISCORD_OPENAPI names none")
		return nil
	}
	desc, err := stranger.ReadDescription(file)
	if err != nil {
		t.Fatal(err)
	}
	return desc
}
