package shotmaker

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// What a shot needs does the shot, in the world it was found in: as asked, within
// what a device can tell.
func TestWhatAShotNeedsDoesIt(t *testing.T) {
	for _, c := range Cases(7, 42) {
		_, truth := c.Play()
		for i, s := range truth.Shots {
			got := flew(truth.Try(s.Needs))
			if math.Abs(got.Start-s.Ask.Start) > 0.02*deg || math.Abs(got.Curve-s.Ask.Curve) > 0.05 ||
				s.Ask.Apex > 0 && math.Abs(got.Apex-s.Ask.Apex) > 0.05 || s.Ask.Carry > 0 && math.Abs(got.Carry-s.Ask.Carry) > 0.1 {
				t.Errorf("%s: %q is to be %+v and flies %+v", c, s.Ask.Label, s.Ask, got)
			}
			if s.Ask.named && math.Abs(got.Lateral) > 0.06*got.Carry {
				t.Errorf("%s: %q finishes %.1f m off", c, s.Ask.Label, got.Lateral)
			}
			draw := strings.Contains(strings.ToLower(s.Ask.Label), "draw")
			if s.Ask.named && (s.Ask.Curve < 0) != (draw == (c.Hand == analysis.RightHanded)) {
				t.Errorf("%s: %q curves %.1f m", c, s.Ask.Label, s.Ask.Curve)
			}
			if i > 0 && s.Ask.Plain {
				t.Errorf("%s: %q asks for nothing", c, s.Ask.Label)
			}
		}
	}
}

