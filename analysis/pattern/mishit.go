package pattern

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// Mishits returns a copy of the set in which the balls that are not of its
// pattern are set aside as mishits. Only used balls are looked at: a misread
// stays what it is, and an earlier mishit too.
//
// A clean normal set has at most one chance in twenty of any flag, whatever its
// size. Balls with carry and lateral are judged from 6 balls on by their robust
// distance (stat.MinimumCovariance) and by the carry they lost; with 5, or with
// only one of the two numbers, by their distance from the median alone
// (stat.Hampel). Under 5 balls nothing is flagged: no ball is out of the
// question yet.
func Mishits(set analysis.Set) analysis.Set {
	set.Shots = append([]analysis.Shot(nil), set.Shots...)
	var both, lateral, carry group
	for i, s := range set.Shots {
		if s.Aside != analysis.Used {
			continue
		}
		y, hasY := s.Value(analysis.Lateral)
		x, hasX := s.Value(analysis.Carry)
		switch {
		case hasX && hasY:
			both.add(i, x, y)
		case hasY:
			lateral.add(i, y, 0)
		case hasX:
			carry.add(i, x, 0)
		}
	}
	for _, i := range both.far() {
		set.Shots[i] = flagged(set.Shots[i], both.usual())
	}
	// Balls with one number are a pattern of their own when none has both.
	if len(both.at) == 0 {
		for _, g := range []group{lateral, carry} {
			for _, i := range g.farInLine() {
				set.Shots[i] = flagged(set.Shots[i], carry.usual())
			}
		}
	}
	return set
}

// A mishit is far outside of the pattern and loses carry: three tenths, or an
// eighth where it lies much further than the balls of a normal pattern do (common
// practice, no source). A ball that carries as far as the others and finishes
// wide is one of the pattern, however wide: tails of honest patterns are heavier
// than the normal curve's, and a slice is skewed.
const (
	leastLost    = 0.3
	leastLostFar = 0.125
	muchFurther  = 3 // in squared distance
)

// flagged sets a ball aside among balls that usually carry so far, 0 where no
// carry is known, and says as much as that tells.
func flagged(s analysis.Shot, usual float64) analysis.Shot {
	s.Aside, s.Why = analysis.Mishit, "finished far outside the pattern of the other balls"
	if carry, ok := s.Value(analysis.Carry); ok && carry < (1-leastLostFar)*usual {
		s.Why = "fell short of the other balls, far outside their pattern"
	}
	return s
}

// group is some shots by their place in the set, with one or two numbers each.
type group struct {
	at   []int
	x, y []float64
}

func (g *group) add(i int, x, y float64) {
	g.at = append(g.at, i)
	g.x = append(g.x, x)
	g.y = append(g.y, y)
}

// usual is the middle of the group's first number.
func (g *group) usual() float64 {
	m, _ := stat.Median(g.x)
	return m
}

func (g *group) far() []int {
	cut, ok := stat.MCDCut(len(g.at))
	if !ok {
		return g.farInEither()
	}
	m, ok := stat.MinimumCovariance(g.x, g.y)
	if !ok {
		return nil
	}
	usual := g.usual()
	var far []int
	for k, d2 := range m.D2 {
		lost := 1 - g.x[k]/usual
		if d2 > cut && lost > leastLost || d2 > muchFurther*cut && lost > leastLostFar {
			far = append(far, g.at[k])
		}
	}
	return far
}

// pairOfFive is the distance from the median, in MAD, that a clean normal set
// of five exceeds in either of two numbers with a chance of 5 % (simulated,
// 200,000 sets).
const pairOfFive = 11.49

// farInEither looks at the two numbers of five balls one by one: too few for a
// robust covariance.
func (g *group) farInEither() []int {
	zx, okX := stat.Hampel(g.x)
	zy, okY := stat.Hampel(g.y)
	if len(g.at) != 5 || !okX || !okY {
		return nil
	}
	var far []int
	for k := range g.at {
		if math.Abs(zx[k]) > pairOfFive || math.Abs(zy[k]) > pairOfFive {
			far = append(far, g.at[k])
		}
	}
	return far
}

func (g *group) farInLine() []int {
	cut, ok := stat.HampelCut(len(g.at))
	z, okZ := stat.Hampel(g.x)
	if !ok || !okZ {
		return nil
	}
	var far []int
	for k := range z {
		if math.Abs(z[k]) > cut {
			far = append(far, g.at[k])
		}
	}
	return far
}
