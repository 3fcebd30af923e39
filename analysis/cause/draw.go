package cause

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis/impact"
)

// draw is one set of means that the balls and the model leave possible: m,
// and rad for the two angles.
type draw struct {
	face, path, rest, strike float64
	faceAngle, pathAngle     float64
	faceWorth, pathWorth     float64 // m a rad
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
	for _, s := range splits {
		for i, v := range s.parts() {
			m.mean[i] += v / float64(m.n)
		}
	}
	if m.n < 2 {
		return m
	}
	var cov [numParts][numParts]float64
	for _, s := range splits {
		v := s.parts()
		for i := range v {
			for j := range i + 1 {
				cov[i][j] += (v[i] - m.mean[i]) * (v[j] - m.mean[j]) / float64(m.n-1)
			}
		}
	}
	m.root = cholesky(cov)
	return m
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

// draws samples the means of as many balls as given (n of them were seen): a
// multivariate t about the sample means, whose marginals are Student's limits,
// times what the model may be off by, and with what inferred balls have wrong
// in common.
//
// They come in mirrored pairs about the means, so that a session and its
// mirror image have mirrored draws, and verdict and limits follow exactly.
func (m means) draws(count, balls int, doubts []doubt, w worth, seed uint64) []draw {
	rng := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	df := float64(balls - 1)
	chi := distuv.Gamma{Alpha: df / 2, Beta: 0.5, Src: rng}
	out := make([]draw, 0, count)
	for k := 0; k < count; k += 2 {
		var z [numParts]float64
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		scale := math.Sqrt(df / chi.Rand() / float64(balls))
		doubt := doubts[(k/2)%len(doubts)]
		var faceBy, pathBy float64
		for i := range m.faceBy {
			u := rng.NormFloat64()
			faceBy += u * m.faceBy[i]
			pathBy += u * m.pathBy[i]
		}
		for _, sign := range [2]float64{1, -1} {
			v := m.mean
			for i := range v {
				for j := range i + 1 {
					v[i] += sign * scale * m.root[i][j] * z[j]
				}
			}
			miss := v[0] + v[1] + v[2]
			v[0] += faceBy * w.face
			v[1] += pathBy * w.path
			v[4] += faceBy
			v[5] += pathBy
			d := draw{
				face: v[0] * doubt.face, path: v[1] * doubt.path, strike: v[3] * doubt.strike,
				faceAngle: v[4], pathAngle: v[5],
				faceWorth: w.face * doubt.face, pathWorth: w.path * doubt.path,
			}
			d.rest = miss - d.face - d.path
			out = append(out, d)
		}
	}
	return out
}
