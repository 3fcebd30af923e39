package impact

import "math"

// A matrix has a row and a column for each free unknown; of a symmetric one the lower
// triangle is kept. With so few, and thousands of them a session, a library's calls
// and checks cost more than the sums.
type matrix [numUnknowns][numUnknowns]float64

func (m *matrix) at(i, j int) float64 { return m[max(i, j)][min(i, j)] }

// equations are the normal equations of the problem made linear at one place: h times
// a step is g.
type equations struct {
	n int
	h matrix
	g [numUnknowns]float64
}

// add is a reading that is off by miss, in standard deviations, with its slopes.
func (e *equations) add(slopes *[numUnknowns]float64, miss, sd float64) {
	for i := range e.n {
		v := slopes[i] / sd
		slopes[i] = v
		if v == 0 {
			continue
		}
		e.g[i] += v * miss
		row := &e.h[i]
		for j := range i + 1 {
			row[j] += v * slopes[j]
		}
	}
}

// believe is a belief about the free unknowns i and j, -1 where one is not free.
func (e *equations) believe(i, j int, b *belief, miss float64) {
	v, w := b.weight[0]/b.sd, b.weight[1]/b.sd
	if i >= 0 {
		e.g[i] += v * miss
		e.h[i][i] += v * v
	}
	if j >= 0 && w != 0 {
		e.g[j] += w * miss
		e.h[j][j] += w * w
		if i >= 0 {
			e.h[max(i, j)][min(i, j)] += v * w
		}
	}
}

// root makes l the lower Cholesky root of h with its diagonal so much larger; false
// when the equations leave an unknown open.
func (e *equations) root(l *matrix, larger float64) bool {
	for i := range e.n {
		row, h := &l[i], &e.h[i]
		for j := range i {
			above, sum := &l[j], h[j]
			for k := range j {
				sum -= row[k] * above[k]
			}
			row[j] = sum / above[j]
		}
		sum := h[i] * (1 + larger)
		for k := range i {
			sum -= row[k] * row[k]
		}
		if !(sum > 0) {
			return false
		}
		row[i] = math.Sqrt(sum)
	}
	return true
}

// solve is the step that root m has for n sums g.
func (m *matrix) solve(n int, g [numUnknowns]float64) [numUnknowns]float64 {
	for i := range n {
		row, sum := &m[i], g[i]
		for k := range i {
			sum -= row[k] * g[k]
		}
		g[i] = sum / row[i]
	}
	for i := n - 1; i >= 0; i-- {
		row := &m[i]
		g[i] /= row[i]
		for k := range i {
			g[k] -= row[k] * g[i]
		}
	}
	return g
}

// covariance makes c that of the unknowns, and returns the logarithm of the
// determinant of its inverse; ok is false when the equations leave one of them open.
func (e *equations) covariance(c *matrix) (logDet float64, ok bool) {
	var l matrix
	if !e.root(&l, 0) {
		return 0, false
	}
	for i := range e.n {
		row := &l[i]
		logDet += 2 * math.Log(row[i])
		// The root's inverse, in its place.
		row[i] = 1 / row[i]
		for j := range i {
			sum := 0.0
			for k := j; k < i; k++ {
				sum += row[k] * l[k][j]
			}
			row[j] = -sum * row[i]
		}
	}
	*c = matrix{}
	for k := range e.n {
		row := &l[k]
		for i := range k + 1 {
			to := &c[i]
			for j := range i + 1 {
				to[j] += row[i] * row[j]
			}
		}
	}
	return logDet, true
}
