package shotmaker

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A Shot is one set of a session: what was asked and what came of it.
type Shot struct {
	Ask      Ask
	Needs    analysis.Delivery // does the shot in this world, strike centred, mean wind
	Made     analysis.Delivery // what the golfer's balls are spread around
	Mistaken bool              // the golfer took it for another shot
	Balls    int
}

// A Truth is what a session of asked shots really was.
type Truth struct {
	Case   Case
	Player panel.Player
	Shots  []Shot                      // the plain straight one first
	Gains  map[analysis.Number]float64 // the golfer's, but for mistakes and cross-talk
	Balls  []panel.Ball                // in the order of the session
	Of     []int                       // which of Shots each ball was
}

// Usual is the golfer's long-run mean delivery of the plain straight set.
func (t Truth) Usual() analysis.Delivery { return t.Shots[0].Made }

// Asked is the change of a number from one shot to another that the two need of
// the club: what a golfer of gain 1 would make. SI.
func (t Truth) Asked(from, to int, n analysis.Number) float64 {
	return Value(t.Shots[to].Needs, n) - Value(t.Shots[from].Needs, n)
}

// Made is the change that the golfer really makes between them, in the long run.
func (t Truth) Made(from, to int, n analysis.Number) float64 {
	return Value(t.Shots[to].Made, n) - Value(t.Shots[from].Made, n)
}

// Gain is Made over Asked. It is false where the number is not asked to change,
// by a tenth of a degree or of a metre a second: there Made is cross-talk.
func (t Truth) Gain(from, to int, n analysis.Number) (float64, bool) {
	least := 0.1 * deg
	if n == analysis.ClubSpeed {
		least = 0.1
	}
	asked := t.Asked(from, to, n)
	if math.Abs(asked) < least {
		return 0, false
	}
	return t.Made(from, to, n) / asked, true
}

// Slope is the gain over all shots: the least-squares slope of what was made of a
// number on what was asked, every shot weighed by its balls. It is false where
// nothing was asked of it.
func (t Truth) Slope(n analysis.Number) (float64, bool) {
	return t.SlopeOver(n, func(shot int) analysis.Delivery { return t.Shots[shot].Needs })
}

// SlopeOver is Slope with what each shot needs given by somebody else: the
// product's own deliveries, or Need of its own widths.
func (t Truth) SlopeOver(n analysis.Number, needs func(shot int) analysis.Delivery) (float64, bool) {
	var balls, askedMean, madeMean float64
	for i, s := range t.Shots {
		k := float64(s.Balls)
		balls += k
		askedMean += k * Value(needs(i), n)
		madeMean += k * Value(s.Made, n)
	}
	askedMean, madeMean = askedMean/balls, madeMean/balls
	var both, square float64
	for i, s := range t.Shots {
		asked := Value(needs(i), n) - askedMean
		both += float64(s.Balls) * asked * (Value(s.Made, n) - madeMean)
		square += float64(s.Balls) * asked * asked
	}
	least := 0.05 * deg
	if n == analysis.ClubSpeed {
		least = 0.05
	}
	if square < balls*least*least {
		return 0, false
	}
	return both / square, true
}

// LongRun is the share of many balls of the same golfer, asked for one of Shots,
// that do a want: n fresh ones, the same every time.
func (t Truth) LongRun(want Want, shot, n int) float64 {
	means := make([]analysis.Delivery, n)
	for i := range means {
		means[i] = t.Shots[shot].Made
	}
	done := 0
	for _, b := range t.Player.Hit(means, t.Case.rng("long run")) {
		if want.Done(b) {
			done++
		}
	}
	return float64(done) / float64(n)
}

// Need is the delivery, nearest the plain straight one, that does the middle of a
// want in this world, strike centred and in the mean wind; a band open on a side (a
// height or carry of nothing is open) is left as it comes when the plain ball is in
// it, and met at its end when not. It is false where no delivery of this golfer does.
func (t Truth) Need(want Want) (analysis.Delivery, bool) {
	for _, b := range []*Band{&want.Apex, &want.Carry} {
		if b.Low <= 0 {
			b.Low = math.Inf(-1)
		}
	}
	from := t.Shots[0].Needs
	plain := flew(t.Player.One(from))
	var a aim
	for i, v := range [4]struct {
		band Band
		is   float64
	}{{want.Start, plain.Start}, {want.Curve, plain.Curve}, {want.Apex, plain.Apex}, {want.Carry, plain.Carry}} {
		switch middle := (v.band.Low + v.band.High) / 2; {
		case !math.IsInf(v.band.Low, 0) && !math.IsInf(v.band.High, 0):
			a[i] = middle
		case v.band.Holds(v.is):
			a[i] = math.NaN()
		default:
			a[i] = max(v.band.Low, min(v.band.High, v.is))
		}
	}
	return need(t.Player, from, a)
}

