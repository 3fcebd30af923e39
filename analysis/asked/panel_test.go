package asked_test

import (
	"flag"
	"maps"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/cause"
	"rangepost/analysis/panel"
	"rangepost/analysis/shotmaker"
)

var (
	panelCases = flag.Int("asked", 36, "sessions of asked shots to judge")
	panelSeed  = flag.Uint64("asked-seed", 7, "their seed")
	panelShow  = flag.Bool("asked-show", false, "print what is wrong")
)

// A tallied row is how often a thing was right.
type row struct{ right, of int }

type rows map[string]*row

func (r rows) add(name string, right bool) {
	if r[name] == nil {
		r[name] = &row{}
	}
	r[name].of++
	if right {
		r[name].right++
	}
}

func (r rows) share(name string) float64 {
	if r[name] == nil {
		return math.NaN()
	}
	return float64(r[name].right) / float64(r[name].of)
}

// wantOf is what counts as done, as the other hand has it.
func wantOf(w asked.Want) shotmaker.Want {
	band := func(p asked.Part) shotmaker.Band {
		if !w[p].OK {
			return shotmaker.Open()
		}
		return shotmaker.Band{Low: w[p].Low, High: w[p].High}
	}
	return shotmaker.Want{Start: band(asked.Start), Curve: band(asked.Curve), Apex: band(asked.Height), Carry: band(asked.Carry)}
}

func valueOf(d analysis.Delivery, n analysis.Number) float64 {
	if n == analysis.FaceToPath {
		return d.Face - d.Path
	}
	return shotmaker.Value(d, n)
}

func moved(d analysis.Delivery, by cause.Move) analysis.Delivery {
	d.Face += by.Face
	d.Path += by.Path
	d.DynamicLoft += by.DynamicLoft
	d.ClubSpeed += by.ClubSpeed
	return d
}

// trulyNeeds is the change of the usual delivery after which the golfer's own
// balls, scatter and strike as they are, do a flight in the mean: Newton's steps by
// the world's own flights from a first guess.
func trulyNeeds(truth shotmaker.Truth, goal cause.Goal, by cause.Move) (cause.Move, bool) {
	change := func(m cause.Move) analysis.Delivery {
		return analysis.Delivery{Face: m.Face, Path: m.Path, DynamicLoft: m.DynamicLoft, ClubSpeed: m.ClubSpeed}
	}
	outcome := func(o shotmaker.Outcome) [4]float64 { return [4]float64{o.Start, o.Curve, o.Apex, o.Carry} }
	knobs := [4]*float64{&by.Face, &by.Path, &by.DynamicLoft, &by.ClubSpeed}
	const steps = 2
	for step := range steps + 1 {
		one, run := truth.Change(change(by))
		here, mean := outcome(shotmaker.Mean([]panel.Ball{one})), outcome(shotmaker.Mean(run))
		var at []int
		for k, want := range [...]float64{goal.Start, goal.Curve, goal.Apex, goal.Carry} {
			if !math.IsNaN(want) {
				at = append(at, k)
				mean[k] = want - mean[k]
			}
		}
		if step == steps {
			for _, k := range at {
				if math.Abs(mean[k]) > 0.5 || k == 0 && math.Abs(mean[k]) > 0.2*analysis.Degree {
					return by, false
				}
			}
			return by, true
		}
		slopes, left, move := mat.NewDense(len(at), len(at), nil), mat.NewVecDense(len(at), nil), mat.NewVecDense(len(at), nil)
		for j, k := range at {
			const small = 0.01
			*knobs[k] += small
			more, _ := truth.Change(change(by))
			*knobs[k] -= small
			there := outcome(shotmaker.Mean([]panel.Ball{more}))
			for i, of := range at {
				slopes.Set(i, j, (there[of]-here[of])/small)
			}
			left.SetVec(j, mean[k])
		}
		if move.SolveVec(slopes, left) != nil {
			return by, false
		}
		for j, k := range at {
			*knobs[k] += move.AtVec(j)
		}
	}
	return by, false
}

