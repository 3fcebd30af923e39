package stat

import (
	"math"
	"math/rand/v2"
	"slices"
)

// An MCD is the reweighted minimum covariance determinant of points in the
// plane (Rousseeuw 1985; Rousseeuw & Van Driessen 1999, Technometrics 41:212):
// the centre and covariance of the h points that lie closest together, scaled
// to the whole, and of the points near those.
type MCD struct {
	Best    []int     // the h points, rising
	Raw     Moments   // of Best, covariance scaled
	RawD2   []float64 // squared distance of each point by Raw
	Inside  []bool    // the points near enough by Raw to count in the reweighting
	Moments           // of those, covariance scaled: the estimate
	D2      []float64 // squared distance of each point by it
}

// MinimumCovariance is the MCD with h near three quarters of the points (alpha
// 0.75; half of them, the usual choice, swamps good points in small sets).
// Up to 20 points every subset is tried. Beyond that 500 starts of three
// points from a fixed seed are concentrated (FAST-MCD), so a set always has
// the same answer.
//
// The covariance is scaled to normal data (Croux & Haesbroeck 1999) and for
// few points (Pison, Van Aelst & Willems 2002, Metrika 55:111). ok is false
// under 5 points and when h of them lie on a line or a spot.
func MinimumCovariance(x, y []float64) (m MCD, ok bool) {
	n := len(x)
	if n < 5 {
		return m, false
	}
	h := coverSize(n)
	if n <= 20 {
		m.Best = everySubset(x, y, h)
	} else {
		m.Best = concentrated(x, y, h)
	}
	if m.Best == nil {
		return m, false
	}
	m.Raw, _ = MomentsOf(pick(x, m.Best), pick(y, m.Best))
	if m.Raw.Singular() {
		return m, false
	}
	m.Raw = m.Raw.scaled(consistency(float64(h)/float64(n)) / rawSmall.factor(n))
	m.RawD2 = m.Raw.distances(x, y)

	const near = 7.377758908227871 // chi-square, 2 degrees of freedom, 0.975
	m.Inside = make([]bool, n)
	var kept []int
	for i, d := range m.RawD2 {
		if d <= near {
			m.Inside[i] = true
			kept = append(kept, i)
		}
	}
	m.Moments, _ = MomentsOf(pick(x, kept), pick(y, kept))
	if m.Moments.Singular() {
		return m, false
	}
	if len(kept) < n {
		m.Moments = m.Moments.scaled(consistency(float64(len(kept)) / float64(n)))
	}
	m.Moments = m.Moments.scaled(1 / reweightedSmall.factor(n))
	m.D2 = m.distances(x, y)
	return m, true
}

// coverSize is h for alpha 0.75 and two dimensions, interpolated as in
// Rousseeuw & Van Driessen 1999 between the least, (n+p+1)/2, and n.
func coverSize(n int) int {
	least := (n + 3) / 2
	return int(math.Floor(float64(2*least-n) + 2*float64(n-least)*0.75))
}

// consistency scales the covariance of the central share of normal data in
// the plane to that of the whole: share / P(chi2(4) <= chi2^-1(share; 2)).
func consistency(share float64) float64 {
	if share >= 1 {
		return 1
	}
	half := -math.Log1p(-share) // half the quantile of chi-square with 2 df
	return share / (1 - (1-share)*(1+half))
}

// smallSample holds the constants of Pison et al. for two dimensions: for
// either alpha, the factor is 1 - exp(a)/n^b, linear in alpha between them.
// [M], confirmed to 14 digits by the output of R's robustbase. [C]
type smallSample struct{ a500, b500, a875, b875 float64 }

var (
	rawSmall        = smallSample{0.673292623522027, 0.691365864961895, 0.446537815635445, 1.06690782995919}
	reweightedSmall = smallSample{3.11101712909049, 1.91401056721863, 0.79473550581058, 1.10081930350091}
)

func (s smallSample) factor(n int) float64 {
	at := func(a, b float64) float64 { return 1 - math.Exp(a)/math.Pow(float64(n), b) }
	low, high := at(s.a500, s.b500), at(s.a875, s.b875)
	return low + (high-low)*(0.75-0.5)/0.375
}

func (m Moments) scaled(by float64) Moments {
	m.XX *= by
	m.XY *= by
	m.YY *= by
	return m
}

func (m Moments) distances(x, y []float64) []float64 {
	d := make([]float64, len(x))
	for i := range x {
		d[i] = m.Distance2(x[i], y[i])
	}
	return d
}

func pick(v []float64, at []int) []float64 {
	out := make([]float64, len(at))
	for i, j := range at {
		out[i] = v[j]
	}
	return out
}

// sums are running sums of points: enough for a determinant.
type sums struct{ n, x, y, xx, xy, yy float64 }

func (s sums) with(x, y float64) sums {
	return sums{s.n + 1, s.x + x, s.y + y, s.xx + x*x, s.xy + x*y, s.yy + y*y}
}

