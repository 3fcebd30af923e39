package panel

import (
	"rangepost/analysis"
)

// A World is one way balls may really fly and golfers really swing.
type World struct {
	Name    string
	HeldOut bool // nothing is ever tuned on it
	Ball    analysis.Ball

	air     air
	law     airLaw
	decay   decay
	contact contact
	change  func(c analysis.Club, h *head) // what its heads differ by; nil for nothing
	golfer  golfer
	device  device
	wind    breeze
	told    bool // sessions state temperature and altitude
	kelvin  float64
	metres  float64
}

// Clubs lists the clubs every world's golfer hits.
func Clubs() []analysis.Club {
	return []analysis.Club{
		{Family: analysis.Driver},
		{Family: analysis.Wood, Number: 3},
		{Family: analysis.Hybrid, Number: 4},
		{Family: analysis.Iron, Number: 5},
		{Family: analysis.Iron, Number: 7},
		{Family: analysis.Wedge, Wedge: "pw"},
		{Family: analysis.Wedge, Wedge: "56"},
	}
}

// Hit is the launch and the flight of a delivery in this world, in a wind:
// what a harness needs to try a correction.
func (w *World) Hit(c analysis.Club, hand analysis.Hand, d analysis.Delivery, wind Wind) (analysis.Launch, Flight) {
	l := w.strike(c, hand, d)
	return l, w.fly(l, wind.toward(1))
}

// WorldNamed is the world of that name, nil when there is none.
func WorldNamed(name string) *World {
	for _, w := range Worlds() {
		if w.Name == name {
			return w
		}
	}
	return nil
}

// Wild reports whether one in twelve of the readings of the world's device is
// four times as noisy as the rest: what is set aside of those is no false alarm.
func (w *World) Wild() bool { return w.device.heavy }

func (w *World) head(c analysis.Club) head {
	h := heads(c)
	if w.Ball == analysis.RangeBall {
		h.restore -= 0.02 // harder, slower: common practice, no source
	}
	if w.change != nil {
		w.change(c, &h)
	}
	return h
}

// conditions is what the session says of its air.
func (w *World) conditions(p plan) analysis.Conditions {
	var c analysis.Conditions
	if w.told {
		kelvin, metres := w.kelvin, w.metres
		c.Temperature, c.Altitude = &kelvin, &metres
	}
	if p.told {
		c.WindSpeed, c.WindFrom = &p.wind.Speed, &p.wind.From
	}
	return c
}
