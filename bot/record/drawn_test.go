package record

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/clubyear"
	"rangepost/analysis/player"
	"rangepost/store"
)

// -drawnsessions 100 prints of so many honest sessions with half shots how many are held.
var drawnSessions = flag.Int("drawnsessions", 0, "sessions of each kind, for the table of those held")

// drawnFile is a session of a golfer as a device writes it, begun at a time, with half
// shots at some places.
func drawnFile(golfer player.Player, balls int, draw []int, begins time.Time, rng *rand.Rand) clubyear.File {
	columns := []struct {
		head   string
		number analysis.Number
		unit   float64
	}{
		{"Club Speed (m/s)", analysis.ClubSpeed, 1}, {"Ball Speed (m/s)", analysis.BallSpeed, 1}, {"Launch Angle (deg)", analysis.LaunchAngle, analysis.Degree},
		{"Launch Direction (deg, right +)", analysis.Direction, analysis.Degree}, {"Spin Rate (rpm)", analysis.Spin, analysis.RevPerMinute},
		{"Spin Axis (deg, right +)", analysis.SpinAxis, analysis.Degree}, {"Carry (m)", analysis.Carry, 1}, {"Lateral (m, right +)", analysis.Lateral, 1},
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	head := []string{"Shot", "Time", "Club"}
	for _, c := range columns {
		if golfer.Device.Club || c.number != analysis.ClubSpeed {
			head = append(head, c.head)
		}
	}
	w.Write(head)
	for i := range balls {
		p := golfer
		if slices.Contains(draw, i+1) {
			p.Delivery.ClubSpeed *= 0.60 + 0.05*rng.NormFloat64()
		}
		row := []string{strconv.Itoa(i + 1), begins.Format(time.RFC3339), golfer.Club.Key()}
		shot := p.Shots(1, "", rng)[0]
		for _, c := range columns {
			if v, ok := shot.Value(c.number); ok && (golfer.Device.Club || c.number != analysis.ClubSpeed) {
				row = append(row, strconv.FormatFloat(v/c.unit, 'f', 1, 64))
			}
		}
		w.Write(row)
		begins = begins.Add(time.Duration(25+rng.IntN(30)) * time.Second)
	}
	w.Flush()
	return clubyear.File{Name: "session.csv", Data: []byte(b.String())}
}

// ofTheDraw are the reasons to wait that half shots bring.
var ofTheDraw = []string{challenge.NotHalf, challenge.OtherHalf, challenge.PostedLate, challenge.AnnouncedAgain}

// Honest entries are hardly ever held for the half shots that were drawn, whatever the
// device's clock; a session without them is. What else makes one wait comes as often
// with them as without: 43 of 2,000 with and 55 without, over as many full shots.
func TestDrawnHalfShotsAreHonest(t *testing.T) {
	if testing.Short() {
		t.Skip("posts some sessions")
	}
	n := max(*drawnSessions, 20)
	g := newGround(t)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	waits := map[string]map[string]int{}
	for _, way := range []string{"announced", "drawn", "drawn, and not hit", "drawn, clock an hour slow"} {
		waits[way] = map[string]int{}
		for seed := range uint64(n) {
			rng := rand.New(rand.NewPCG(seed, 8))
			p := g.club(clubZone(t))
			p.now = time.Date(2029, time.March, 5, 18, 0, 0, 0, p.zone)
			ctx := t.Context()
			must(t, g.db.SetTimeZone(ctx, p.server, "wren", p.zone.String()))
			s, err := g.rs.OpenChallenge(ctx, store.Challenge{Server: p.server, Name: "Straight", Channel: "challenges"},
				challenge.Terms{Rule: challenge.Narrow, Club: iron, Balls: 10, Ball: analysis.RangeBall, Announced: true, Drawn: way != "announced"})
			must(t, err)
			p.now = p.now.Add(time.Hour)
			a, err := g.rs.Announce(ctx, s.Challenge, "wren", seed)
			must(t, err)
			golfer := player.Player{
				Club: iron, Delivery: player.Typical(iron), Spread: player.TypicalSpread(1 + rng.Float64()), World: player.Foreign(iron, analysis.RightHanded, rng),
				Device: player.Device{Club: rng.IntN(2) == 0, Ball: true, Landed: true, Noise: player.UsualNoise()},
			}
			draw, begins := a.Draw, p.now.Add(2*time.Minute)
			switch way {
			case "drawn, and not hit":
				draw = nil
			case "drawn, clock an hour slow":
				begins = begins.Add(-time.Hour)
			}
			file := drawnFile(golfer, a.Balls, draw, begins, rng) // as many full shots either way
			p.now = p.now.Add(15 * time.Minute)
			session, v := p.Post("wren", file, clubyear.Said{Ball: string(analysis.RangeBall)}, p.now)
			if v.State != clubyear.Accepted {
				t.Fatalf("not taken: %+v", v)
			}
			e, err := g.rs.Enter(ctx, s.Challenge, "wren", session)
			if v := p.verdict(err, e.Why); v.State != clubyear.Accepted {
				waits[way]["all"]++
				if err != nil || slices.ContainsFunc(e.Why, func(w analysis.Warning) bool { return slices.Contains(ofTheDraw, w.Code) }) {
					waits[way]["for the draw"]++
				}
				waits[way][v.Reason]++
			}
		}
	}
	for way, why := range waits {
		if *drawnSessions > 0 {
			fmt.Printf("%s: %d of %d held\n", way, why["all"], n)
			for reason, k := range why {
				fmt.Printf("    %d %s\n", k, reason)
			}
		}
	}
	for _, way := range []string{"drawn", "drawn, clock an hour slow"} {
		if held := waits[way]["for the draw"]; held > 1+n/50 {
			t.Errorf("%s: %d of %d honest entries are held for it: %v", way, held, n, waits[way])
		}
	}
	if got := waits["drawn, and not hit"]["for the draw"]; got < n-1-n/50 {
		t.Errorf("of %d sessions without the half shots %d are held", n, got)
	}
}
