package panel

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The ways a delivery can differ from the golfer's mean, each with its own draw.
const (
	drawSpeed = iota
	drawAttack
	drawPath
	drawFace
	drawLoft
	drawToe
	drawUp
	drawGust
	draws
)

type draw [draws]float64

// A tail turns a normal deviate into the golfer's, with standard deviation 1.
type tail bool

const (
	normal tail = false
	t5     tail = true
)

func (t tail) of(z float64) float64 {
	if t == normal {
		return z
	}
	p := distuv.UnitNormal.CDF(z)
	return math.Sqrt(3.0/5) * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 5}.Quantile(p)
}

// longRun is how many balls the golfer's long-run mean is taken over. They
// are spread evenly instead of drawn, and come in pairs that differ from the
// mean by the same in opposite ways, so that whatever is linear cancels.
const longRun = 64

var (
	normalPoints = sync.OnceValue(func() []draw { return points(normal, longRun) })
	t5Points     = sync.OnceValue(func() []draw { return points(t5, longRun) })
)

func (t tail) points() []draw {
	if t == t5 {
		return t5Points()
	}
	return normalPoints()
}

// points is Kronecker's sequence with the powers of the root of x^9 = x + 1,
// the generalised golden ratio for eight dimensions, laid out by the tail.
func points(t tail, n int) []draw {
	root := 1.0
	for range 60 {
		root = math.Pow(1+root, 1.0/(draws+1))
	}
	all := make([]draw, 0, n)
	for i := range n / 2 {
		var one, other draw
		step := 1.0
		for d := range one {
			step /= root
			_, at := math.Modf(0.5 + float64(i+1)*step)
			z := t.of(distuv.UnitNormal.Quantile(min(max(at, 1e-6), 1-1e-6)))
			one[d], other[d] = z, -z
		}
		all = append(all, one, other)
	}
	whiten(all)
	return all
}

// whiten makes the second moments of the points exactly those of independent
// draws of unit variance, so that whatever is quadratic is exact: it divides
// them by the Cholesky factor of the moments they have.
func whiten(all []draw) {
	moments := mat.NewSymDense(draws, nil)
	for _, p := range all {
		moments.SymRankOne(moments, 1/float64(len(all)), mat.NewVecDense(draws, p[:]))
	}
	var chol mat.Cholesky
	if !chol.Factorize(moments) {
		panic("the points of the long run lie in a plane") // a mistake of ours
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	for i, p := range all {
		for d := range draws {
			for e := range d {
				p[d] -= lower.At(d, e) * p[e]
			}
			p[d] /= lower.At(d, d)
		}
		all[i] = p
	}
}
