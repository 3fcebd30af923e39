package cause

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/impact"
	"rangepost/analysis/stat"
)

// draw is one set of means that the balls and the model leave possible: m,
// and rad for the two angles.
type draw struct {
	face, path, rest, strike float64
	faceAngle, pathAngle     float64
	model                    int // the possible model it was drawn with
	weight                   float64
}

func (d draw) miss() float64 { return d.face + d.path + d.rest }

// parts are what a draw varies, in the order of the covariance.
const numParts = 6

func (s Split) parts() [numParts]float64 {
	return [numParts]float64{s.FaceM, s.PathM, s.Rest, s.Strike, s.Face, s.Path}
}

// means are the mean parts of n balls and the root of their covariance.
type means struct {
	n    int
	mean [numParts]float64
	root [numParts][numParts]float64 // lower triangle, of one ball

	streak stat.Streak // how far each ball resembles the one before

	// How far one standard deviation of each unknown that inferred balls share
	// moves the mean face and path, rad.
	faceBy, pathBy [impact.NumShared]float64
}

func meansOf(splits []Split, balls []struck) means {
	m := means{n: len(splits)}
	for _, b := range balls {
		if b.inference == nil {
			continue
		}
		for k := range m.faceBy {
			m.faceBy[k] += b.inference.FaceBy[k] / float64(m.n)
			m.pathBy[k] += b.inference.PathBy[k] / float64(m.n)
		}
	}
	rows := make([][numParts]float64, len(splits))
	for i, s := range splits {
		rows[i] = s.parts()
	}
	m.of(rows)
	return m
}

// of takes mean and covariance from one row a ball.
func (m *means) of(rows [][numParts]float64) {
	for _, row := range rows {
		for i, v := range row {
			m.mean[i] += v / float64(m.n)
		}
	}
	if m.n < 2 {
		return
	}
	var cov [numParts][numParts]float64
	for _, v := range rows {
		for i := range v {
			for j := range i + 1 {
				cov[i][j] += (v[i] - m.mean[i]) * (v[j] - m.mean[j]) / float64(m.n-1)
			}
		}
	}
	m.root = cholesky(cov)
}

// sample draws the means of as many balls as given (m.n of them were seen), by
// a multivariate t about the sample means, whose marginals are Student's, wider
// by what streaks may cost: one draw and its mirror image about the means.
func (m *means) sample(rng *rand.Rand, balls int) (pair [2][numParts]float64) {
	var z [numParts]float64
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	df := float64(balls - 1)
	chi := distuv.Gamma{Alpha: df / 2, Beta: 0.5, Src: rng}.Rand()
	scale := math.Sqrt(df/chi/float64(balls)) * m.streak.Draw(rng.Float64())
	for i := range z {
		off := 0.0
		for j := range i + 1 {
			off += scale * m.root[i][j] * z[j]
		}
		pair[0][i], pair[1][i] = m.mean[i]+off, m.mean[i]-off
	}
	return pair
}

// cholesky is the lower root of a covariance that may be singular: a part that
// the earlier ones determine gets a zero column.
func cholesky(cov [numParts][numParts]float64) (root [numParts][numParts]float64) {
	const dependent = 1e-12
	for i := range numParts {
		for j := range i + 1 {
			left := cov[i][j]
			for k := range j {
				left -= root[i][k] * root[j][k]
			}
			switch {
			case i != j && root[j][j] > 0:
				root[i][j] = left / root[j][j]
			case i == j && left > dependent*cov[i][i]:
				root[i][i] = math.Sqrt(left)
			}
		}
	}
	return root
}
