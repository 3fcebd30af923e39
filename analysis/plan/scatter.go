package plan

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// scatter is a number of one golfer with one club: its mean, and how far one ball
// is from the next, SI.
type scatter struct {
	mean, sd float64
	own      int // balls of this golfer's it rests on, 0 if it is what is usual
}

// leastOwn is how many degrees of freedom a golfer's own spread is believed
// from: with fewer it is off by over a quarter too often to plan by (the standard
// error of a standard deviation is 1/sqrt(2 df) of it).
const leastOwn = 10

// scatterOf is the number's scatter in the golfer's earlier balls with the club,
// within each set of each session, so that neither the day nor what was tried
// counts, without the shots set aside. With too few of them it is what is usual.
func scatterOf(earlier []analysis.Session, club analysis.Club, n analysis.Number) scatter {
	var samples []stat.Sample
	own, sum := 0, 0.0
	for _, session := range earlier {
		for _, set := range session.Sets() {
			if set.Club != club {
				continue
			}
			values, _ := analysis.Values(set.Used(), n)
			if len(values) < 2 {
				continue
			}
			sample := stat.SampleOf(values)
			samples = append(samples, sample)
			own += sample.N
			sum += sample.Mean * float64(sample.N)
		}
	}
	usual := usually(club, n)
	variance, df, ok := stat.Pooled(samples...)
	if !ok || df < leastOwn || !(variance > 1e-6*usual.sd*usual.sd) { // a device that shows one figure for every ball
		return usual
	}
	return scatter{sum / float64(own), math.Sqrt(variance), own}
}
