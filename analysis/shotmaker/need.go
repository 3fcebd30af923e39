package shotmaker

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

const deg = analysis.Degree

// An aim is a flight to bring about: start (rad), curve, apex and carry (m). NaN
// leaves one as it comes.
type aim [4]float64

func (a aim) gap(b panel.Ball) (by [4]float64) {
	f := flew(b)
	for i, v := range [4]float64{f.Start, f.Curve, f.Apex, f.Carry} {
		by[i] = a[i] - v
	}
	return by
}

// lever is the number of the delivery that mostly moves one of an aim's four.
func lever(d *analysis.Delivery, i int) *float64 {
	return [4]*float64{&d.Face, &d.Path, &d.DynamicLoft, &d.ClubSpeed}[i]
}

var (
	nudge  = [4]float64{0.2 * deg, 0.2 * deg, 0.2 * deg, 0.1} // for slopes: wide of the steps of the contact's clock
	stride = [4]float64{6 * deg, 6 * deg, 6 * deg, 4}         // the most of one step
	enough = [4]float64{0.01 * deg, 0.02, 0.02, 0.05}         // of what any device can tell
)

// need is the delivery that brings an aim about in the player's world and mean
// wind, by Newton's method from another; what is left free keeps its number. It is
// false where no delivery does that a golfer with this club could make: face and
// path within 25 deg, loft of 1 to 70 deg, a twentieth more speed at most.
func need(p panel.Player, from analysis.Delivery, a aim) (analysis.Delivery, bool) {
	var free []int
	for i, v := range a {
		if !math.IsNaN(v) {
			free = append(free, i)
		}
	}
	d, n := from, len(free)
	for range 40 {
		gap := a.gap(p.One(d))
		done := true
		for _, i := range free {
			done = done && math.Abs(gap[i]) < enough[i]
		}
		if done {
			return d, math.Abs(d.Face) < 25*deg && math.Abs(d.Path) < 25*deg && d.DynamicLoft > deg &&
				d.DynamicLoft < 70*deg && d.ClubSpeed > 10 && d.ClubSpeed < 1.05*p.Usual().ClubSpeed
		}
		slopes, by, step := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		for col, j := range free {
			up, down := d, d
			*lever(&up, j) += nudge[j]
			*lever(&down, j) -= nudge[j]
			high, low := a.gap(p.One(up)), a.gap(p.One(down))
			by.SetVec(col, gap[j])
			for row, i := range free {
				slopes.Set(row, col, (low[i]-high[i])/(2*nudge[j]))
			}
		}
		if step.SolveVec(slopes, by) != nil {
			return from, false
		}
		for k, j := range free {
			*lever(&d, j) += max(-stride[j], min(stride[j], step.AtVec(k)))
		}
		if math.Abs(d.Face) > 60*deg || math.Abs(d.Path) > 60*deg || math.Abs(d.DynamicLoft) > 85*deg || d.ClubSpeed < 5 {
			return from, false
		}
	}
	return from, false
}
