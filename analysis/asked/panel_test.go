package asked_test

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/cause"
	"rangepost/analysis/shotmaker"
)

var (
	panelCases = flag.Int("asked", 130, "sessions of asked shots to judge")
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

// middleOf is the one flight that is worked back to.
func middleOf(w asked.Want) shotmaker.Want {
	for p := range w {
		w[p].Low, w[p].High = w[p].At, w[p].At
	}
	return wantOf(w)
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
		var swings []cause.Swing
		for _, set := range session.Sets() {
			judged, _, _ := cause.Judge(set, config)
			swings = append(swings, cause.SwingOf(judged, config))
		}
		if len(swings) != len(truth.Shots) {
			t.Fatalf("%v: %d sets of %d shots", c, len(swings), len(truth.Shots))
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
				r.add("balls, close or not", right)
				if !ball.Close() {
					r.add("balls, "+string(c.Columns), right)
					r.add("balls in "+c.World.Name, right)
				}
			}
			if result.Of > 0 {
				share := truth.LongRun(world, i, 2000)
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
			r.add("worked back, "+string(c.Columns), done)
			if !done {
				show("%v: %q: %+v gives %+v, want %+v", c, shot.Ask.Label, need.Move, mean, world)
			}
			if wanted, ok := truth.Need(middleOf(want)); ok {
				for n, e := range need.To {
					n := analysis.Number(n)
					if !e.OK {
						continue
					}
					v := 0.0
					if n == analysis.FaceToPath {
						v = wanted.Face - wanted.Path
					} else {
						v = shotmaker.Value(wanted, n)
					}
					r.add("delivery's limits, "+n.Info().Key, e.Low <= v && v <= e.High)
					r.add("delivery's limits, "+held, e.Low <= v && v <= e.High)
					r.add("delivery's limits, "+string(c.Columns), e.Low <= v && v <= e.High)
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
				d, ok := truth.Need(middleOf(wants[shot]))
				fine = fine && ok
				return d
			})
			if !ok || !fine {
				continue
			}
			key := g.Number.Info().Key
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
		mean := 0.0
		for _, x := range v {
			mean += x / float64(len(v))
		}
		t.Logf("%-20s gain less the true one: median %+.3f, mean %+.3f, n %d, widths %s", name, v[len(v)/2], mean, len(v), fmt.Sprint(v[len(v)/10], v[9*len(v)/10]))
	}
}
