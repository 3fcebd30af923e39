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
	"rangepost/analysis/flight"
	"rangepost/analysis/player"
)

var sessions = flag.Int("sessions", 240, "sessions in each simulation study; 2000 or more hold it to its full bounds")

// studySeed is another than the ones the constants of this package were chosen
// on.
const studySeed = 20261125

// plans are the kinds of golfer in the study. Each moves a mean delivery off
// square; the true cause is not the plan but what the golfer's own
// counterfactual says of it.
var plans = []struct {
	name string
	set  func(p *player.Player, rng *rand.Rand)
}{
	{"square", func(*player.Player, *rand.Rand) {}},
	{"face", func(p *player.Player, rng *rand.Rand) { p.Delivery.Face += side(rng) * between(rng, 1.5, 5) * degree }},
	{"path", func(p *player.Player, rng *rand.Rand) { p.Delivery.Path += side(rng) * between(rng, 3, 9) * degree }},
	{"both", func(p *player.Player, rng *rand.Rand) {
		way := side(rng)
		p.Delivery.Face += way * between(rng, 1, 3) * degree
		p.Delivery.Path -= way * between(rng, 2, 7) * degree
	}},
	{"aim", func(p *player.Player, rng *rand.Rand) {
		off := side(rng) * between(rng, 2, 6) * degree
		p.Delivery.Face += off
		p.Delivery.Path += off
	}},
	{"strike", func(p *player.Player, rng *rand.Rand) {
		p.Delivery.StrikeToe += side(rng) * between(rng, 6, 18) * analysis.Millimetre
	}},
	{"draw or fade", func(p *player.Player, rng *rand.Rand) {
		off := side(rng) * between(rng, 2, 6) * degree
		w := p.World.Ball.Worth(p.Delivery, ball.Departure{})
		p.Delivery.Path += off
		p.Delivery.Face -= off * w.Path / w.Face
	}},
	{"any", func(p *player.Player, rng *rand.Rand) {
		p.Delivery.Face += 2.5 * degree * rng.NormFloat64()
		p.Delivery.Path += 3 * degree * rng.NormFloat64()
		p.Delivery.StrikeToe += 6 * analysis.Millimetre * rng.NormFloat64()
	}},
}

func between(rng *rand.Rand, low, high float64) float64 { return low + (high-low)*rng.Float64() }

func side(rng *rand.Rand) float64 { return float64(2*rng.IntN(2) - 1) }

var studyBalls = []int{5, 8, 12, 20, 30, 60}

// judgedSession is one session with what is true of it and what was said.
type judgedSession struct {
	plan  string
	club  analysis.Club
	balls int
	truth player.Truth
	owner Verdict // true
	said  Result
}

// session makes up session i: a golfer of a foreign world with a mean, a
// spread and a hand of their own, seen by a device.
func session(i int, device func(*player.Device, *rand.Rand)) judgedSession {
	rng := rand.New(rand.NewPCG(studySeed, uint64(i)))
	plan := plans[i%len(plans)]
	club := []analysis.Club{driver, iron, wedge}[i/len(plans)%3]
	hand := analysis.Hand(rng.IntN(2))
	p := player.Player{
		Hand: hand, Club: club, Delivery: player.Typical(club),
		Spread: player.TypicalSpread(between(rng, 0.7, 1.6)),
		World:  player.Foreign(club, hand, rng),
		Device: player.Device{Club: true, Landed: true, Ball: rng.Float64() < 0.7, Noise: player.UsualNoise()},
	}
	// Every world has a lift and a drag of its own, beside another source's.
	air := &p.World.Ball.Flight
	air.Coefficients = flight.Varied{Coefficients: air.Coefficients, Drag: between(rng, 0.93, 1.07), Lift: between(rng, 0.9, 1.1)}
	p.Device.Strike = p.Device.Ball && rng.Float64() < 0.6
	device(&p.Device, rng)
	p.Spread.FacePath = between(rng, -0.3, 0.7)
	p.Delivery.ClubSpeed *= between(rng, 0.9, 1.1)
	p.Delivery.Face += 0.4 * degree * rng.NormFloat64()
	p.Delivery.Path += 0.6 * degree * rng.NormFloat64()
	plan.set(&p, rng)

	s := judgedSession{plan: plan.name, club: club, balls: studyBalls[rng.IntN(len(studyBalls))]}
	s.truth = p.Truth(200, rng)
	s.owner = owner(draw{
		face: s.truth.Face, path: s.truth.Path, rest: s.truth.Rest, strike: s.truth.Strike,
		faceAngle: p.Delivery.Face, pathAngle: p.Delivery.Path,
	}, practicalZero(s.truth.Carry))
	s.said = judged(p.Set(s.balls, "", rng), Config{Hand: hand})
	return s
}

