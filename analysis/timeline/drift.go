package timeline

import (
	"math"
	"time"

	"rangepost/analysis/stat"
)

const (
	charted = 8  // fewest sessions a chart is drawn of
	settled = 20 // sessions from which its limits count as known

	// A shift is looked for after every session, at every one of the last
	// lately it may have begun with, with at least two sessions since; it is
	// told where a step there has a p under alarm. At that a player whose level
	// walks by 0.2 degrees a session, whose session means wander by 0.8, is said
	// to drift once in a hundred sessions at most [C] (TestSimulatedStableSessions).
	lately = 12
	least  = 5 // sessions before it
	since  = 2 // sessions since
	alarm  = 0.004

	// A lesson that comes after more than so many sessions without one explains
	// a shift that begins with it; one of many does not.
	routine = 8
)

// drift follows the level from session to session and keeps the shift that
// stands: against the level before it, until the level comes back or somebody
// has noted it. Candidates are weighed as in a generalised likelihood ratio
// (Willsky & Jones 1976, IEEE Trans. Autom. Control 21:108 [M]), each under
// every walk.
func (m *model) drift(stretches []stretch, noted []time.Time) Drift {
	n := len(m.sessions)
	d := Drift{Out: -1}
	if n < charted {
		return d
	}
	y, v := m.means(0, n)
	w, known := make([]float64, n), stat.Known{DF: wanderSays}
	varies := false
	for i := range w {
		w[i] = wander*wander*m.within + v[i]
		known.Scale += w[i] / float64(n)
		varies = varies || y[i] != y[0]
	}
	if !varies { // no session differs from another
		return d
	}
	for i := range w {
		if w[i] /= known.Scale; !(known.Scale > 0) {
			w[i] = 1
		}
	}
	d.OK, d.Watch = true, n < settled
	d.EWMA, d.Low, d.High = make([]float64, n), make([]float64, n), make([]float64, n)
	d.Target = y[0]
	f := follower{y: y, w: w, known: known, was: make([][]state, n), off: m.airDoubt}
	found := -1  // the session that told the shift that stands
	moved := 0.0 // how far it went
	leads := -1  // until when the level is watched for coming back
	acknowledged := func() bool {
		for _, at := range noted {
			if found >= 0 && !at.Before(m.sessions[found].At) {
				return true
			}
		}
		return false
	}
	for k := range n {
		f.step(k)
		if k+1 >= charted {
			if at, ok := f.shift(k); ok {
				before := f.level(at - 1)
				f.restart(at, k)
				now := f.level(k)
				stands := d.Out >= 0 && !acknowledged()
				switch {
				case stands && math.Abs(now-before) < math.Abs(before-d.Target) || stands && math.Abs(now-d.Target) < moved/2:
					// The greater shift goes on, unless this one leads back: that its
					// first sessions do not tell.
					leads = k + lately
				case explained(stretches, at):
					d.Out, found = -1, -1
				default:
					d.Out, found, d.Target, moved = at, k, before, math.Abs(now-before)
				}
			}
		}
		d.EWMA[k] = f.level(k)
		if d.Out >= 0 && k <= leads && math.Abs(d.EWMA[k]-d.Target) < moved/3 {
			d.Out, found = -1, -1 // it came back
		}
		back := max(0, k-lately)
		if d.Out < 0 {
			d.Target = d.EWMA[back]
		}
		half := sigmas * math.Hypot(f.spread(k, back), m.sessions[k].AirDoubt-m.sessions[back].AirDoubt)
		d.Low[k], d.High[k] = d.Target-half, d.Target+half
	}
	if acknowledged() {
		d.Out = -1
	}
	return d
}

// sigmas are from the level before to either limit of the chart.
const sigmas = 3

// explained reports whether a shift begins with a lesson that came after a
// pause.
func explained(stretches []stretch, at int) bool {
	for i, s := range stretches {
		pause := s.from
		if i > 0 {
			pause -= stretches[i-1].at
		}
		if pause > routine && at >= s.from-1 && at <= s.at+side-1 {
			return true
		}
	}
	return false
}

// state is the filter of one walk after a session.
type state struct {
	a, p       float64           // level and its variance, over scale
	n          int               // innovations
	logF, rss  float64           // their log variances and squares
	candidates [lately]candidate // by session, modulo their number
}