// Try flies a delivery that was worked back for a shot: in the session's world,
// club, hand and mean wind, struck in the middle.
func (t Truth) Try(d analysis.Delivery) panel.Ball {
	d.StrikeToe, d.StrikeUp = 0, 0
	return t.Player.One(d)
}

// Change is what truly follows when the usual delivery is changed by so much: one
// ball of the mean delivery in the mean wind, and the golfer's long run around it,
// of which Mean is the mean. Both keep the usual strike.
func (t Truth) Change(by analysis.Delivery) (one panel.Ball, run []panel.Ball) {
	d := t.Usual()
	for _, n := range moved {
		*part(&d, n) += Value(by, n)
	}
	return t.Player.One(d), t.Player.LongRun(d)
}

// plan finds what every shot needs and what the golfer makes of it.
func (t *Truth) plan(g shotmaker, shots int, rng *rand.Rand) {
	straight, ok := need(t.Player, t.Player.Usual(), aim{0, 0, math.NaN(), math.NaN()})
	if !ok {
		panic("no straight ball in " + t.Case.String()) // a mistake of ours
	}
	k := asker{rng: rng, side: t.Player.Hand.Mirror(), usual: flew(t.Player.One(straight)), metric: rng.IntN(3) == 0}
	size := func() int { return 3 + rng.IntN(18) }
	t.Shots = []Shot{{Ask: k.plain(), Needs: straight, Made: g.answer(straight, straight), Balls: size()}}
	for _, i := range rng.Perm(len(asks)) {
		if len(t.Shots) > shots {
			return
		}
		s := Shot{Ask: asks[i](k), Balls: size()}
		if s.Needs, ok = t.needed(g, straight, s.Ask, k.usual); !ok {
			continue // out of this golfer's reach: another
		}
		meant := s.Needs
		taken, mistaken := t.Case.Mistake.turned(s.Ask)
		if mistaken {
			if meant, ok = t.needed(g, straight, taken, k.usual); !ok {
				continue
			}
		}
		s.Made, s.Mistaken = g.answer(straight, meant), mistaken
		t.Shots = append(t.Shots, s)
	}
	panic("too few shots within reach in " + t.Case.String()) // a mistake of ours
}

// needed is what an ask needs of this golfer, who goes down for a low ball if they
// do: the whole of their steepness at a quarter under the usual height. Near the
// most a lofted club's ball can rise, less loft does not bring it down: no such
// ball is asked for.
func (t *Truth) needed(g shotmaker, straight analysis.Delivery, a Ask, usual Outcome) (analysis.Delivery, bool) {
	from := straight
	if a.Apex > 0 {
		from.Attack += g.steep * 4 * (a.Apex/usual.Apex - 1)
	}
	d, ok := need(t.Player, from, a.aim())
	loft := d.DynamicLoft - straight.DynamicLoft
	near := math.Abs(d.Path) < 15*deg && math.Abs(loft) < 12*deg
	return d, ok && near && loft*(a.Apex-usual.Apex) >= 0
}

// order says which ball was which shot: set after set in an order of chance, or in
// turns of three.
func (t *Truth) order(turns bool, rng *rand.Rand) {
	left := make([]int, len(t.Shots))
	for i, s := range t.Shots {
		left[i] = s.Balls
	}
	for len(t.Of) == 0 || turns {
		before := len(t.Of)
		for _, i := range rng.Perm(len(left)) {
			n := left[i]
			if turns {
				n = min(n, 3)
			}
			for range n {
				t.Of = append(t.Of, i)
			}
			left[i] -= n
		}
		if len(t.Of) == before {
			return
		}
	}
}

func (t Truth) mirrored() Truth {
	t.Player.Hand = other(t.Player.Hand)
	t.Player.Wind.From = -t.Player.Wind.From
	for i, s := range t.Shots {
		s.Ask = s.Ask.mirrored()
		s.Needs.Face, s.Needs.Path = -s.Needs.Face, -s.Needs.Path
		s.Made.Face, s.Made.Path = -s.Made.Face, -s.Made.Path
		t.Shots[i] = s
	}
	for i, b := range t.Balls {
		t.Balls[i] = b.Mirrored()
	}
	return t
}
