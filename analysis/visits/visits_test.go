package visits

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 99)) }

func TestCard(t *testing.T) {
	rng := seeded(1)
	visits := map[int]int{}
	for range 500 {
		turns := Card(rng)
		sets := 0
		for _, x := range turns {
			sets = max(sets, x.Set+1)
		}
		balls, seen := map[int]int{}, map[[2]int]bool{}
		for i, x := range turns {
			if x.Block != i/sets || i > 0 && x.Visit < turns[i-1].Visit || x.Balls < 3 {
				t.Fatalf("turn %d is %+v", i, x)
			}
			if seen[[2]int{x.Block, x.Set}] {
				t.Fatalf("set %d twice in block %d", x.Set, x.Block)
			}
			seen[[2]int{x.Block, x.Set}] = true
			balls[x.Visit] += x.Balls
		}
		for _, n := range balls {
			if n > mostBalls || n < 12 {
				t.Fatalf("%d balls in a visit", n)
			}
		}
		if len(turns)%sets != 0 || sets < 2 || sets > 3 {
			t.Fatalf("%d turns of %d sets", len(turns), sets)
		}
		visits[len(balls)]++
	}
	if len(visits) != 5 {
		t.Errorf("cards have %v visits", visits)
	}
}

// Clubs go by the names everybody else has for them.
func TestClubs(t *testing.T) {
	for _, m := range models {
		if c, err := analysis.ParseClub(m.club.Key()); err != nil || c != m.club {
			t.Errorf("%+v is read as %+v, %v", m.club, c, err)
		}
	}
}

func TestHitFollowsTheCard(t *testing.T) {
	rng := seeded(2)
	for range 50 {
		turns, g := Card(rng), NewGolfer(rng)
		sessions, truth := Hit(turns, g, nil, rng)
		i := 0
		for v, s := range sessions {
			if len(truth[v]) != len(s.Shots) || s.Hand != g.Hand {
				t.Fatalf("visit %d: %d truths of %d shots", v, len(truth[v]), len(s.Shots))
			}
			for from := 0; from < len(s.Shots); i++ {
				x := turns[i]
				for j := range x.Balls {
					if shot := s.Shots[from+j]; truth[v][from+j] != i || x.Visit != v || shot.N != from+j+1 || shot.Club != g.Club || shot.Label != "" {
						t.Fatalf("visit %d, ball %d: turn %d of %+v", v, from+j, truth[v][from+j], shot)
					}
				}
				from += x.Balls
			}
		}
		if i != len(turns) {
			t.Fatalf("%d turns of %d hit", i, len(turns))
		}
	}
}

// still is a golfer of whom nothing moves but the balls, independent and normal.
func still(seed uint64) Golfer {
	g := NewGolfer(seeded(seed))
	g.VisitSD, g.TurnSD, g.Warm, g.Tire = analysis.Delivery{}, analysis.Delivery{}, analysis.Delivery{}, analysis.Delivery{}
	g.Serial, g.FacePath, g.Mishits, g.Tails = 0, 0, 0, Normal
	return g
}

// hit are the balls of one turn of a visit.
func hit(g Golfer, balls int, e Effect, rng *rand.Rand) []analysis.Shot {
	s, _ := Hit([]Turn{{Balls: balls}}, g, []Effect{e}, rng)
	return s[0].Shots
}

func values(shots []analysis.Shot, n analysis.Number) []float64 {
	v, _ := analysis.Values(shots, n)
	return v
}

func within(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %.4g, want %.4g give or take %.2g", what, got, want, by)
	}
}