// candidate is a step that began with one of the last sessions: what the
// filter leaves of it, and its products with itself and with the readings.
type candidate struct{ a, xx, xy float64 }

// follower runs the filter of each walk alongside, and remembers.
type follower struct {
	y, w  []float64
	known stat.Known
	was   [][]state                  // after each session, for every walk
	off   func(from, to int) float64 // what one air may make of sessions [from, to)
	begun int                        // the session since which the level is followed
}

// none are candidates before there can be one: what begins with the level
// itself is no step.
var none = func() (all [lately]candidate) {
	for i := range all {
		all[i].a = 1
	}
	return all
}()

// step takes session k in. The level is unknown before the first.
func (f *follower) step(k int) {
	f.was[k] = make([]state, len(walks))
	for i, walk := range walks {
		s := &f.was[k][i]
		if k == 0 {
			s.a, s.p, s.candidates = f.y[0], f.w[0]+walk.value, none
			continue
		}
		*s = f.was[k-1][i]
		s.take(f.y[k], f.w[k], walk.value, k)
	}
}

func (s *state) take(y, w, q float64, k int) {
	total := s.p + w
	gain, v := s.p/total, y-s.a
	s.candidates[k%lately] = candidate{}
	for j := range s.candidates {
		c := &s.candidates[j]
		x := 1 - c.a
		c.a += gain * x
		c.xx += x * x / total
		c.xy += x * v / total
	}
	s.n++
	s.logF += math.Log(total)
	s.rss += v * v / total
	s.a += gain * v
	s.p = s.p*(1-gain) + q
}

// restart makes the level unknown anew at session at, with k the latest.
func (f *follower) restart(at, k int) {
	for i, walk := range walks {
		s := f.was[at-1][i]
		s.a, s.p = f.y[at], f.w[at]+walk.value
		s.candidates = none
		f.was[at][i] = s
		for t := at + 1; t <= k; t++ {
			s.take(f.y[t], f.w[t], walk.value, t)
			f.was[t][i] = s
		}
	}
	f.begun = at
}

// shift is where a shift began that session k tells; ok is false if it tells
// none.
func (f *follower) shift(k int) (at int, ok bool) {
	best := alarm
	for from := max(f.begun+least, k-lately+1); from <= k+1-since; from++ {
		m := stat.StudentMixture{}
		most, far := math.Inf(-1), 0.0
		off := f.off(from, k+1) - f.off(f.begun, from)
		for i, walk := range walks {
			s := f.was[k][i]
			c := s.candidates[from%lately]
			df := s.n - 1 + f.known.DF
			if !(c.xx > 1e-10) || df < 1 {
				continue
			}
			b := c.xy / c.xx
			rss := max(s.rss-b*c.xy, 0) + float64(f.known.DF)*f.known.Scale
			if !(rss > 0) {
				continue
			}
			log := math.Log(walk.chance) - (s.logF+math.Log(c.xx)+float64(df)*math.Log(rss))/2
			most = max(most, log)
			m.Mean, m.Weight, m.DF = append(m.Mean, b), append(m.Weight, log), df
			m.SE = append(m.SE, math.Hypot(math.Sqrt(rss/float64(df)/c.xx), off))
			far = max(far, math.Abs(b)/m.SE[len(m.SE)-1])
		}
		if far < 2.5 { // no p is that small
			continue
		}
		sum := 0.0
		for i, log := range m.Weight {
			m.Weight[i] = math.Exp(log - most)
			sum += m.Weight[i]
		}
		for i := range m.Weight {
			m.Weight[i] /= sum
		}
		if p := m.Sided(); p < best {
			best, at, ok = p, from, true
		}
	}
	return at, ok
}

// usualWalk is the walk the level is drawn under.
const usualWalk = 3

// level is the level after session k, as told by then.
func (f *follower) level(k int) float64 { return f.was[k][usualWalk].a }

// spread is the standard deviation of how far the level may have walked from
// session back to k.
func (f *follower) spread(k, back int) float64 {
	s := f.was[k][usualWalk]
	df := s.n + f.known.DF
	if df < 1 {
		return 0
	}
	scale := (s.rss + float64(f.known.DF)*f.known.Scale) / float64(df)
	return math.Sqrt(scale * (s.p + walks[usualWalk].value*float64(k-back)))
}
