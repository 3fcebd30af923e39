package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// pauses are the times between balls made ready to tell courses apart: somebody
// who sets up otherwise for a turn, or begins with the card, may pause before it.
type pauses struct {
	// gain is, for each share of the changes of set before which a golfer pauses,
	// the logarithm of how much likelier the time before a slot is if a turn of
	// another set begins there; 0 where it is not known.
	gain [len(pausing)][]float64
}

// pausing are the shares of changes before which a golfer may pause, as likely as
// each other but for the first, which is as likely as the rest together (common
// practice, no source).
var pausing = [...]float64{0, 0.3, 0.6, 0.9}

// newPauses makes a file's times ready; ok is false if it says too few.
func newPauses(shots []analysis.Shot, slot []int, slots int) (p pauses, ok bool) {
	var logs []float64
	direct := func(i int) bool { return i > 0 && shots[i].Pause > 0 && slot[i] == slot[i-1]+1 }
	for i := range shots {
		if direct(i) {
			logs = append(logs, math.Log(shots[i].Pause))
		}
	}
	if len(logs) < 8 || 2*len(logs) < len(shots) {
		return p, false
	}
	slices.Sort(logs)
	middle := logs[len(logs)/2]
	for i := range logs {
		logs[i] = math.Abs(logs[i] - middle)
	}
	slices.Sort(logs)
	spread := max(0.1, 1.4826*logs[len(logs)/2])
	for k := range p.gain {
		p.gain[k] = make([]float64, slots)
	}
	for i := range shots {
		if !direct(i) {
			continue
		}
		z := (math.Log(shots[i].Pause) - middle) / spread
		ratio := pauseRatio(z)
		for k, r := range pausing {
			p.gain[k][slot[i]] = math.Log(1 - r + r*ratio)
		}
	}
	return p, true
}

// pauseRatio is how much likelier a time is as a pause than as any time between two
// balls: from half a spread above the middle up to longest a pause is as likely to
// be any; other times are Student's t of three degrees of freedom, since people
// stop for all sorts of things.
func pauseRatio(z float64) float64 {
	const shortest, longest = 0.5, 6
	if z < shortest {
		return 0
	}
	z = min(z, longest)
	t := 1 + z*z/3
	return 1 / (longest - shortest) / (2 / (math.Pi * math.Sqrt(3)) / (t * t))
}

// of is the logarithm of how much likelier the times are under a course than if
// nobody paused for a change.
func (p *pauses) of(card Plan, stretches []stretch) float64 {
	if p == nil {
		return 0
	}
	var logs [len(pausing)]float64
	slot := 0
	for i, s := range stretches {
		if i > 0 && card.setOf(s.turn) != card.setOf(stretches[i-1].turn) {
			for k := range logs {
				logs[k] += p.gain[k][slot]
			}
		}
		slot += s.slots
	}
	most := slices.Max(logs[:])
	sum := 0.0
	for k, l := range logs {
		weight := 0.5
		if k > 0 {
			weight = 0.5 / float64(len(pausing)-1)
		}
		sum += weight * math.Exp(l-most)
	}
	return most + math.Log(sum)
}
