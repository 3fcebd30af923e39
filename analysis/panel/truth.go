package panel

import (
	"math"

	"rangepost/analysis"
)

// A Ball is what one ball really did.
type Ball struct {
	Delivery analysis.Delivery
	Launch   analysis.Launch
	Flight   Flight
	Split    Split
	// What wind and strike did to its lateral as it was delivered, m right: as
	// flown less the same ball in still air, and less the same struck in the
	// middle. Split has them with face and path at the target line.
	Wind, Strike float64
}

// A Truth is what a session really was, by the world's own flights.
type Truth struct {
	Case  Case
	Balls []Ball

	Sample  Split // mean over the session's balls
	LongRun Split // mean over the golfer's long run in this wind

	Mean        analysis.Delivery // mean over the session's balls
	LongRunMean analysis.Delivery // what the balls were drawn around
	Carry       float64           // long-run mean, m
	Zero        float64           // the practical zero of a miss, m

	// The change, rad, of face alone and of path alone that brings the long-run
	// mean to the target; NaN when none within 25 deg does.
	FaceAlone, PathAlone float64

	Label       Label   // owed to the long run
	Margin      float64 // how far it is from a neighbour's border; 0 is on it
	SampleLabel Label   // the same rules over the session's balls

	Start float64 // launch direction of the mean delivery's ball, rad right
	Curve float64 // its landing right of its start line in still air, m
	Drift float64 // what the wind adds to that, m

	Streak   float64 // correlation of a ball with the one before
	Wind     Wind
	WindTold bool
	Askew    float64 // added by the device to every direction it reads, rad
}

// hitter flies balls of one club in one session.
type hitter struct {
	world *World
	head  head
	hand  analysis.Hand
	wind  Wind
}

func (h hitter) flight(d analysis.Delivery, wind vec) (analysis.Launch, Flight) {
	l := h.world.meet(h.head, h.hand, d)
	return l, h.world.fly(l, wind)
}

func (h hitter) lateral(d analysis.Delivery, wind vec) float64 {
	_, f := h.flight(d, wind)
	return f.Lateral
}

// ball flies a delivery in the wind of the moment, and again without what is to
// be told apart.
func (h hitter) ball(d analysis.Delivery, gust float64) Ball {
	wind := h.wind.toward(gust)
	b := Ball{Delivery: d}
	b.Launch, b.Flight = h.flight(d, wind)
	b.Split = h.split(d, wind, b.Flight.Lateral)
	middle := d
	middle.StrikeToe, middle.StrikeUp = 0, 0
	b.Strike = b.Flight.Lateral - h.lateral(middle, wind)
	if wind != (vec{}) {
		b.Wind = b.Flight.Lateral - h.lateral(d, vec{})
	}
	return b
}

// settle works out everything that is not of a single ball.
func (t *Truth) settle(h hitter, p plan) {
	n := float64(len(t.Balls))
	for _, b := range t.Balls {
		t.Sample = t.Sample.plus(b.Split, 1/n)
		t.Mean = plus(t.Mean, b.Delivery, 1/n)
	}
	t.LongRunMean = p.mean
	run := h.longRun(p)
	for _, r := range run {
		_, f := h.flight(r.d, r.wind)
		t.Carry += f.Carry / float64(len(run))
		t.LongRun = t.LongRun.plus(h.split(r.d, r.wind, f.Lateral), 1/float64(len(run)))
	}
	t.Zero = max(3*analysis.Yard, 0.02*t.Carry)

	t.FaceAlone = h.alone(p, run, func(d *analysis.Delivery, by float64) { d.Face += by })
	t.PathAlone = h.alone(p, run, func(d *analysis.Delivery, by float64) { d.Path += by })

	t.Label, t.Margin = t.LongRun.owed(t.Zero, p.mean.Face, p.mean.Path)
	t.SampleLabel, _ = t.Sample.owed(t.Zero, t.Mean.Face, t.Mean.Path)

	l, still := h.flight(p.mean, vec{})
	t.Start = l.Direction
	t.Curve = still.Lateral - still.downrange*math.Tan(l.Direction)
	t.Drift = h.lateral(p.mean, h.wind.toward(1)) - still.Lateral
}

// flown is one ball of the long run.
type flown struct {
	d    analysis.Delivery
	wind vec
}

func (h hitter) longRun(p plan) []flown {
	var run []flown
	for _, z := range h.world.golfer.tail.points() {
		d := h.world.golfer.deliver(p.mean, h.hand, z, p.wide)
		gust := max(-2, min(2, z[drawGust]))
		run = append(run, flown{d, h.wind.toward(1 + p.gust*gust)})
	}
	return run
}

func plus(a, b analysis.Delivery, k float64) analysis.Delivery {
	a.ClubSpeed += k * b.ClubSpeed
	a.Attack += k * b.Attack
	a.Path += k * b.Path
	a.Face += k * b.Face
	a.DynamicLoft += k * b.DynamicLoft
	a.StrikeToe += k * b.StrikeToe
	a.StrikeUp += k * b.StrikeUp
	return a
}