// Balls scatter as much as the golfer does, hang together as said, and have the
// tails they should.
func TestBallsScatter(t *testing.T) {
	const balls = 20000
	for tails := range Tails(NumTails) {
		g := still(3)
		g.Tails = tails
		shots := hit(g, balls, Effect{}, seeded(4))
		for i, n := range delivered {
			v := values(shots, n)
			sd := of(g.SD)[i]
			within(t, n.String()+" mean", stat.Mean(v, nil), of(g.Level)[i], 4*sd/math.Sqrt(balls))
			within(t, n.String()+" sd", stat.StdDev(v, nil)/sd, 1, 0.03)
			switch skew, kurtosis := stat.Skew(v, nil), stat.ExKurtosis(v, nil); tails {
			case Normal:
				within(t, n.String()+" skew", skew, 0, 0.05)
				within(t, n.String()+" kurtosis", kurtosis, 0, 0.1)
			case Heavy: // of t5: 6 [C], from which samples fall short
				if kurtosis < 2 {
					t.Errorf("%v: t5 has an excess kurtosis of %.2f", n, kurtosis)
				}
			case Skewed: // of a gamma of shape 4: 1 and 1.5 [C]
				within(t, n.String()+" skew", math.Abs(skew), 1, 0.1)
				within(t, n.String()+" kurtosis", kurtosis, 1.5, 0.4)
			}
		}
		g.Serial, g.FacePath = 0.35, -0.3
		shots = hit(g, balls, Effect{}, seeded(6))
		f, p := values(shots, analysis.Face), values(shots, analysis.Path)
		within(t, "serial correlation", stat.Correlation(f[1:], f[:balls-1], nil), 0.35, 0.03)
		within(t, "face and path", stat.Correlation(f, p, nil), -0.3, 0.03)
		within(t, "sd with a memory", stat.StdDev(f, nil)/g.SD.Face, 1, 0.04)
	}
}

func TestSkewGoesByTheHand(t *testing.T) {
	g := still(3)
	g.Tails = Skewed
	for _, h := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
		g.Hand = h
		if skew := stat.Skew(values(hit(g, 5000, Effect{}, seeded(1)), analysis.Face), nil); skew*h.Mirror() < 0.5 {
			t.Errorf("%v-handed: skew of the face %.2f", h, skew)
		}
	}
}

// Visits and turns are off by as much as they should, and balls of one are off
// together.
func TestVisitsAndTurnsScatter(t *testing.T) {
	g := still(4)
	g.SD = analysis.Delivery{}
	g.VisitSD.Face, g.TurnSD.Face = VisitSD, 0.5*deg
	var turns []Turn
	const visits, each = 2000, 4
	for v := range visits {
		for range each {
			turns = append(turns, Turn{Balls: 2, Visit: v})
		}
	}
	sessions, _ := Hit(turns, g, nil, seeded(1))
	var all, inside float64
	for _, s := range sessions {
		v, _ := analysis.Values(s.Shots, analysis.Face)
		sum := 0.0
		for i := 0; i < len(v); i += 2 {
			if v[i] != v[i+1] {
				t.Fatal("the balls of a turn are apart")
			}
			sum += v[i] / each
		}
		all += (sum - g.Level.Face) * (sum - g.Level.Face) / visits
		for i := 0; i < len(v); i += 2 {
			inside += (v[i] - sum) * (v[i] - sum) / (visits * (each - 1))
		}
	}
	within(t, "turns", math.Sqrt(inside)/deg, 0.5, 0.02)
	within(t, "visits", math.Sqrt(all)/deg, math.Sqrt(0.8*0.8+0.5*0.5/each), 0.04)
}

func TestWarmingUpAndTiring(t *testing.T) {
	g := still(5)
	g.SD = analysis.Delivery{}
	g.WarmBalls, g.Warm.Face = 10, 2*deg
	v := values(hit(g, 21, Effect{}, seeded(1)), analysis.Face)
	for i, want := range map[int]float64{0: 2, 5: 1, 9: 0.2, 10: 0, 20: 0} {
		within(t, "warming up", (v[i]-g.Level.Face)/deg, want, 1e-9)
	}
	g.Warm.Face, g.Tire.Face = 0, 3*deg
	v = values(hit(g, 21, Effect{}, seeded(1)), analysis.Face)
	for i, want := range map[int]float64{0: 0, 10: 1.5, 20: 3} {
		within(t, "tiring", (v[i]-g.Level.Face)/deg, want, 1e-9)
	}
}

// Mishits come as often as they should, and are worth the name: shorter, and
// further from the middle of the face.
func TestMishits(t *testing.T) {
	g := still(6)
	g.Mishits = 0.06
	balls := g.play([]stretch{{balls: 20000, club: g.Club}}, nil, seeded(2))
	var hits int
	var carry, off [2][]float64
	for _, b := range balls {
		c, _ := b.shot.Value(analysis.Carry)
		x, _ := b.shot.Value(analysis.StrikeToe)
		y, _ := b.shot.Value(analysis.StrikeUp)
		i := 0
		if b.mishit {
			i = 1
			hits++
		}
		carry[i] = append(carry[i], c)
		off[i] = append(off[i], math.Hypot(x, y))
	}
	within(t, "mishits", float64(hits)/float64(len(balls)), 0.06, 0.006)
	if a, b := stat.Mean(carry[1], nil), stat.Mean(carry[0], nil); a > 0.95*b {
		t.Errorf("mishits carry %.1f m, others %.1f", a, b)
	}
	if a, b := stat.Mean(off[1], nil), stat.Mean(off[0], nil); a < 1.4*b {
		t.Errorf("mishits are %.4f m off the middle, others %.4f", a, b)
	}
}

