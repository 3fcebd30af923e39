package cause

import (
	"gonum.org/v1/gonum/mat"
	gonum "gonum.org/v1/gonum/stat"

	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/stat"
)

const (
	leastForShares = 8  // balls under which shares of the spread say nothing
	enoughToFit    = 20 // balls from which slopes are fitted, about five a regressor
)

// shares divides the sideways variance among face, path, strike and speed, so
// that no part is negative and they add up (stat.LMG). From 20 balls on the
// slopes are fitted. With fewer they are the model's: each ball's own yards
// stand in for its delivery, and the variance they do not reproduce is
// unexplained.
func shares(balls []struck, splits []Split, m *ball.Model, typical analysis.Delivery, own ball.Departure) *Shares {
	n := len(balls)
	if n < leastForShares {
		return nil
	}
	fitted := n >= enoughToFit
	slope := 0.0
	if !fitted {
		faster, slower := typical, typical
		faster.ClubSpeed++
		slower.ClubSpeed--
		slope = (m.Land(faster, own).Lateral - m.Land(slower, own).Lateral) / 2
	}
	placed := true
	for _, b := range balls {
		placed = placed && b.placed
	}
	data := mat.NewDense(n, 5, nil) // lateral, face, path, strike, speed
	for i, s := range splits {
		b := balls[i]
		row := []float64{s.Miss, s.FaceM, s.PathM, s.Strike, slope * b.delivery.ClubSpeed}
		if fitted {
			row = []float64{s.Miss, s.Face, s.Path, s.Strike, b.delivery.ClubSpeed}
			if placed {
				row[3] = b.delivery.StrikeToe
			}
		}
		data.SetRow(i, row)
	}
	var cov mat.SymDense
	gonum.CovarianceMatrix(&cov, data, nil)
	if !fitted {
		cov = *physical(data, &cov)
	}
	parts, r2, ok := stat.LMG(&cov)
	if !ok {
		return nil
	}
	return &Shares{
		Face: parts[0], Path: parts[1], Strike: parts[2], Speed: parts[3],
		Unexplained: max(0, 1-r2), PhysicsSlopes: !fitted,
	}
}

// physical is the covariance with the response replaced by what slopes of one
// on every regressor make of it, plus the variance of what they leave over.
func physical(data *mat.Dense, cov *mat.SymDense) *mat.SymDense {
	n, k := data.Dims()
	out := mat.NewSymDense(k, nil)
	total := 0.0
	for i := 1; i < k; i++ {
		for j := 1; j < k; j++ {
			total += cov.At(i, j)
		}
	}
	left := make([]float64, n)
	for b := range left {
		left[b] = data.At(b, 0)
		for j := 1; j < k; j++ {
			left[b] -= data.At(b, j)
		}
	}
	out.SetSym(0, 0, total+gonum.Variance(left, nil))
	for i := 1; i < k; i++ {
		with := 0.0
		for j := 1; j < k; j++ {
			with += cov.At(i, j)
			out.SetSym(i, j, cov.At(i, j))
		}
		out.SetSym(0, i, with)
	}
	return out
}
