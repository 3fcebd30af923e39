package record

import (
	"context"
	"math"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/stat"
	"rangepost/store"
)

// mostControlled is how many sessions back control is put together from.
const mostControlled = 50

// ControlOver is how much of the change that shots asked of a club's numbers a
// student made, over their sessions: the mean of sessions that differ from each
// other (stat.NewRandomEffects), or the one there is. N of each is its sessions.
func (rs *Records) ControlOver(ctx context.Context, server, student string, club analysis.Club) (gains []asked.Gain, err error) {
	all, err := rs.db.Before(ctx, store.SessionInfo{Server: server, Student: student, At: rs.now().Add(24 * time.Hour)}, mostControlled)
	if err != nil {
		return nil, err
	}
	for _, n := range asked.Controlled() {
		var y, v []float64
		var one analysis.Estimate
		for _, s := range all {
			if s.Gist == nil {
				continue
			}
			for _, c := range s.Gist.Control {
				if c.Club == club && c.Number == n && c.Made.SD > 0 {
					y, v, one = append(y, c.Made.Mean), append(v, c.Made.SD*c.Made.SD), c.Made
				}
			}
		}
		if len(y) == 0 {
			continue
		}
		if r, ok := stat.NewRandomEffects(y, v, nil, stat.REML); ok {
			one = analysis.Estimate{Mean: r.B[0], SD: math.Sqrt(r.Tau2), OK: true}
			one.Low, one.High = r.Limits(0, 0.95)
		}
		one.N = len(y)
		gains = append(gains, asked.Gain{Number: n, Shots: len(y), Made: one})
	}
	return gains, nil
}
