package cause

import (
	"rangepost/analysis"
)

// Config is what the judgement rests on besides the balls. The zero Config is
// a right-handed golfer in standard still air, judged against the target line.
type Config struct {
	Hand       analysis.Hand
	Ball       analysis.Ball
	Conditions analysis.Conditions
	Target     float64 // carry aimed at, m; 0 when not said, and then distance has no cause
	HalfWidth  float64 // m, of the target; 0 is the larger of 5 yd and 7 % of carry

	RefFace, RefPath float64 // rad, what deliveries are judged against: the coach's brief, or the target line

	// Responses are what tools do to this student's delivery, learned from
	// their trials and those of their coach's students. A tool not among them is
	// judged by the trade's prior.
	Responses map[analysis.Tool]Response

	// Usual is the golfer's usual with each club in earlier sessions, which a miss
	// in length is set against. A club without one has the set itself.
	Usual map[analysis.Club]Usual

	Seed  uint64  // of the sampled limits
	Draws int     // samples; 0 is DefaultDraws
	Level float64 // probability a verdict needs; 0 is DefaultLevel
}

// What a Config that does not say is judged with.
const (
	DefaultDraws = 2000
	DefaultLevel = 0.8
)

func (c Config) draws() int {
	if c.Draws <= 0 {
		return DefaultDraws
	}
	return c.Draws + c.Draws%2
}

func (c Config) level() float64 {
	if c.Level <= 0 || c.Level >= 1 {
		return DefaultLevel
	}
	return c.Level
}

// practicalZero is the miss that is no miss: the larger of 3 yd and 2 % of
// carry.
func practicalZero(carry float64) float64 { return max(3*analysis.Yard, 0.02*carry) }

// HalfWidthAt is the target's half-width, m, at a carry, m; when none was said
// 7 % of the distance
// is about half a green at an iron's distance and half a fairway at a driver's
// (common practice, no source), and some one and a half standard deviations of
// the best players' approach shots (James & Rees 2008, median error 4.6 to
// 5.3 % of the distance [S]).
func (c Config) HalfWidthAt(carry float64) float64 {
	if c.HalfWidth > 0 {
		return c.HalfWidth
	}
	return max(5*analysis.Yard, 0.07*carry)
}
