package cause

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/pattern"
	"rangepost/analysis/player"
)

var ballOnly = flag.Bool("ballonly", false, "study sessions without any club number")

var sessions = flag.Int("sessions", 240, "sessions in the simulation study; 4000 for the long run")

// plans are the kinds of golfer in the study. Each moves a mean delivery off
// square; the true cause is not the plan but what the golfer's own
// counterfactual says of it.
var plans = []struct {
	name string
	set  func(p *player.Player, rng *rand.Rand)
}{
	{"square", func(p *player.Player, rng *rand.Rand) {}},
	{"face", func(p *player.Player, rng *rand.Rand) { p.Delivery.Face += either(rng, 1.5, 5) }},
	{"path", func(p *player.Player, rng *rand.Rand) { p.Delivery.Path += either(rng, 3, 9) }},
	{"both", func(p *player.Player, rng *rand.Rand) {
		side := either(rng, 1, 1)
		p.Delivery.Face += side * between(rng, 1, 3)
		p.Delivery.Path -= side * between(rng, 2, 7)
	}},
	{"aim", func(p *player.Player, rng *rand.Rand) {
		off := either(rng, 2, 6)
		p.Delivery.Face += off
		p.Delivery.Path += off
	}},
	{"strike", func(p *player.Player, rng *rand.Rand) {
		p.Delivery.StrikeToe += either(rng, 6, 18) / analysis.Degree * analysis.Millimetre
	}},
	{"draw or fade", func(p *player.Player, rng *rand.Rand) {
		off := either(rng, 2, 6)
		w := p.World.Ball.Worth(p.Delivery, ball.Departure{})
		p.Delivery.Path += off
		p.Delivery.Face -= off * w.Path / w.Face
	}},
	{"any", func(p *player.Player, rng *rand.Rand) {
		p.Delivery.Face += 2.5 * analysis.Degree * rng.NormFloat64()
		p.Delivery.Path += 3 * analysis.Degree * rng.NormFloat64()
		p.Delivery.StrikeToe += 6 * analysis.Millimetre * rng.NormFloat64()
	}},
}

func between(rng *rand.Rand, low, high float64) float64 { return low + (high-low)*rng.Float64() }

// either is an angle between low and high degrees, to either side.
func either(rng *rand.Rand, low, high float64) float64 {
	v := between(rng, low, high) * analysis.Degree
	if rng.IntN(2) == 0 {
		return -v
	}
	return v
}

var studyClubs = []analysis.Club{{Family: analysis.Driver}, {Family: analysis.Iron, Number: 7}, {Family: analysis.Wedge, Wedge: "pw"}}

var studyBalls = []int{5, 8, 12, 20, 30, 60}

// trialRun is one session of the study with what is true and what was said.
type trialRun struct {
	plan  string
	club  analysis.Club
	balls int
	truth player.Truth
	owner Verdict
	said  Result
}

func studySession(i int) trialRun {
	rng := rand.New(rand.NewPCG(2026, uint64(i)))
	plan := plans[i%len(plans)]
	club := studyClubs[(i/len(plans))%len(studyClubs)]
	hand := analysis.Hand(rng.IntN(2))
	p := player.Player{
		Hand: hand, Club: club, Delivery: player.Typical(club),
		Spread: player.TypicalSpread(between(rng, 0.7, 1.6)),
		World:  player.Foreign(club, hand, rng),
		Device: player.Device{Club: true, Landed: true, Ball: rng.Float64() < 0.7, Noise: player.UsualNoise()},
	}
	if *ballOnly {
		p.Device.Club, p.Device.Ball = false, true
	}
	p.Device.Strike = !*ballOnly && p.Device.Ball && rng.Float64() < 0.6
	p.Spread.FacePath = between(rng, -0.3, 0.7)
	p.Delivery.ClubSpeed *= between(rng, 0.9, 1.1)
	p.Delivery.Face += 0.4 * analysis.Degree * rng.NormFloat64()
	p.Delivery.Path += 0.6 * analysis.Degree * rng.NormFloat64()
	plan.set(&p, rng)

	run := trialRun{plan: plan.name, club: club, balls: studyBalls[rng.IntN(len(studyBalls))]}
	run.truth = p.Truth(400, rng)
	run.owner = trueOwner(p, run.truth)
	set := pattern.Mishits(p.Set(run.balls, "", rng))
	run.said = Of(set, pattern.Of(set), Config{Hand: hand})
	return run
}

func trueOwner(p player.Player, t player.Truth) Verdict {
	return owner(draw{face: t.Face, path: t.Path, rest: t.Rest, strike: t.Strike,
		faceAngle: p.Delivery.Face, pathAngle: p.Delivery.Path}, practicalZero(t.Carry))
}

var columns = []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, Unmeasured, TooFew}

func named(v Verdict) bool {
	switch v {
	case Aim, Face, Path, FaceAndPath, Strike:
		return true
	}
	return false
}