// det is the determinant of the scatter matrix, in proportion to that of the
// covariance for subsets of one size.
func (s sums) det() float64 {
	xx, xy, yy := s.xx-s.x*s.x/s.n, s.xy-s.x*s.y/s.n, s.yy-s.y*s.y/s.n
	return xx*yy - xy*xy
}

// everySubset tries all subsets of size h and returns the one of least
// determinant, the first of equals.
func everySubset(x, y []float64, h int) []int {
	x, y = centred(x), centred(y)
	n := len(x)
	chosen, best := make([]int, h), make([]int, h)
	least := math.Inf(1)
	var extend func(from, depth int, s sums)
	extend = func(from, depth int, s sums) {
		if depth == h {
			if d := s.det(); d < least {
				least = d
				copy(best, chosen)
			}
			return
		}
		for i := from; i <= n-(h-depth); i++ {
			chosen[depth] = i
			extend(i+1, depth+1, s.with(x[i], y[i]))
		}
	}
	extend(0, 0, sums{})
	return best
}

// centred are the values less their median, so that sums of squares of balls
// 150 m away keep their digits.
func centred(v []float64) []float64 {
	m, _ := Median(v)
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] - m
	}
	return out
}

// concentrated is FAST-MCD for one group: many small starts, two
// concentration steps each, the ten best run to rest.
func concentrated(x, y []float64, h int) []int {
	const starts, finalists = 500, 10
	x, y = centred(x), centred(y)
	n := len(x)
	rng := rand.New(rand.NewPCG(1999, 212))
	c := concentrator{x: x, y: y, h: h, d: make([]float64, n), scratch: make([]float64, n), order: make([]int, n)}
	type candidate struct {
		det float64
		s   sums
	}
	best := make([]candidate, 0, finalists+1)
	for range starts {
		s := c.start(rng)
		var det float64
		alive := true
		for range 2 {
			if s, det, alive = c.step(s); !alive {
				break
			}
		}
		if !alive {
			continue
		}
		at, _ := slices.BinarySearchFunc(best, det, func(c candidate, d float64) int {
			if c.det < d {
				return -1
			}
			return 1
		})
		best = slices.Insert(best, at, candidate{det, s})
		best = best[:min(len(best), finalists)]
	}
	least, found := math.Inf(1), sums{}
	for _, b := range best {
		s, det := b.s, b.det
		for {
			next, d, alive := c.step(s)
			if !alive || d >= det {
				break
			}
			s, det = next, d
		}
		if det < least {
			least, found = det, s
		}
	}
	if math.IsInf(least, 1) {
		return nil
	}
	return c.members(found)
}

type concentrator struct {
	x, y       []float64
	h          int
	d, scratch []float64
	order      []int
}

// start are three distinct points, and more until they span the plane.
func (c *concentrator) start(rng *rand.Rand) sums {
	for i := range c.order {
		c.order[i] = i
	}
	s := sums{}
	for k := range c.order {
		at := k + rng.IntN(len(c.order)-k)
		c.order[k], c.order[at] = c.order[at], c.order[k]
		i := c.order[k]
		s = s.with(c.x[i], c.y[i])
		if k >= 2 && s.det() > 0 {
			break
		}
	}
	return s
}

// step takes the h points nearest to the centre of s by its own covariance. It
// never raises the determinant. alive is false when s lies on a line.
func (c *concentrator) step(s sums) (next sums, det float64, alive bool) {
	if !c.distances(s) {
		return s, 0, false
	}
	copy(c.scratch, c.d)
	limit := smallest(c.scratch, c.h-1)
	for i, d := range c.d {
		if d <= limit && next.n < float64(c.h) {
			next = next.with(c.x[i], c.y[i])
		}
	}
	return next, next.det(), true
}

func (c *concentrator) distances(s sums) bool {
	mx, my := s.x/s.n, s.y/s.n
	xx, xy, yy := s.xx-s.x*mx, s.xy-s.x*my, s.yy-s.y*my
	if det := xx*yy - xy*xy; !(det > 1e-12*xx*yy) {
		return false
	}
	for i := range c.x {
		dx, dy := c.x[i]-mx, c.y[i]-my
		c.d[i] = yy*dx*dx - 2*xy*dx*dy + xx*dy*dy
	}
	return true
}

func (c *concentrator) members(s sums) []int {
	if !c.distances(s) {
		return nil
	}
	order := make([]int, len(c.x))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case c.d[a] < c.d[b]:
			return -1
		case c.d[a] > c.d[b]:
			return 1
		}
		return 0
	})
	best := order[:c.h]
	slices.Sort(best)
	return best
}

// smallest is the value of rank k, from 0, of v, which it rearranges (Hoare's
// quickselect).
func smallest(v []float64, k int) float64 {
	low, high := 0, len(v)-1
	for low < high {
		pivot := v[(low+high)/2]
		i, j := low, high
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return v[k]
		}
	}
	return v[k]
}
