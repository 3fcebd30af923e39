package main_test

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/bot/stranger"
	"rangepost/store/pgtest"
)

var (
	fleetKills = flag.Int("fleet-kills", 6, "how many processes TestFleet kills; from 20 on it waits after most until all is served again")
	fleetPlays = flag.String("fleet", "kills", `what TestFleet does to its processes, comma-separated: day, kills, stop, cut, fast, immediate, kill, connections, upgrade, throughput; "all" is all`)
	fleetSeed  = flag.Uint64("fleet-seed", 1, "the seed of TestFleet")
)

// TestFleet runs three processes of the real binary as one bot, on the other
// hand's stand-in with eight shards and on a PostgreSQL of its own, does to them
// what the flags say while people use the bot, and looks at what they saw. The
// long form is
//
//	go test ./cmd/rangepost -run 'TestFleet$' -v -timeout 3h -fleet all -fleet-kills 100
func TestFleet(t *testing.T) {
	db, err := stranger.NewCluster()
	if errors.Is(err, pgtest.ErrNone) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Remove() })
	plays := strings.Split(*fleetPlays, ",")
	if *fleetPlays == "all" {
		plays = []string{"kills", "stop", "cut", "connections", "fast", "immediate", "kill", "upgrade"}
	}
	keep := *strangerDir
	if keep == "" {
		keep = filepath.Join(os.TempDir(), "rangepost-stranger")
	}
	o := stranger.FleetOptions{
		Binary: binary(t), Description: platformDescription(t), Database: db, Seed: *fleetSeed, Processes: 3,
		// Half of the seeds have several sessions of one shard beside each other.
		World: stranger.World{Servers: 8, Shards: 8, Concurrency: 8, PerSecond: 50, Rivals: *fleetSeed%2 == 0},
		Plays: plays, Kills: *fleetKills, Patient: *fleetKills >= 20,
		Lease: 15 * time.Second, Pace: 2 * time.Second, Measure: time.Minute, Patience: time.Minute,
	}
	if o.Patient { // one student may hand over so many files an hour and no more
		o.World.Servers, o.World.Concurrency, o.Pace = 24, 2, 6*time.Second
	}
	fleet := func(o stranger.FleetOptions, name string) {
		o.Dir = filepath.Join(keep, fmt.Sprint(name, "-", o.Seed))
		res, err := stranger.PlayFleet(t.Context(), o)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range res.Notes {
			t.Log(n)
		}
		for _, g := range res.Gaps {
			t.Errorf("the stand-in does not offer %s", g)
		}
		for _, b := range res.Breaks {
			t.Error(b)
		}
		switch {
		case t.Failed():
			t.Errorf("%d promises broken; transcript and logs: %s; again: go test ./cmd/rangepost -run 'TestFleet$' -fleet %s -fleet-kills %d -fleet-seed %d",
				len(res.Breaks), o.Dir, *fleetPlays, *fleetKills, o.Seed)
		case *strangerDir == "":
			os.RemoveAll(o.Dir)
		}
	}
	fleet(o, "fleet")
	if *fleetPlays == "all" { // with files that nobody has counted yet
		o.Plays = []string{"throughput"}
		fleet(o, "throughput")
	}
}
