package clubyear

import (
	"math"
	"math/rand/v2"
	"sync"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A golfer is how somebody swings, in their own frame: open and in-to-out are
// positive.
type golfer struct {
	world    string  // whose ball they hit and how it flies, of package panel
	speed    float64 // the driver's, m/s
	face     float64 // standard deviation of one ball, rad; the others go with it
	bias     float64 // usual face to path, rad
	improves float64 // what the logarithm of the scatter loses in a year
	wave     float64 // how far it goes up and down besides, three times a year
	phase    float64 // rad
}

// form is what makes a session other than the golfer's long run.
type form struct {
	aim   float64 // added to face and path, rad right of the target for everybody
	face  float64 // added to the face, own frame
	wide  float64 // times the scatter
	speed float64 // times the club speed
	wind  panel.Wind
}

// usual is how a club is delivered at a driver's 45 m/s: m/s, and rad of attack and
// dynamic loft.
func usual(c analysis.Club) (speed, attack, loft float64) {
	deg := analysis.Degree
	switch c.Family {
	case analysis.Driver:
		return 45, 1 * deg, 13.5 * deg
	case analysis.Wedge:
		return 33.5, -4 * deg, 36 * deg
	}
	return 37 - 0.7*float64(c.Number-7), -3.5 * deg, (24 + 2.6*float64(c.Number-7)) * deg
}

// numDraws is how many normal deviates make a ball: speed, attack, path, face,
// loft and strike across and up.
const numDraws = 7

type draw [numDraws]float64

// deliver is one ball. Scatter is about 1.1 deg of face for a scratch golfer and
// 2.9 deg at handicap 36; the rest keeps the proportions of a middling golfer.
func (g golfer) deliver(c analysis.Club, left bool, f form, z draw) analysis.Delivery {
	side := hand(left).Mirror()
	speed, attack, loft := usual(c)
	w := g.face * f.wide
	return analysis.Delivery{
		ClubSpeed:   speed * g.speed / 45 * f.speed * (1 + 0.6*w*z[0]),
		Attack:      attack + 0.6*w*z[1],
		Path:        f.aim + side*(0.9*w*z[2]-g.bias/2),
		Face:        f.aim + side*(w*(0.3*z[2]+0.954*z[3])+g.bias/2+f.face), // correlated 0.3
		DynamicLoft: loft + 0.6*w*z[4],
		StrikeToe:   0.25 * w * z[5], // 0.008 m where the face scatters 1.8 deg
		StrikeUp:    0.19 * w * z[6],
	}
}

func hand(left bool) analysis.Hand {
	if left {
		return analysis.LeftHanded
	}
	return analysis.RightHanded
}

var worlds = sync.OnceValue(func() map[string]*panel.World {
	all := map[string]*panel.World{}
	for _, w := range panel.Worlds() {
		all[w.Name] = w
	}
	return all
})

// reach is the share of the golfer's speed that carries the mean ball the target,
// 1 where their best does not.
func (m Member) reach(c analysis.Club, target float64) float64 {
	low, high := 0.3, 1.0
	carry := func(k float64) float64 {
		_, f := worlds()[m.golfer.world].Hit(c, hand(m.Left), m.golfer.deliver(c, m.Left, form{wide: 1, speed: k}, draw{}), panel.Wind{})
		return f.Carry
	}
	if target == 0 || carry(high) <= target {
		return high
	}
	for range 12 {
		if mid := (low + high) / 2; carry(mid) < target {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// at is the golfer so many years on.
func (g golfer) at(years float64) golfer {
	g.face *= math.Exp(-g.improves*years + g.wave*math.Sin(2*math.Pi*3*years+g.phase))
	return g
}

// hit is a session of n balls from start on, as the device reads them.
func (m Member) hit(c analysis.Club, n int, start time.Time, f form, rng *rand.Rand) Session {
	s := Session{Device: m.Device, Player: m.Name}
	at := start
	for i := range n {
		var z draw
		for k := range z {
			z[k] = rng.NormFloat64()
		}
		d := m.golfer.deliver(c, m.Left, f, z)
		l, fl := worlds()[m.golfer.world].Hit(c, hand(m.Left), d, f.wind)
		shot := m.Device.read(c, d, l, fl, rng)
		shot.N = i + 1
		s.Balls = append(s.Balls, Ball{shot, at})
		at = at.Add(time.Duration(25+rng.IntN(30)) * time.Second)
	}
	return s
}