// TestStudy tries the cause on made-up golfers of a foreign world, whose true
// cause their own counterfactual tells. The long run is
//
//	go test ./analysis/cause -run Study -sessions 4000 -v
func TestStudy(t *testing.T) {
	table := map[Verdict]map[Verdict]int{}
	var all, owning, right, none, wrongly int
	var hold, width = map[string]int{}, map[string]float64{}
	byBalls := map[int][3]int{}
	var real20, real20named int
	var wrong []string
	var bins [10][3]float64
	for i := range *sessions {
		r := studySession(i)
		row := table[r.owner]
		if row == nil {
			row = map[Verdict]int{}
			table[r.owner] = row
		}
		row[r.said.Verdict]++
		all++
		if named(r.said.Verdict) {
			right += count(r.said.Verdict == r.owner)
			owning += count(r.said.Verdict == r.owner || r.owner == FaceAndPath && (r.said.Verdict == Face && math.Abs(r.truth.Face) >= math.Abs(r.truth.Path) || r.said.Verdict == Path && math.Abs(r.truth.Path) >= math.Abs(r.truth.Face)))
			if r.said.Verdict != r.owner {
				wrong = append(wrong, fmt.Sprintf("%d %s %v n%d: true %s said %s (%.2f) truth %.1f = f %.1f p %.1f r %.1f s %.1f; said %.1f = f %.1f p %.1f r %.1f s %.1f", i, r.plan, r.club, r.balls, r.owner, r.said.Verdict, r.said.Confidence,
					r.truth.Miss, r.truth.Face, r.truth.Path, r.truth.Rest, r.truth.Strike, r.said.Miss.Mean, r.said.Face.Mean, r.said.Path.Mean, r.said.Rest.Mean, r.said.Strike.Mean))
			}
		}
		if named(r.said.Verdict) {
			bin := min(9, int((r.said.Confidence-0.8)/0.02))
			ok := r.said.Verdict == r.owner || r.owner == FaceAndPath && (r.said.Verdict == Face && math.Abs(r.truth.Face) >= math.Abs(r.truth.Path) || r.said.Verdict == Path && math.Abs(r.truth.Path) >= math.Abs(r.truth.Face))
			bins[bin][0]++
			bins[bin][1] += float64(count(ok))
			bins[bin][2] += r.said.Confidence
		}
		if !named(r.owner) {
			none++
			wrongly += count(named(r.said.Verdict))
		} else if r.balls == 20 && math.Abs(r.truth.Miss) > 2*practicalZero(r.truth.Carry) && !(r.owner == Strike && r.said.Delivery[analysis.SpinAxis].N == 0) {
			real20++
			real20named += count(named(r.said.Verdict))
			if !named(r.said.Verdict) {
				wrong = append(wrong, fmt.Sprintf("UNNAMED %d %s %v: true %s said %s (%.2f) sd %.1f truth %.1f = f %.1f p %.1f r %.1f s %.1f; said %.1f = f %.1f p %.1f r %.1f s %.1f", i, r.plan, r.club, r.owner, r.said.Verdict, r.said.Confidence, r.truth.Deviation,
					r.truth.Miss, r.truth.Face, r.truth.Path, r.truth.Rest, r.truth.Strike, r.said.Miss.Mean, r.said.Face.Mean, r.said.Path.Mean, r.said.Rest.Mean, r.said.Strike.Mean))
			}
		}
		for _, part := range []struct {
			name  string
			truth float64
			e     analysis.Estimate
		}{{"miss", r.truth.Miss, r.said.Miss}, {"face", r.truth.Face, r.said.Face}, {"path", r.truth.Path, r.said.Path}, {"rest", r.truth.Rest, r.said.Rest}} {
			hold[part.name] += count(part.e.Low <= part.truth && part.truth <= part.e.High)
			width[part.name] += part.e.High - part.e.Low
			key := part.name + " " + r.club.Key()
			hold[key] += count(part.e.Low <= part.truth && part.truth <= part.e.High)
			hold[r.club.Key()+" n"] += count(part.name == "miss")
			width[key] += part.e.High - part.e.Low
		}
		b := byBalls[r.balls]
		b[0]++
		b[1] += count(r.said.Verdict == TooFew)
		b[2] += count(named(r.said.Verdict))
		byBalls[r.balls] = b
	}
	var out strings.Builder
	fmt.Fprintf(&out, "%-14s", "true \\ said")
	for _, c := range columns {
		fmt.Fprintf(&out, "%14s", c)
	}
	out.WriteByte('\n')
	for _, o := range []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, unexplained} {
		fmt.Fprintf(&out, "%-14s", o)
		for _, c := range columns {
			fmt.Fprintf(&out, "%14d", table[o][c])
		}
		out.WriteByte('\n')
	}
	namedAll := 0
	for _, row := range table {
		for v, n := range row {
			if named(v) {
				namedAll += n
			}
		}
	}
	share := func(a, b int) string { return fmt.Sprintf("%d of %d, %.1f %%", a, b, 100*float64(a)/float64(b)) }
	fmt.Fprintf(&out, "named right: %s (by the label alone %s)\nnamed where none is: %s\nreal cause, 20 balls, named: %s\n", share(owning, namedAll), share(right, namedAll), share(wrongly, none), share(real20named, real20))
	for _, part := range []string{"miss", "face", "path", "rest"} {
		fmt.Fprintf(&out, "limits of %s hold: %s, mean width %.1f m;", part, share(hold[part], all), width[part]/float64(all))
		for _, c := range studyClubs {
			n := hold[c.Key()+" n"]
			fmt.Fprintf(&out, "  %s %.1f %% (%.1f m)", c.Key(), 100*float64(hold[part+" "+c.Key()])/float64(n), width[part+" "+c.Key()]/float64(n))
		}
		out.WriteByte('\n')
	}
	for _, n := range studyBalls {
		b := byBalls[n]
		fmt.Fprintf(&out, "%d balls: %d sessions, too few %.0f %%, named %.0f %%\n", n, b[0], 100*float64(b[1])/float64(b[0]), 100*float64(b[2])/float64(b[0]))
	}
	for _, b := range bins {
		fmt.Fprintf(&out, "confidence %.3f: right %.3f of %.0f\n", b[2]/b[0], b[1]/b[0], b[0])
	}
	t.Log("\n" + out.String())
	for _, w := range wrong {
		t.Log(w)
	}
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}
