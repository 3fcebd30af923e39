package timeline

import (
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"rangepost/analysis"
)

func TestDriftingIsOf(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, time.June, n, 0, 0, 0, 0, time.UTC) }
	for _, n := range []int{0, 1, 7, 8, 30} {
		r := rand.New(rand.NewPCG(uint64(n), 3))
		var sessions []analysis.SessionValues
		for i := range n {
			s := analysis.SessionValues{Session: "s", At: day(i), Ball: analysis.RangeBall}
			for range 3 {
				s.Values = append(s.Values, 100+0.4*float64(i)+r.NormFloat64())
			}
			sessions = append(sessions, s)
		}
		lessons := []analysis.Lesson{{At: day(3)}, {At: day(1)}}
		for _, number := range []analysis.Number{analysis.Face, analysis.Carry} {
			want, got := Of(number, analysis.Club{}, sessions, lessons), Drifting(number, analysis.Club{}, sessions, lessons)
			if !reflect.DeepEqual(got.Drift, want.Drift) || !reflect.DeepEqual(got.Points, want.Points) {
				t.Errorf("%d sessions of %v: %+v, want %+v", n, number, got.Drift, want.Drift)
			}
			if n == 30 && got.Drift.Out < 0 {
				t.Error("no drift: the test compared nothing")
			}
		}
	}
}