// right reports whether what was named owns the miss: the label of the truth,
// or of a truth that face and path share the one that has the more of it, or the
// neighbour left open.
func (s judgedSession) right() bool {
	if s.said.Or == s.owner {
		return true
	}
	if s.owner == FaceAndPath {
		faceFirst := math.Abs(s.truth.Face) >= math.Abs(s.truth.Path)
		return s.said.Verdict == FaceAndPath || s.said.Verdict == Face && faceFirst || s.said.Verdict == Path && !faceFirst
	}
	return s.said.Verdict == s.owner
}

// real reports whether there is a cause that 20 balls should show: a miss of
// more than twice the practical zero, and for a strike something that shows
// it.
func (s judgedSession) real() bool {
	shown := s.owner != Strike || s.said.Delivery[analysis.SpinAxis].N > 0 && !s.said.Inferred
	return s.owner.Named() && shown && math.Abs(s.truth.Miss) > 2*practicalZero(s.truth.Carry)
}

// share counts how often something held.
type share struct{ of, all int }

func (s *share) add(held bool) {
	s.all++
	s.of += count(held)
}

func (s share) value() float64 { return float64(s.of) / float64(max(1, s.all)) }

func (s share) String() string {
	return fmt.Sprintf("%d of %d, %.1f %%", s.of, s.all, 100*s.value())
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// study is what many sessions add up to.
type study struct {
	table                                 map[Verdict]map[Verdict]int
	right, label, wrongly, matched, shows share
	miss, face, path                      map[string]*share // by club, and "all"
	missWidth, faceWidth, pathWidth       map[string]float64
	tooFew                                map[int]*share
}

func newStudy(n int, device func(*player.Device, *rand.Rand)) *study {
	st := &study{
		table: map[Verdict]map[Verdict]int{}, tooFew: map[int]*share{},
		miss: map[string]*share{}, face: map[string]*share{}, path: map[string]*share{},
		missWidth: map[string]float64{}, faceWidth: map[string]float64{}, pathWidth: map[string]float64{},
	}
	for i := range n {
		st.add(session(i, device))
	}
	return st
}

func (st *study) add(s judgedSession) {
	if st.table[s.owner] == nil {
		st.table[s.owner] = map[Verdict]int{}
	}
	st.table[s.owner][s.said.Verdict]++
	if s.said.Verdict.Named() {
		st.right.add(s.right())
		if s.said.Or == "" {
			st.label.add(s.said.Verdict == s.owner)
		}
	}
	if !s.owner.Named() {
		st.wrongly.add(s.said.Verdict.Named())
		if s.plan == "draw or fade" {
			st.matched.add(s.said.Verdict.Named())
		}
	}
	if s.balls == 20 && s.real() {
		st.shows.add(s.said.Verdict.Named())
	}
	if st.tooFew[s.balls] == nil {
		st.tooFew[s.balls] = &share{}
	}
	st.tooFew[s.balls].add(s.said.Verdict == TooFew)
	for _, key := range []string{"all", s.club.Key()} {
		for _, part := range []struct {
			held  map[string]*share
			width map[string]float64
			truth float64
			e     analysis.Estimate
		}{
			{st.miss, st.missWidth, s.truth.Miss, s.said.Miss},
			{st.face, st.faceWidth, s.truth.Face, s.said.Face},
			{st.path, st.pathWidth, s.truth.Path, s.said.Path},
		} {
			if !part.e.OK {
				continue
			}
			if part.held[key] == nil {
				part.held[key] = &share{}
			}
			part.held[key].add(part.e.Low <= part.truth && part.truth <= part.e.High)
			part.width[key] += part.e.High - part.e.Low
		}
	}
}

func (st *study) String() string {
	var out strings.Builder
	columns := []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, Unmeasured, TooFew}
	fmt.Fprintf(&out, "\n%-14s", "true \\ said")
	for _, c := range columns {
		fmt.Fprintf(&out, "%14s", c)
	}
	for _, o := range []Verdict{Centred, Aim, Face, Path, FaceAndPath, Strike, unexplained} {
		fmt.Fprintf(&out, "\n%-14s", o)
		for _, c := range columns {
			fmt.Fprintf(&out, "%14d", st.table[o][c])
		}
	}
	fmt.Fprintf(&out, "\nnamed cause owns the miss: %v (standing alone, the same label: %v)", st.right, st.label)
	fmt.Fprintf(&out, "\na cause named where none is: %v", st.wrongly)
	fmt.Fprintf(&out, "\n  of draws and fades that find the target: %v", st.matched)
	fmt.Fprintf(&out, "\nreal cause named at 20 balls: %v", st.shows)
	for _, part := range []struct {
		name  string
		held  map[string]*share
		width map[string]float64
	}{{"miss", st.miss, st.missWidth}, {"face yards", st.face, st.faceWidth}, {"path yards", st.path, st.pathWidth}} {
		fmt.Fprintf(&out, "\nlimits of %s hold the truth:", part.name)
		for _, key := range []string{"all", "driver", "7i", "pw"} {
			if s := part.held[key]; s != nil {
				fmt.Fprintf(&out, "  %s %.1f %% (%.1f m wide)", key, 100*s.value(), part.width[key]/float64(s.all))
			}
		}
	}
	out.WriteString("\ntoo few:")
	for _, n := range studyBalls {
		if s := st.tooFew[n]; s != nil {
			fmt.Fprintf(&out, "  %d balls %.0f %%", n, 100*s.value())
		}
	}
	return out.String()
}

