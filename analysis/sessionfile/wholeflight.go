package sessionfile

import (
	"cmp"
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// The ends of a flight that files give and the flight model makes.
const (
	endCarry = iota
	endApex
	endTime
	endDescent
	numEnds
)

var endFields = [numEnds]field{carry, apex, flightTime, descent}

// ends are a landing's, as logarithms.
func ends(to flight.Landing) [numEnds]float64 {
	return [numEnds]float64{math.Log(to.Carry), math.Log(to.Apex), math.Log(to.Time), math.Log(math.Tan(to.Descent))}
}

// A wholeFlight is a session whose flights were compared with the model's: by how
// much the middle of each end is off, and how far each may be. Balls, air, wind
// and devices are off all ends together, each in its own way; an open unit
// is off one. So the ends tell units apart that one of them alone would not: a ball as
// high and as long in the air as the model's went as far.
type wholeFlight struct {
	off [numEnds]float64 // logarithm of what is written, over the model's; NaN where nothing is
	cov [numEnds][numEnds]float64
}

// What sessions are off the model by, as standard deviations. Those of lift and
// drag are in units of flight.LiftSpread and DragSpread, wider than production
// balls lie apart to hold range balls, thin air and the models of devices; the
// rest is common practice, no source.
const (
	liftOff, dragOff = 1.2, 1.8
	windOff          = 1.5 // m/s along the target line
	speedOff         = 0.01
	launchOff        = 0.02
	spinOff          = 0.04
	speedUnmeasured  = 0.06 // of the club's speed
	spinUnmeasured   = 0.35
	mostCompared     = 24 // balls compared
)

// endOff is what each end is off by on its own, as a logarithm.
var endOff = [numEnds]float64{0.015, 0.025, 0.015, 0.03}

// compareFlights compares the flights of a session with the model's; nil if speed or launch
// are not known, or there is nothing to compare.
func compareFlights(byField map[field]*column) *wholeFlight {
	known := func(fs ...field) []float64 {
		for _, f := range fs {
			if c := byField[f]; c != nil && readable(*c) && c.count() > 0 {
				return c.rightward()
			}
		}
		return nil
	}
	speeds, offSpeed := known(ballSpeed), speedOff
	if speeds == nil {
		if speeds = known(clubSpeed); speeds == nil {
			return nil
		}
		speeds, offSpeed = mix(speeds, 1.4, speeds, 0), speedUnmeasured
	}
	launches, spins, axes := known(launch), known(spin, backSpin), known(spinAxis)
	if launches == nil {
		return nil
	}
	offSpin := spinOff
	if spins == nil {
		offSpin = spinUnmeasured
	}
	type ball struct {
		row    int
		launch analysis.Launch
	}
	var all []ball
	for i, v := range speeds {
		l := analysis.Launch{Speed: v, Angle: launches[i], Spin: byField[launch].usually(spin, i, 5000*analysis.RevPerMinute)}
		if spins != nil {
			l.Spin = spins[i]
		}
		if axes != nil && !math.IsNaN(axes[i]) {
			l.Axis = axes[i]
		}
		if sane(l) {
			all = append(all, ball{i, l})
		}
	}
	// Of many, some of all speeds do, whatever order they stand in.
	slices.SortFunc(all, func(a, b ball) int {
		return cmp.Or(cmp.Compare(a.launch.Speed, b.launch.Speed), cmp.Compare(a.launch.Angle, b.launch.Angle), cmp.Compare(a.launch.Spin, b.launch.Spin), cmp.Compare(a.launch.Axis, b.launch.Axis))
	})
	var gaps [numEnds][]float64
	var balls []analysis.Launch
	m := flight.Standard()
	for k := range min(len(all), mostCompared) {
		picked := all[k*len(all)/min(len(all), mostCompared)]
		i, l := picked.row, picked.launch
		balls = append(balls, l)
		made := ends(m.Fly(l))
		for k, f := range endFields {
			c := byField[f]
			if c == nil || !c.cells[i].ok || c.cells[i].v <= 0 {
				continue
			}
			w := c.cells[i].v
			if c.unitKnown() && !c.cells[i].si {
				w = c.unit.si(w)
			}
			if k == endDescent {
				if !readable(*c) || w > 85*degree {
					continue
				}
				w = math.Tan(w)
			}
			gaps[k] = append(gaps[k], math.Log(w)-made[k])
		}
	}
	f := &wholeFlight{}
	compared := 0
	for k := range gaps {
		f.off[k] = math.NaN()
		if len(gaps[k]) >= 3 || len(gaps[k]) == len(balls) && len(balls) > 0 {
			f.off[k] = median(gaps[k])
			compared++
		}
	}
	if compared == 0 {
		return nil
	}
	f.slopes(balls, offSpeed, offSpin)
	return f
}

// slopes works out how far the ends may be off together: the slopes of the
// model at a few of the balls, times what each thing may be off by.
func (f *wholeFlight) slopes(balls []analysis.Launch, offSpeed, offSpin float64) {
	standard := flight.Standard()
	lift, drag, wind := standard.Off(liftOff, 0, 0, 0, 0), standard.Off(0, 0, dragOff, 0, 0), standard
	wind.Wind = flight.Wind{Speed: windOff}
	ways := []func(analysis.Launch) flight.Landing{
		func(l analysis.Launch) flight.Landing { return lift.Fly(l) },
		func(l analysis.Launch) flight.Landing { return drag.Fly(l) },
		func(l analysis.Launch) flight.Landing { return wind.Fly(l) },
		func(l analysis.Launch) flight.Landing { l.Speed *= math.Exp(offSpeed); return standard.Fly(l) },
		func(l analysis.Launch) flight.Landing { l.Angle *= math.Exp(launchOff); return standard.Fly(l) },
		func(l analysis.Launch) flight.Landing { l.Spin *= math.Exp(offSpin); return standard.Fly(l) },
	}
	for k := range f.cov {
		f.cov[k][k] = endOff[k] * endOff[k]
	}
	at := []int{0, len(balls) / 2, len(balls) - 1}
	at = slices.Compact(at)
	for _, way := range ways {
		var slope [numEnds]float64
		for _, i := range at {
			base, moved := ends(standard.Fly(balls[i])), ends(way(balls[i]))
			for k := range slope {
				slope[k] += (moved[k] - base[k]) / float64(len(at))
			}
		}
		for a := range slope {
			for b := range slope {
				f.cov[a][b] += slope[a] * slope[b]
			}
		}
	}
}

// bears is how well the flights bear out scales of the carry and the apex, in
// units of log likelihood; one that is settled has scale 1. Its tails are those
// of Student's distribution, because what no scale explains should decide nothing.
func (f *wholeFlight) bears(ofCarry, ofApex float64) float64 {
	scales := [numEnds]float64{endCarry: math.Log(ofCarry), endApex: math.Log(ofApex)}
	const freedom = 6
	var l [numEnds][numEnds]float64 // Cholesky, of the ends that are there
	var z [numEnds]float64
	sum, n := 0.0, 0
	for a := range numEnds {
		if math.IsNaN(f.off[a]) {
			continue
		}
		n++
		rest := f.off[a] + scales[a]
		for b := range a {
			if math.IsNaN(f.off[b]) {
				continue
			}
			s := f.cov[a][b]
			for k := range b {
				s -= l[a][k] * l[b][k]
			}
			l[a][b] = s / l[b][b]
			rest -= l[a][b] * z[b]
		}
		s := f.cov[a][a]
		for k := range a {
			s -= l[a][k] * l[a][k]
		}
		l[a][a] = math.Sqrt(s)
		z[a] = rest / l[a][a]
		sum += z[a] * z[a]
	}
	return -0.5 * (freedom + float64(n)) * math.Log1p(sum/freedom)
}

// inUnit is how well the flights bear out a column of carries or heights in a
// unit. Where heights are open beside open carries, they are in whichever unit
// goes with those best.
func (f *wholeFlight) inUnit(c *column, u unit, byField map[field]*column) float64 {
	if c.field == apex {
		return f.bears(1, u.scale)
	}
	heights := byField[apex]
	if heights == nil || !unitless(*heights) {
		return f.bears(u.scale, 1)
	}
	best := math.Inf(-1)
	for _, name := range heightUnits {
		v := unitNamed(name, length)
		best = max(best, f.bears(u.scale, v.scale)+besides[kin{u.name, true, name}])
	}
	return best
}
