package main_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/bot/standin"
)

// taken is the processor time of a process that has ended, user and system
// (getrusage(2)).
func taken(p *os.ProcessState) time.Duration { return p.UserTime() + p.SystemTime() }

// each prints the processor time of one process of those of a benchmark.
func each(b *testing.B, all time.Duration) {
	b.ReportMetric(float64(all.Nanoseconds())/float64(b.N), "cpu-ns/op")
}

// From start to ready: all the processor time that the program has taken when
// the platform counts it as connected, on a database that is there.
func BenchmarkReady(b *testing.B) {
	program, db := binary(b), filepath.Join(b.TempDir(), "bench.db")
	ready := func() time.Duration {
		st, err := standin.Start(standin.Config{})
		if err != nil {
			b.Fatal(err)
		}
		defer st.Close()
		cmd := exec.Command(program, "serve", "--db", db, "--listen", "")
		cmd.Env = append(os.Environ(),
			"RANGEPOST_TOKEN="+st.Token(), "RANGEPOST_TOKEN_FILE=", "RANGEPOST_PLATFORM_URL="+st.URL(), "RANGEPOST_CDN_HOSTS="+st.CDNHost())
		if err := cmd.Start(); err != nil {
			b.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
		defer cancel()
		err = st.Connected(ctx, 1)
		cmd.Process.Kill()
		cmd.Wait()
		if err != nil {
			b.Fatal(err)
		}
		return taken(cmd.ProcessState)
	}
	ready() // makes the database
	var all time.Duration
	for b.Loop() {
		all += ready()
	}
	each(b, all)
}

// A whole process that reads a file of 60 balls and draws its picture.
func BenchmarkReadProcess(b *testing.B) {
	program, dir := binary(b), b.TempDir()
	file := filepath.Join(dir, "sixty.csv")
	if err := os.WriteFile(file, sixty(b), 0o600); err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
	}{
		{"version alone", []string{"version"}},
		{"text", []string{"read", file, "--hand", "right"}},
		{"text and picture", []string{"read", file, "--hand", "right", "--picture", filepath.Join(dir, "sixty.png")}},
	} {
		b.Run(c.name, func(b *testing.B) {
			var all time.Duration
			for b.Loop() {
				cmd := exec.Command(program, c.args...)
				if out, err := cmd.CombinedOutput(); err != nil {
					b.Fatalf("%v\n%s", err, out)
				}
				all += taken(cmd.ProcessState)
			}
			each(b, all)
		})
	}
}

// sixty is a file of 60 balls with their delivery, sides as letters so that
// nothing about signs is to be asked.
func sixty(b *testing.B) []byte {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	d := player.Typical(iron)
	d.Face = 3 * analysis.Degree
	rng := rand.New(rand.NewPCG(1, 2))
	golfer := player.Player{
		Club: iron, Delivery: d, Spread: player.TypicalSpread(0.8), World: player.Foreign(iron, analysis.RightHanded, rng),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	var text bytes.Buffer
	text.WriteString("Shot,Club,Club Speed (mph),Attack Angle (deg),Club Path (deg),Face Angle (deg),Dynamic Loft (deg)," +
		"Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (yd),Offline (yd)\n")
	numbers := []analysis.Number{
		analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.DynamicLoft,
		analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis, analysis.Carry, analysis.Lateral,
	}
	units := analysis.Units{} // yards, mph
	for _, shot := range golfer.Shots(60, "", rng) {
		fmt.Fprintf(&text, "%d,7-iron", shot.N)
		for _, n := range numbers {
			v, ok := shot.Value(n)
			if !ok {
				b.Fatalf("the golfer's device does not see %v", n)
			}
			v /= units.Scale(n.Info().Kind)
			switch {
			case !n.Info().Sideways:
				fmt.Fprintf(&text, ",%.1f", v)
			case v < 0:
				fmt.Fprintf(&text, ",%.1f L", math.Abs(v))
			default:
				fmt.Fprintf(&text, ",%.1f R", v)
			}
		}
		text.WriteByte('\n')
	}
	return text.Bytes()
}