// TestStudy tries the cause on made-up golfers of a foreign world, whose true
// cause their own counterfactual tells. The full run, about two minutes, is
//
//	go test ./analysis/cause -run Study -sessions 4000 -v
//
// Short runs are held to bounds that leave room for their sampling error.
func TestStudy(t *testing.T) {
	st := newStudy(*sessions, func(*player.Device, *rand.Rand) {})
	t.Log(st)
	bound := func(what string, s share, full, short float64, atLeast bool) {
		limit := short
		if *sessions >= 2000 {
			limit = full
		}
		if v := s.value(); atLeast && v < limit || !atLeast && v > limit {
			t.Errorf("%s: %v, bound %.0f %%", what, s, 100*limit)
		}
	}
	bound("named cause owns the miss", st.right, 0.95, 0.88, true)
	bound("a cause named where none is", st.wrongly, 0.05, 0.08, false)
	bound("a cause named of a draw or fade that finds the target", st.matched, 0.05, 0.12, false)
	bound("real cause named at 20 balls", st.shows, 0.85, 0.70, true)
	bound("limits of the miss", *st.miss["all"], 0.93, 0.90, true)
	bound("limits of the miss", *st.miss["all"], 0.97, 0.99, false)
	for _, club := range []string{"all", "driver", "7i", "pw"} {
		bound("limits of the face yards, "+club, *st.face[club], 0.90, 0.84, true)
		bound("limits of the path yards, "+club, *st.path[club], 0.90, 0.84, true)
	}
	last := 1.0
	for _, pair := range [][2]int{{5, 8}, {12, 20}, {30, 60}} {
		a, b := st.tooFew[pair[0]], st.tooFew[pair[1]]
		both := share{a.of + b.of, a.all + b.all}
		if both.value() > last+0.5/math.Sqrt(float64(both.all)) { // a standard error
			t.Errorf("too few at %d and %d balls: %v, with fewer balls %.1f %%", pair[0], pair[1], both, 100*last)
		}
		last = both.value()
	}
}

// Without any club number face and path are worked back from the ball. Where
// the driver was struck is then in them, and nothing can take it out: the
// bounds are lower, and said to be.
func TestStudyOfBallOnly(t *testing.T) {
	st := newStudy(*sessions/2, func(d *player.Device, _ *rand.Rand) { d.Club, d.Ball, d.Strike = false, true, false })
	t.Log(st)
	if v := st.right.value(); v < 0.80 {
		t.Errorf("named cause owns the miss: %v", st.right)
	}
	if v := st.wrongly.value(); v > 0.08 {
		t.Errorf("a cause named where none is: %v", st.wrongly)
	}
	for _, part := range []*share{st.face["all"], st.path["all"]} {
		if part.value() < 0.80 {
			t.Errorf("limits hold the truth: %v", part)
		}
	}
}

// A device set up off line sees every ball, and every face and path, off by as
// much: no analysis can tell that from aiming there, so the verdict has to be
// aim or leave it open, which says to check the alignment first, or none;
// counted apart.
func TestStudyOfAskewDevice(t *testing.T) {
	verdicts := map[Verdict]int{}
	n := 0
	for i := 0; i < *sessions; i += len(plans) { // the square golfers only
		s := session(i, func(d *player.Device, rng *rand.Rand) {
			d.Askew = side(rng) * between(rng, 3, 6) * degree
		})
		if s.owner != Centred {
			continue
		}
		if s.said.Or == Aim { // "so check alignment first"
			s.said.Verdict = Aim
		}
		verdicts[s.said.Verdict]++
		n++
	}
	t.Logf("square golfers, device 3 to 6 degrees off line: %v", verdicts)
	if other := n - verdicts[Aim] - verdicts[TooFew] - verdicts[Centred] - verdicts[Unmeasured]; float64(other) > 0.15*float64(n) {
		t.Errorf("%d of %d got another cause than aim: %v", other, n, verdicts)
	}
}
