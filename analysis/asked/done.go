package asked

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/cause"
	"rangepost/analysis/stat"
)

// called is the probability from which a ball is not too close to call, and sure
// the one that a reason needs.
const (
	called = 0.7
	sure   = 0.8
)

// A Ball is what one ball did of what was asked.
type Ball struct {
	N     int // of the shot
	Used  bool
	Known bool // its flight tells every part that was asked for
	P     float64
	Parts [NumParts]float64 // the probability that each was inside its width
}

// Did reports whether the ball did the shot as far as can be told.
func (b Ball) Did() bool { return b.Known && b.P >= 0.5 }

// Close reports whether it came too near to an edge to call.
func (b Ball) Close() bool { return b.Known && b.P > 1-called && b.P < called }

// Judge says of one ball's flight whether it did the shot.
func (w Want) Judge(s cause.Seen) Ball {
	b := Ball{N: s.N, Used: s.Used, Known: true, P: 1}
	flight, sd, common := parts(s.Flight), parts(s.SD), parts(s.Common)
	for p, band := range w {
		if b.Parts[p] = 1; !band.OK {
			continue
		}
		if math.IsNaN(flight[p]) || math.IsNaN(sd[p]) {
			b.Known, b.Parts[p] = false, 0
			continue
		}
		off := sd[p]
		if !band.Relative {
			off = math.Hypot(off, common[p])
		}
		b.Parts[p] = within(band, flight[p], off)
		b.P *= b.Parts[p]
	}
	return b
}

func parts(f ball.Flight) [NumParts]float64 {
	return [NumParts]float64{f.Start, f.Curve, f.Apex, f.Carry}
}

// within is the probability that a normal with this mean and deviation lies in a
// band.
func within(b Band, mean, sd float64) float64 {
	if sd == 0 {
		if b.Holds(mean) {
			return 1
		}
		return 0
	}
	n := distuv.Normal{Mu: mean, Sigma: sd}
	return n.CDF(b.High) - n.CDF(b.Low)
}

// A Result is what a set did of the shot it was asked for.
type Result struct {
	Shot  Shot
	Want  Want
	Balls []Ball

	Done, Of, Close     int     // balls that did it, of those whose flight tells; too close to call
	Share               float64 // Done over Of
	ShareLow, ShareHigh float64 // 95 %; 0 to 1 without balls

	Flight [NumParts]analysis.Estimate // of the balls in use; N is 0 where nothing tells
	Why    Why                         // of balls that did not
}

// A Reason is what the balls that did not do the shot have in common.
type Reason string

// The reasons.
const (
	NoReason Reason = ""          // none is asked for: nearly all did it, or none is known
	Off      Reason = "off"       // the mean of the balls is outside the width
	Scatter  Reason = "scatter"   // the mean is inside, single balls are not
	TooFew   Reason = "too_few"   // the balls do not tell which of the two
	Unknown  Reason = "not_known" // no flight tells
)

// Why is why balls did not do the shot.
type Why struct {
	Reason     Reason
	Part       Part    // that failed most
	Confidence float64 // of Off or Scatter
	SD         float64 // of single balls in that part

	// For Off: the number of the delivery that answers for the part, what it was,
	// and what this shot needs of it; By is the change. N is 0 where the delivery is
	// not known.
	Number      analysis.Number
	Was, To, By analysis.Estimate
}

// nearly is the share of balls from which on no reason is looked for, and fewest
// the balls without which none is given.
const (
	nearly = 0.9
	fewest = 5
)

// Of says what a set did of a shot. The swing is of the set itself.
func Of(shot Shot, want Want, swing cause.Swing) Result {
	r := Result{Shot: shot, Want: want, ShareHigh: 1}
	var did []float64
	var used [NumParts][]float64
	for _, s := range swing.Balls {
		b := want.Judge(s)
		r.Balls = append(r.Balls, b)
		if b.Used {
			for p, v := range parts(s.Flight) {
				if !math.IsNaN(v) {
					used[p] = append(used[p], v)
				}
			}
		}
		if !b.Known {
			continue
		}
		r.Of++
		done := 0.0
		if b.Did() {
			done = 1
			r.Done++
		}
		if b.Close() {
			r.Close++
		}
		did = append(did, done)
	}
	for p := range used {
		r.Flight[p] = stat.StreakOf(used[p]).Mean(used[p])
	}
	if r.Of == 0 {
		r.Why.Reason = Unknown
		return r
	}
	r.Share = float64(r.Done) / float64(r.Of)
	counted := stat.StreakAcross([][]float64{did}).For(len(did)).Effective()
	r.ShareLow, r.ShareHigh = stat.WilsonCounted(r.Share, counted, 0.95)
	r.Why = r.why(swing)
	return r
}

// Mean is the mean flight of the balls in use; NaN where nothing tells it.
func (r Result) Mean() ball.Flight {
	var at [NumParts]float64
	for p, e := range r.Flight {
		if at[p] = e.Mean; e.N == 0 {
			at[p] = math.NaN()
		}
	}
	return ball.Flight{Start: at[Start], Curve: at[Curve], Apex: at[Height], Carry: at[Carry], Lateral: math.NaN()}
}

// Mark is the shots with whether each did the shot, where its flight tells.
func (r Result) Mark(shots []analysis.Shot) []analysis.Shot {
	did := map[int]float64{}
	for _, b := range r.Balls {
		if b.Known {
			did[b.N] = 0
			if b.Did() {
				did[b.N] = 1
			}
		}
	}
	marked := slices.Clone(shots)
	for i, s := range marked {
		if v, known := did[s.N]; known {
			marked[i] = s.With(analysis.AskedDone, v)
		}
	}
	return marked
}

// why looks for what the balls that failed have in common.
func (r *Result) why(swing cause.Swing) (w Why) {
	if r.Share >= nearly {
		return w
	}
	var failed [NumParts]float64
	for _, b := range r.Balls {
		if b.Known && b.Used {
			for p, v := range b.Parts {
				failed[p] += 1 - v
			}
		}
	}
	for p := range failed {
		if failed[p] > failed[w.Part] {
			w.Part = Part(p)
		}
	}
	e, band := r.Flight[w.Part], r.Want[w.Part]
	w.Reason, w.SD = TooFew, e.SD
	if e.N < fewest || !e.OK {
		return w
	}
	se := math.Hypot((e.High-e.Low)/2/stat.StudentQuantile(0.975, e.N-1), parts(swing.FlightOff)[w.Part])
	mean := distuv.StudentsT{Mu: e.Mean, Sigma: max(se, 1e-9), Nu: float64(e.N - 1)}
	below, above := mean.CDF(band.Low), mean.Survival(band.High)
	inside := 1 - below - above
	switch off := max(below, above); {
	case inside >= sure:
		w.Reason, w.Confidence = Scatter, inside
	case off >= sure:
		w.Reason, w.Confidence = Off, off
		w.answer(swing, r.Want)
	}
	return w
}

// answer says what of the delivery answers for the part (Part.Number), where the
// limits of what it has to move are on one side.
func (w *Why) answer(swing cause.Swing, want Want) {
	need := swing.Reach(want.Goal())
	if !need.OK {
		return
	}
	n := w.Part.Number()
	if by := need.By[n]; by.OK && by.Excludes(0) {
		w.Number, w.Was, w.To, w.By = n, swing.Delivery[n], need.To[n], by
	}
}