// A label says the sides and figures that the golfer is taken to have been asked,
// bare ones in yards and degrees.
func TestLabelsSayWhatIsAsked(t *testing.T) {
	said := map[string]int{}
	words := regexp.MustCompile(`(start|curve|apex|carry|draw|fade) (\d+)(?: ?(°|deg|yd|yards|metres|m))?(?: (left|right))?|(\d+) ?(yd|yards|metres|m) (draw|fade)`)
	for _, c := range Cases(29, 42) {
		_, truth := c.Play()
		for _, s := range truth.Shots {
			for _, m := range words.FindAllStringSubmatch(strings.ToLower(s.Ask.Label), -1) {
				if m[1] == "" {
					m[1], m[2], m[3] = m[7], m[5], m[6]
				}
				by, err := strconv.ParseFloat(m[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				unit := map[string]float64{"": analysis.Yard, "yd": analysis.Yard, "yards": analysis.Yard, "m": 1, "metres": 1}[m[3]]
				got := map[string]float64{
					"start": s.Ask.Start, "curve": s.Ask.Curve, "apex": s.Ask.Apex, "carry": s.Ask.Carry,
					"draw": -c.Hand.Mirror() * s.Ask.Curve, "fade": c.Hand.Mirror() * s.Ask.Curve,
				}[m[1]]
				if m[1] == "start" {
					unit = deg
				}
				if m[4] == "left" {
					by = -by
				}
				if math.Abs(by*unit-got) > 1e-9 {
					t.Errorf("%s: %q is taken for %+v", c, s.Ask.Label, s.Ask)
				}
				said[m[1]]++
			}
		}
	}
	if len(said) != 6 {
		t.Errorf("only %v are said", said)
	}
}

// Without cross-talk and mistakes the gain of every number between any two shots
// is the golfer's, and nothing else moves; face-to-path follows from its two.
func TestGainsAreTheGolfers(t *testing.T) {
	straight := analysis.Delivery{ClubSpeed: 40, Attack: -3 * deg, Path: 0.2 * deg, DynamicLoft: 20 * deg}
	low := analysis.Delivery{ClubSpeed: 38, Attack: -4 * deg, Path: 3 * deg, Face: 1 * deg, DynamicLoft: 20 * deg}
	g := shotmaker{side: -1, gains: map[analysis.Number]float64{
		analysis.ClubSpeed: 0.5, analysis.Attack: 0, analysis.Path: 1.2, analysis.Face: 0.8, analysis.DynamicLoft: 0.3,
	}, habit: analysis.Delivery{Path: 2 * deg, DynamicLoft: -1 * deg}}
	truth := Truth{Shots: []Shot{
		{Needs: straight, Made: g.answer(straight, straight), Balls: 4},
		{Needs: low, Made: g.answer(straight, low), Balls: 8},
	}}
	for n, want := range g.gains {
		got, asked := truth.Gain(0, 1, n)
		slope, sloped := truth.Slope(n)
		if n == analysis.DynamicLoft {
			if asked || sloped || truth.Made(0, 1, n) != 0 {
				t.Errorf("loft is not asked to change: gain %v, slope %v, made %v", got, slope, truth.Made(0, 1, n))
			}
			continue
		}
		if math.Abs(got-want) > 1e-9 || math.Abs(slope-want) > 1e-9 || !asked || !sloped {
			t.Errorf("%s: gain %v, slope %v, want %v", n, got, slope, want)
		}
	}
	// (0.8 x 1 - 1.2 x 2.8) over 1 - 2.8
	if got, _ := truth.Gain(0, 1, analysis.FaceToPath); math.Abs(got-2.56/1.8) > 1e-9 {
		t.Errorf("face-to-path: gain %v, want %v", got, 2.56/1.8)
	}
	// A left-hander's path goes the other way for the same cross-talk.
	g.talks = []talk{{analysis.Attack, analysis.Path, 0.5}, {analysis.ClubSpeed, analysis.DynamicLoft, 0.1 * deg}}
	truth.Shots[1].Made = g.answer(straight, low)
	if got, want := truth.Made(0, 1, analysis.Path), 1.2*2.8*deg+0.5*deg; math.Abs(got-want) > 1e-9 {
		t.Errorf("path moves %.2f deg, want %.2f", got/deg, want/deg)
	}
	if got := truth.Made(0, 1, analysis.DynamicLoft); math.Abs(got+0.2*deg) > 1e-9 {
		t.Errorf("loft moves %.2f deg for 2 m/s less, want -0.2", got/deg)
	}
}

// The slope of the balls' own deliveries on what was asked is the truth's, in the
// long run of many golfers: the mean of the differences, each over its own
// standard error, is within four of its own. So are gains of each kind of golfer.
func TestGainsRecoveredFromTheBalls(t *testing.T) {
	sum, square, count := map[analysis.Number]float64{}, map[analysis.Number]float64{}, map[analysis.Number]float64{}
	mean, golfers := map[Control]float64{}, map[Control]float64{}
	for _, c := range Cases(11, 110) {
		_, truth := c.Play()
		for _, n := range Numbers() {
			want, asked := truth.Slope(n)
			if !asked {
				continue
			}
			var x, y []float64
			for i, b := range truth.Balls {
				x = append(x, Value(truth.Shots[truth.Of[i]].Needs, n))
				y = append(y, Value(b.Delivery, n))
			}
			got := slope(x, y)
			sum[n] += got - want
			square[n] += (got - want) * (got - want)
			count[n]++
			if n == analysis.FaceToPath && c.Mistake == NoMistake {
				mean[c.Control] += want
				golfers[c.Control]++
			}
		}
	}
	for _, n := range Numbers() {
		off, se := sum[n]/count[n], math.Sqrt(square[n])/count[n]
		t.Logf("%-14s n %3.0f: slope off by %+.3f, standard error %.3f", n, count[n], off, se)
		if count[n] < 20 || math.Abs(off) > 4*se {
			t.Errorf("%s: slopes of the balls are off by %.3f (standard error %.3f, n %.0f)", n, off, se, count[n])
		}
	}
	for control, band := range map[Control]Band{Obeys: {0.85, 1.15}, Partly: {0.4, 0.7}, Nothing: {-0.15, 0.15}} {
		if m := mean[control] / golfers[control]; !band.Holds(m) {
			t.Errorf("who %s has a mean gain of %.2f (n %.0f)", control, m, golfers[control])
		}
	}
}

// Who mistakes a shot moves the other way from the straight one than was asked.
func TestMistakesGoTheOtherWay(t *testing.T) {
	moved := map[Mistake]analysis.Number{OtherCurve: analysis.FaceToPath, OtherStart: analysis.Face}
	for mistake, n := range moved {
		met := 0
		for _, c := range Cases(23, 12) {
			c.Mistake, c.Control = mistake, Obeys
			_, truth := c.Play()
			for i, s := range truth.Shots {
				gain, asked := truth.Gain(0, i, n)
				if s.Mistaken != (mistake == OtherCurve && s.Ask.named || mistake == OtherStart && s.Ask.Start != 0) {
					t.Errorf("%s: %q mistaken: %t", c, s.Ask.Label, s.Mistaken)
				}
				// A low one may have cross-talk in it, a wedge's face hardly moves.
				if !asked || s.Ask.Apex > 0 || math.Abs(truth.Asked(0, i, n)) < 0.5*deg {
					continue
				}
				if s.Mistaken {
					met++
				}
				if (gain < 0) != s.Mistaken {
					t.Errorf("%s: %q has a gain of %.2f of %s", c, s.Ask.Label, gain, n)
				}
			}
		}
		if met < 8 {
			t.Errorf("%s: met %d times", mistake, met)
		}
	}
}

func slope(x, y []float64) float64 {
	var mx, my, both, square float64
	for i := range x {
		mx += x[i] / float64(len(x))
		my += y[i] / float64(len(x))
	}
	for i := range x {
		both += (x[i] - mx) * (y[i] - my)
		square += (x[i] - mx) * (x[i] - mx)
	}
	return both / square
}

// The long-run share is what the session's own balls do, in the mean of many; and
// about half the balls start right of where the shot's mean delivery does.
func TestLongRunIsTheBallsShare(t *testing.T) {
	var off, variance float64
	for _, c := range Cases(13, 24) {
		c.Control = Obeys
		_, truth := c.Play()
		at := 1
		for i, s := range truth.Shots {
			if math.Abs(s.Ask.Start) > math.Abs(truth.Shots[at].Ask.Start) {
				at = i
			}
		}
		want := Want{Start: Band{truth.Player.One(truth.Shots[at].Made).Launch.Direction, math.Inf(1)}, Curve: Open(), Apex: Open(), Carry: Open()}
		p := truth.LongRun(want, at, 200)
		// 200 balls of streaks to 0.35 are worth 100, and a bulged face is not quite even.
		if math.Abs(p-0.5) > 0.25 {
			t.Errorf("%s: %q starts right of its mean in %.2f", c, truth.Shots[at].Ask.Label, p)
		}
		want.Curve = Band{truth.Shots[at].Ask.Curve - 4, truth.Shots[at].Ask.Curve + 4}
		p = truth.LongRun(want, at, 200)
		for i, b := range truth.Balls {
			if truth.Of[i] != at {
				continue
			}
			if want.Done(b) {
				off++
			}
			off -= p
			// A ball of a streak is worth half of one; the share itself is of 200.
			variance += 2*p*(1-p) + float64(truth.Shots[at].Balls)*p*(1-p)/100
		}
		none := Want{Open(), Open(), Open(), Band{0, 1}}
		if truth.LongRun(none, at, 20) != 0 || truth.LongRun(Want{Open(), Open(), Open(), Open()}, at, 20) != 1 {
			t.Errorf("%s: nothing is done, or not everything", c)
		}
	}
	t.Logf("done %.1f more than the long run says, standard error %.1f", off, math.Sqrt(variance))
	if math.Abs(off) > 4*math.Sqrt(variance) {
		t.Errorf("the balls do %.1f more than the long run says (standard error %.1f)", off, math.Sqrt(variance))
	}
}

// Need of a want about an ask is what the ask needs, but for the attack of who
// goes down for a low ball.
func TestNeedIsTheMiddleOfAWant(t *testing.T) {
	for _, c := range Cases(17, 20) {
		_, truth := c.Play()
		for _, s := range truth.Shots {
			if s.Ask.Apex > 0 {
				continue
			}
			a := s.Ask
			want := Want{Band{a.Start - deg, a.Start + deg}, Band{a.Curve - 3, a.Curve + 3}, Band{1, math.Inf(1)}, Open()}
			if a.Carry > 0 {
				want.Carry = Band{a.Carry - 5, a.Carry + 5}
			}
			d, ok := truth.Need(want)
			for _, n := range Numbers() {
				if off := Value(d, n) - Value(s.Needs, n); !ok || math.Abs(off) > 0.1*deg && n != analysis.ClubSpeed || math.Abs(off) > 0.1 {
					t.Errorf("%s: %q needs %s %v more than its middle", c, a.Label, n, off)
				}
			}
		}
		plain := flew(truth.Try(truth.Shots[0].Needs))
		most := Want{Start: Open(), Curve: Open(), Apex: Open(), Carry: Band{0, 0.9 * plain.Carry}}
		d, ok := truth.Need(most)
		if got := flew(truth.Try(d)).Carry; !ok || math.Abs(got-0.9*plain.Carry) > 0.1 {
			t.Errorf("%s: at most %.1f m is met with %.1f", c, 0.9*plain.Carry, got)
		}
	}
}

// A change of nothing is the usual; a face turned 2 deg starts the ball that way by
// most of it, and the long run's mean is that of many balls drawn.
func TestChange(t *testing.T) {
	for _, c := range Cases(19, 7) {
		_, truth := c.Play()
		one, run := truth.Change(analysis.Delivery{})
		if flew(one) != flew(truth.Player.One(truth.Usual())) {
			t.Errorf("%s: no change is another ball", c)
		}
		open, opened := truth.Change(analysis.Delivery{Face: 2 * deg})
		for what, by := range map[string]float64{"one": flew(open).Start - flew(one).Start, "run": Mean(opened).Start - Mean(run).Start} {
			if by < 0.9*deg || by > 2*deg {
				t.Errorf("%s: a face 2 deg further right starts the %s %.2f deg further", c, what, by/deg)
			}
		}
		const n = 1000
		means := make([]analysis.Delivery, n)
		for i := range means {
			means[i] = truth.Usual()
		}
		many := truth.Player.Hit(means, c.rng("many"))
		var square float64
		for _, b := range many {
			square += math.Pow(b.Launch.Direction-Mean(run).Start, 2) / n
		}
		// A streak of 0.35 makes n balls worth n 0.65/1.35.
		if off := Mean(many).Start - Mean(run).Start; math.Abs(off) > 4.5*math.Sqrt(square*2.1/n) {
			t.Errorf("%s: many balls start %.3f deg from the long run", c, off/deg)
		}
	}
}

// No delivery on a grid wider than any golfer does an impossible request.
func TestImpossible(t *testing.T) {
	for _, name := range []string{"middle", "path heavy", "crisis", "tunnel"} {
		for _, r := range Impossible() {
			p := panel.Player{World: panel.WorldNamed(name), Club: r.Club, Wide: 1}
			usual := p.Usual()
			for face := -25.0; face <= 25; face += 10 {
				for path := -25.0; path <= 25; path += 10 {
					for loft := -12.0; loft <= 12; loft += 6 {
						d := usual
						d.Face, d.Path, d.DynamicLoft, d.ClubSpeed = face*deg, path*deg, usual.DynamicLoft+loft*deg, 1.05*usual.ClubSpeed
						if b := p.One(d); r.Want.Done(b) {
							t.Errorf("%s, %q: done by %+v: %+v", name, r.Text, d, flew(b))
						}
					}
				}
			}
			truth := Truth{Player: p, Shots: []Shot{{Needs: usual, Made: usual}}}
			if d, ok := truth.Need(r.Want); ok {
				t.Errorf("%s, %q: needs %+v", name, r.Text, d)
			}
		}
	}
}