// What an effect truly does is what is seen of very many balls.
func TestEffects(t *testing.T) {
	const balls = 10000
	rng := seeded(3)
	for seed := range uint64(6) {
		g := still(seed)
		g.Tails = Tails(seed % NumTails)
		usual := hit(g, balls, Effect{}, rng)
		for _, e := range []Effect{{}, OnFace(1), OnFace(-4), Compensating(g, 2, 0.5), OnSpread(1.6)} {
			tried := hit(g, balls, e, rng)
			for _, n := range []analysis.Number{
				analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Carry, analysis.Lateral, analysis.SpinAxis,
			} {
				want, ok := g.Truth(e, n)
				if !ok {
					t.Fatalf("no truth of %v", n)
				}
				u, v := values(usual, n), values(tried, n)
				a, b := stat.Variance(u, nil), stat.Variance(v, nil)
				// Four standard errors, and four of the truth's own pairs of balls.
				by := 4*math.Sqrt((a+b)/balls) + 4*math.Abs(math.Sqrt(b)-math.Sqrt(a))/math.Sqrt(truthBalls)
				within(t, n.String(), stat.Mean(v, nil)-stat.Mean(u, nil), want, by)
			}
			want := g.SD.Face
			if e.Spread > 0 {
				want *= e.Spread
			}
			within(t, "spread", stat.StdDev(values(tried, analysis.Face), nil)/want, 1, 0.05)
		}
	}
}

// A path that compensates moves the ball back by the share it should, and the
// ball starts further out than it finishes.
func TestCompensating(t *testing.T) {
	for seed := range uint64(12) {
		g := still(seed)
		for _, share := range []float64{0, 0.5, 1} {
			alone, _ := g.Truth(OnFace(2), analysis.Lateral)
			e := Compensating(g, 2, share)
			both, _ := g.Truth(e, analysis.Lateral)
			within(t, g.Club.Key()+" left", both/alone, 1-share, 0.1)
			if e.Shift.Face != 2*Zero() || e.Shift.Path < 0 {
				t.Errorf("%s: face %.2f, path %.2f deg", g.Club.Key(), e.Shift.Face/deg, e.Shift.Path/deg)
			}
		}
	}
	kinds, n := map[string]int{}, 2000
	rng := seeded(1)
	for range n {
		e := draw(NewGolfer(rng), rng)
		f, p := math.Abs(e.Shift.Face)/Zero(), math.Abs(e.Shift.Path)/Zero()
		switch {
		case e == Effect{}:
			kinds["none"]++
		case e.Spread > 0 && f == 0 && p == 0:
			kinds["spread"]++
		case p == 0:
			kinds["face"]++
		default:
			kinds["both"]++
		}
		if f != 0 && f != 1 && f != 2 && f != 4 || p > 5.5 || p > 1.5*f {
			t.Fatalf("face %.2f, path %.2f practical zeros", f, p)
		}
	}
	for kind, share := range map[string]float64{"none": 0.3, "face": 0.4, "both": 0.15, "spread": 0.15} {
		within(t, kind, float64(kinds[kind])/float64(n), share, 0.04)
	}
	if _, ok := still(1).Truth(OnFace(1), analysis.Apex); ok {
		t.Error("a truth of a number that is never measured")
	}
}