// TestPanel holds what is said of asked shots against golfers of another hand, in
// worlds of other physics.
func TestPanel(t *testing.T) {
	r := rows{}
	ratios := map[string][]float64{}
	show := func(format string, args ...any) {
		if *panelShow {
			t.Logf(format, args...)
		}
	}
	for _, c := range shotmaker.Cases(*panelSeed, *panelCases) {
		session, truth := c.Play()
		config := cause.Config{Hand: session.Hand, Ball: session.Ball, Conditions: session.Conditions, Seed: 1}
		swings := make([]cause.Swing, len(truth.Shots))
		for _, set := range session.Sets() {
			judged, _, _ := cause.Judge(set, config)
			swings[truth.Of[set.Shots[0].N-1]] = cause.SwingOf(judged, config)
		}
		held := "others"
		if c.World.HeldOut {
			held = "held out"
		}
		usual := swings[0]
		club := c.Club.Key()
		var hits []asked.Hit
		var wants []asked.Want
		for i, shot := range truth.Shots {
			if shot.Ask.Plain {
				hits, wants = append(hits, asked.Hit{Swing: swings[i]}), append(wants, asked.Want{})
				continue
			}
			want, ok := asked.Want{}, false
			read, ok, err := asked.Label(shot.Ask.Label, asked.Options{Hand: session.Hand})
			if err != nil || !ok {
				r.add("read", false)
				show("%v: %q not read: %v", c, shot.Ask.Label, err)
			} else {
				r.add("read", true)
				if want, err = read.Of(usual.Flight, max(5*analysis.Yard, 0.07*usual.Flight.Carry)); err != nil {
					show("%v: %q: %v", c, shot.Ask.Label, err)
				}
			}
			hits, wants = append(hits, asked.Hit{Want: want, Swing: swings[i]}), append(wants, want)
			if want == (asked.Want{}) {
				continue
			}
			result := asked.Of(read, want, swings[i])
			world := wantOf(want)
			at := 0
			for k, of := range truth.Of {
				if of != i {
					continue
				}
				for at < len(result.Balls) && result.Balls[at].N < k+1 {
					at++
				}
				if at == len(result.Balls) || result.Balls[at].N != k+1 {
					continue
				}
				ball := result.Balls[at]
				r.add("balls known, "+string(c.Columns), ball.Known)
				if !ball.Known {
					continue
				}
				r.add("balls told, "+string(c.Columns), !ball.Close())
				right := ball.Did() == world.Done(truth.Balls[k])
				seen := "balls, flown"
				if c.Columns.Has(analysis.Direction) && c.Columns.Has(analysis.Lateral) && c.Columns.Has(analysis.Apex) {
					seen = "balls, measured"
				}
				r.add(seen+", close or not", right)
				if !ball.Close() && !right {
					show("BALL %s %s %s %q parts %.2f did %v truth %+v start %.4f want %+v", c.World.Name, c.Club.Key(), c.Columns, shot.Ask.Label, ball.Parts, ball.Did(), truth.Balls[k].Flight, truth.Balls[k].Launch.Direction, want)
				}
				if !ball.Close() {
					r.add(seen, right)
					r.add("balls, "+string(c.Columns), right)
					r.add("balls in "+c.World.Name, right)
				}
			}
			if result.Of > 0 {
				share := truth.LongRun(world, i, 400)
				r.add("share's limits", result.ShareLow <= share && share <= result.ShareHigh)
				r.add("share's limits, "+held, result.ShareLow <= share && share <= result.ShareHigh)
			}

			// The work-back, from the usual swing.
			need := usual.Reach(want.Goal())
			r.add("reached, "+club, need.OK)
			if !need.OK {
				show("%v: %q out of reach", c, shot.Ask.Label)
				continue
			}
			_, run := truth.Change(analysis.Delivery{Face: need.Move.Face, Path: need.Move.Path, DynamicLoft: need.Move.DynamicLoft, ClubSpeed: need.Move.ClubSpeed})
			mean := shotmaker.Mean(run)
			done := world.Start.Holds(mean.Start) && world.Curve.Holds(mean.Curve) && world.Apex.Holds(mean.Apex) && world.Carry.Holds(mean.Carry)
			r.add("worked back, "+club, done)
			to := func(n analysis.Number) float64 {
				if e := need.To[n]; e.N > 0 {
					return e.Mean
				}
				return shotmaker.Value(truth.Usual(), n)
			}
			flown := world.Done(truth.Try(analysis.Delivery{Face: to(analysis.Face), Path: to(analysis.Path), DynamicLoft: to(analysis.DynamicLoft), ClubSpeed: to(analysis.ClubSpeed), Attack: to(analysis.Attack)}))
			r.add("worked back, absolute, "+club, flown)
			if c.Club.Family == analysis.Driver || c.Club.Family == analysis.Iron {
				r.add("worked back, mid-irons and drivers", flown)
			}
			r.add("worked back, absolute, "+string(c.Columns), flown)
			r.add("worked back, "+string(c.Columns), done)
			if !done {
				show("%v: %q: %+v gives %+v, want %+v", c, shot.Ask.Label, need.Move, mean, world)
			}
			truly, ok := trulyNeeds(truth, want.Goal(), need.Move)
			if !ok {
				continue
			}
			for n, e := range need.By {
				n := analysis.Number(n)
				if !e.OK {
					continue
				}
				for name, e := range map[string]analysis.Estimate{"change's": e, "delivery's": need.To[n]} {
					v := truly.Of(n)
					if name == "delivery's" {
						v += valueOf(truth.Usual(), n)
					}
					show("%s %s %s %s %s z %.2f off %.4f half %.4f n %d move %+v", name, c.World.Name, c.Club.Key(), c.Columns, n.Info().Key, (v-e.Mean)/(e.High-e.Low)*2, v-e.Mean, (e.High-e.Low)/2, e.N, need.Move)
					r.add(name+" limits", e.Low <= v && v <= e.High)
					for _, of := range []string{n.Info().Key, held, string(c.Columns)} {
						r.add(name+" limits, "+of, e.Low <= v && v <= e.High)
					}
				}
			}
		}

		// What follows from a change.
		if usual.OK {
			by := cause.Move{Face: -2 * analysis.Degree, Path: 3 * analysis.Degree, DynamicLoft: -4 * analysis.Degree}
			_, run := truth.Change(analysis.Delivery{Face: by.Face, Path: by.Path, DynamicLoft: by.DynamicLoft})
			mean := shotmaker.Mean(run)
			for k, e := range usual.Follows(by) {
				if !e.OK {
					continue
				}
				v := [...]float64{mean.Start, mean.Curve, mean.Apex, mean.Carry, mean.Lateral}[k]
				name := [...]string{"start", "curve", "apex", "carry", "lateral"}[k]
				r.add("follows", e.Low <= v && v <= e.High)
				r.add("follows, "+name, e.Low <= v && v <= e.High)
				r.add("follows, "+held, e.Low <= v && v <= e.High)
				r.add("follows, "+string(c.Columns), e.Low <= v && v <= e.High)
			}
		}

		// Control.
		control := asked.ControlOf(usual, hits)
		for _, g := range control.Gains {
			fine := true
			slope, ok := truth.SlopeOver(g.Number, func(shot int) analysis.Delivery {
				if wants[shot] == (asked.Want{}) {
					return truth.Usual()
				}
				by, ok := trulyNeeds(truth, wants[shot].Goal(), usual.Reach(wants[shot].Goal()).Move)
				fine = fine && ok
				return moved(truth.Usual(), by)
			})
			if !ok || !fine {
				continue
			}
			key := g.Number.Info().Key
			r.add("gain's limits", g.Made.Low <= slope && slope <= g.Made.High)
			r.add("gain's limits, "+key, g.Made.Low <= slope && slope <= g.Made.High)
			r.add("gain's limits, "+held, g.Made.Low <= slope && slope <= g.Made.High)
			r.add("gain's limits, "+string(c.Columns), g.Made.Low <= slope && slope <= g.Made.High)
			ratios[key] = append(ratios[key], g.Made.Mean-slope)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(r)) {
		t.Logf("%-48s %6.1f %%  (%d of %d)", name, 100*r.share(name), r[name].right, r[name].of)
	}
	for _, name := range slices.Sorted(maps.Keys(ratios)) {
		v := ratios[name]
		slices.Sort(v)
		t.Logf("%-20s gain less the true one: median %+.3f, nine in ten from %+.2f to %+.2f, n %d", name, v[len(v)/2], v[len(v)/20], v[19*len(v)/20], len(v))
	}
	// Of the few sessions that CI plays; testdata/asked-study.md has the whole.
	for name, least := range map[string]float64{
		"read": 0.98, "balls, measured": 0.96, "balls, flown": 0.88, "worked back, mid-irons and drivers": 0.8,
		"share's limits": 0.85, "change's limits": 0.9, "delivery's limits": 0.9, "follows": 0.9, "gain's limits": 0.85,
	} {
		if share := r.share(name); !(share >= least) {
			t.Errorf("%s: %.1f %%, under %.0f", name, 100*share, 100*least)
		}
	}
}

// TestMirror holds that a left-hander's twin of a session is judged as its mirror
// image, to the last digit.
func TestMirror(t *testing.T) {
	for _, c := range shotmaker.Cases(3, 6) {
		type said struct {
			results []asked.Result
			control asked.Control
		}
		play := func(c shotmaker.Case) (s said) {
			session, truth := c.Play()
			config := cause.Config{Hand: session.Hand, Ball: session.Ball, Conditions: session.Conditions, Seed: 1}
			var hits []asked.Hit
			usual := cause.Swing{}
			for _, set := range session.Sets() {
				judged, _, _ := cause.Judge(set, config)
				swing := cause.SwingOf(judged, config)
				if truth.Shots[truth.Of[set.Shots[0].N-1]].Ask.Plain {
					usual = swing
				}
				hits = append(hits, asked.Hit{Swing: swing})
			}
			for i, set := range session.Sets() {
				shot, ok, _ := asked.Label(set.Label, asked.Options{Hand: session.Hand})
				if !ok {
					continue
				}
				as, _ := usual.Mean()
				want, err := shot.Of(as, 9)
				if err != nil {
					continue
				}
				hits[i].Want = want
				s.results = append(s.results, asked.Of(shot, want, hits[i].Swing))
			}
			s.control = asked.ControlOf(usual, hits)
			return s
		}
		one, twin := play(c), play(shotmaker.Mirror(c))
		if len(one.results) != len(twin.results) || len(one.control.Gains) != len(twin.control.Gains) {
			t.Fatalf("%v: %d results and %d gains, its twin has %d and %d", c, len(one.results), len(one.control.Gains), len(twin.results), len(twin.control.Gains))
		}
		for i, a := range one.results {
			b := twin.results[i]
			if a.Done != b.Done || a.Of != b.Of || a.Close != b.Close || a.Why.Reason != b.Why.Reason || a.Why.Part != b.Why.Part || math.Abs(a.Flight[asked.Curve].Mean+b.Flight[asked.Curve].Mean) > 1e-9 {
				t.Errorf("%v: %+v, its twin %+v", c, a.Why, b.Why)
			}
		}
		for i, a := range one.control.Gains {
			if b := twin.control.Gains[i]; math.Abs(a.Made.Mean-b.Made.Mean) > 1e-7 || math.Abs(a.Made.Low-b.Made.Low) > 1e-6 {
				t.Errorf("%v: of %s %+v, its twin %+v", c, a.Number, a.Made, b.Made)
			}
		}
	}
}

// TestImpossible: what no delivery of a golfer does gets a plain answer.
func TestImpossible(t *testing.T) {
	for _, q := range shotmaker.Impossible() {
		shot, err := asked.Parse(q.Text, asked.Options{})
		if err != nil {
			t.Errorf("%q is not understood: %v", q.Text, err)
			continue
		}
		for _, c := range shotmaker.Cases(11, 40) {
			if c.Club != q.Club || c.Columns != panel.Everything {
				continue
			}
			session, truth := c.Play()
			config := cause.Config{Hand: session.Hand, Ball: session.Ball, Conditions: session.Conditions, Seed: 1}
			for _, set := range session.Sets() {
				if !truth.Shots[truth.Of[set.Shots[0].N-1]].Ask.Plain {
					continue
				}
				judged, _, _ := cause.Judge(set, config)
				swing := cause.SwingOf(judged, config)
				want, err := shot.Of(swing.Flight, 9)
				if err == nil && swing.Reach(want.Goal()).OK {
					t.Errorf("%v: %q (%s) is said to be had: %+v", c, q.Text, q.Why, swing.Reach(want.Goal()).Move)
				}
			}
			break
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"draw 8", "start 3 right, curve 8 left", "ドロー8ヤード", "low fade", "°", "8 yd", "apex 20 yd and carry 140", "-3", "draw -8 links"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		shot, err := asked.Parse(text, asked.Options{})
		if err == nil {
			if again, err := asked.Parse(shot.Text, asked.Options{}); err != nil || !again.Same(shot) {
				t.Errorf("%q reads as %+v, and what it is kept as, %q, as %+v (%v)", text, shot.Asks, shot.Text, again.Asks, err)
			}
		}
		if _, ok, err := asked.Label(text, asked.Options{}); ok && err != nil {
			t.Errorf("%q is a shot and is asked about: %v", text, err)
		}
	})
}
