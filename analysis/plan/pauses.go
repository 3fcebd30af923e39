package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// pauses are the times between balls made ready to tell courses apart: somebody
// who goes on to the next turn may pause before it, and most do who have warmed up
// and begin with the card, whatever they do later.
type pauses struct {
	// gain is, for each share of the turns before which a golfer pauses, the
	// logarithm of how much likelier the time before a slot is if a turn begins
	// there; 0 where it is not known.
	gain [len(pausing)][]float64
}

// pausing are the shares of turns before which a golfer may pause, as likely as
// each other but for the first, which is as likely as the rest together; one of them
// is that of golfers who pause between warming up and the card (common practice, no
// source).
var pausing = [...]float64{0, 0.3, 0.6, 0.9}

const beforeCard = 2 // of pausing

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
// nobody paused for a turn.
func (p *pauses) of(stretches []stretch) float64 {
	if p == nil {
		return 0
	}
	var logs [len(pausing)]float64
	slot := 0
	for i, s := range stretches {
		for k := range logs {
			switch {
			case i == 0:
			case stretches[i-1].turn == Nowhere:
				logs[k] += p.gain[beforeCard][slot]
			default:
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