// Every number of every ball is one that is believed of a ball, and golfers with
// a club do with it what golfers do.
func TestBelievable(t *testing.T) {
	rng := seeded(7)
	carries := map[string][]float64{}
	for range 100 {
		turns, g := Card(rng), NewGolfer(rng)
		sessions, _ := Hit(turns, g, nil, rng)
		for _, s := range sessions {
			for _, shot := range s.Shots {
				for _, n := range analysis.Numbers() {
					v, ok := shot.Value(n)
					if info := n.Info(); ok && (v < info.Least || v > info.Most) {
						t.Fatalf("%s: %v is %g", shot.Club.Key(), n, v)
					}
				}
			}
			v, _ := analysis.Values(s.Shots, analysis.Carry)
			carries[g.Club.Key()] = append(carries[g.Club.Key()], stat.Mean(v, nil))
		}
	}
	last := math.Inf(1)
	for _, club := range []string{"driver", "5i", "7i", "9i", "pw"} {
		m := stat.Mean(carries[club], nil)
		if m >= last || m < 80 || m > 240 {
			t.Errorf("%s carries %.0f m, the club before %.0f", club, m, last)
		}
		last = m
	}
}

// Nobody's face turns the ball the wrong way: one further right starts and
// finishes further right; a path further right curves it back left.
func TestFlight(t *testing.T) {
	for _, m := range models {
		for _, h := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
			a := m.average()
			b, c := a, a
			b[face] += deg
			c[path] += deg
			square, open, out := m.fly(a, h), m.fly(b, h), m.fly(c, h)
			if square.lateral != 0 || open.direction <= 0 || open.lateral <= 0 || open.axis <= 0 || out.direction <= 0 || out.axis >= 0 || out.lateral >= 0 {
				t.Errorf("%s: square %+v, face right %+v, path right %+v", m.club.Key(), square, open, out)
			}
			within(t, "how far from path to face it starts", open.direction/deg, m.toFace, 1e-9)
			if m.toFace < 0.61 || m.toFace > 0.83 {
				t.Errorf("%s starts %.2f of the way", m.club.Key(), m.toFace)
			}
		}
	}
}

// A left-hander is a right-hander in a mirror.
func TestMirror(t *testing.T) {
	for _, m := range models {
		v := m.average()
		v[face], v[path], v[toe] = 2*deg, -3*deg, 0.01
		w := v
		w[face], w[path] = -v[face], -v[path]
		right, left := m.shot(v, analysis.RightHanded).Mirrored(), m.shot(w, analysis.LeftHanded)
		for _, n := range analysis.Numbers() {
			a, _ := right.Value(n)
			b, _ := left.Value(n)
			within(t, n.String(), b, a, 1e-12)
		}
	}
}

func TestGolfers(t *testing.T) {
	rng := seeded(8)
	lefts, hands := 0, 4000
	clubs := map[analysis.Club]int{}
	for range hands {
		g := NewGolfer(rng)
		if g.Hand == analysis.LeftHanded {
			lefts++
		}
		clubs[g.Club]++
		in := func(what string, v, low, high float64) {
			if v < low || v > high {
				t.Fatalf("%s is %g", what, v)
			}
		}
		in("face", g.SD.Face/deg, 1.5, 3)
		in("path", g.SD.Path/deg, 1.5, 3.5)
		in("attack", g.SD.Attack/deg, 1, 2)
		in("loft", g.SD.DynamicLoft/deg, 1, 2.5)
		in("strike", g.SD.StrikeToe/analysis.Millimetre, 5, 10)
		in("speed", g.SD.ClubSpeed, 0.5, 1.2)
		in("serial", g.Serial, 0, 0.35)
		in("face and path", g.FacePath, -0.3, 0.3)
		in("turns", g.TurnSD.Face/deg, 0, 0.6)
		in("visits", g.VisitSD.Face/deg, 0.8, 0.8)
		in("warm-up balls", float64(g.WarmBalls), 10, 15)
		in("warming up", math.Abs(g.Warm.Face)/deg, 0, 2)
		in("mishits", g.Mishits, 0, 0.06)
	}
	within(t, "left-handers", float64(lefts)/float64(hands), 1.0/8, 0.02)
	for _, m := range models {
		within(t, m.club.Key(), float64(clubs[m.club])/float64(hands), float64(m.practised)/20, 0.03)
	}
}

// The same seed hits the same balls.
func TestHitIsTheSameAgain(t *testing.T) {
	hit := func() []float64 {
		rng := seeded(9)
		s, _ := Hit(Card(rng), NewGolfer(rng), []Effect{{}, OnFace(2)}, rng)
		v, _ := analysis.Values(s[0].Shots, analysis.Lateral)
		return v
	}
	if !slices.Equal(hit(), hit()) {
		t.Error("different balls")
	}
}
