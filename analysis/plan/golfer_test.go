package plan_test

import (
	"math"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/plan"
)

// golfer hits planned trials. Angles in degrees.
type golfer struct {
	effect   []float64 // on the face, of each set
	setup    float64   // standard deviation of a setup made anew
	streak   float64   // how far a ball resembles the one before
	day      float64   // standard deviation from visit to visit
	tiring   float64   // of the face over a visit
	heavy    bool      // tails of Student's t with 3 degrees of freedom
	missed   float64   // share of the balls the device misses
	paths    float64   // how much of the face's effect the path has
	perVisit int       // turns a visit; 0 as the card says
}

const faceSD = 1.8

// hit is the whole card, visit by visit.
func (g golfer) hit(p plan.Plan, rng *rand.Rand) []plan.Placed {
	var visits []plan.Placed
	tail := func() float64 {
		z := rng.NormFloat64()
		if g.heavy {
			chi := 0.0
			for range 3 {
				x := rng.NormFloat64()
				chi += x * x
			}
			z /= math.Sqrt(chi)
		}
		return z
	}
	last, n := [6]float64{}, 0
	day, turns := [6]float64{}, 0
	for i, turn := range p.Turns {
		v := turn.Visit
		if g.perVisit > 0 {
			v = i / g.perVisit
		}
		if v == len(visits) {
			visits = append(visits, plan.Placed{})
			n = 0
			turns = 0
			for k := range day {
				day[k] = g.day * rng.NormFloat64()
			}
			for j, t := range p.Turns {
				if g.perVisit > 0 && j/g.perVisit == v || g.perVisit == 0 && t.Visit == v {
					turns++
				}
			}
		}
		effect := 0.0
		if turn.Set < len(g.effect) {
			effect = g.effect[turn.Set]
		}
		anew := [6]float64{}
		for k := range anew {
			anew[k] = g.setup * rng.NormFloat64()
		}
		for range turn.Balls {
			for k := range last {
				last[k] = g.streak*last[k] + math.Sqrt(1-g.streak*g.streak)*tail()
			}
			n++
			tired := g.tiring * float64(n) / float64(turns*turn.Balls)
			if rng.Float64() < g.missed {
				continue
			}
			face := effect + tired + faceSD*last[0] + anew[0] + day[0]
			path := g.paths*effect + 1.8*(0.4*last[0]+0.9*last[1]) + anew[1] + day[1]
			speed := 38 + 0.7*last[2] + 0.4*day[2]
			s := analysis.Shot{N: len(visits[v].Turn) + 1, Club: p.Club}.
				With(analysis.Face, face*analysis.Degree).With(analysis.Path, path*analysis.Degree).
				With(analysis.Attack, (-4+last[3]+anew[2]+day[3])*analysis.Degree).
				With(analysis.DynamicLoft, (24+1.4*last[4]+anew[3]+day[4])*analysis.Degree).
				With(analysis.ClubSpeed, speed).With(analysis.Carry, 3.5*speed+4*last[5]).
				With(analysis.Lateral, 4*face-1.6*path+3*last[5]).Derived()
			visits[v].Session.Shots = append(visits[v].Session.Shots, s)
			visits[v].Turn = append(visits[v].Turn, i)
		}
	}
	return visits
}

// upTo is what had been hit when so many blocks were.
func upTo(p plan.Plan, visits []plan.Placed, blocks int) []plan.Placed {
	var all []plan.Placed
	for _, v := range visits {
		var cut plan.Placed
		for i, at := range v.Turn {
			if at == plan.Nowhere || p.Turns[at].Block < blocks {
				cut.Session.Shots = append(cut.Session.Shots, v.Session.Shots[i])
				cut.Turn = append(cut.Turn, at)
			}
		}
		all = append(all, cut)
	}
	return all
}

// worths are the simulated golfer's, m of carry lateral a rad: see hit.
var worths = plan.Worths{Face: 4 / analysis.Degree, Path: -1.6 / analysis.Degree, Doubt: 0.04}
